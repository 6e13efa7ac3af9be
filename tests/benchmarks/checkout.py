"""Importing this makes the checkout's own package the one that is measured."""

from __future__ import annotations

import sys
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "compiler"
if str(SOURCE) not in sys.path:
    sys.path.insert(0, str(SOURCE))
