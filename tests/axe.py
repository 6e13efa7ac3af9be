"""The accessibility checker axe-core (MPL-2.0), which is half a megabyte and so not kept here.

Looked for in `node_modules` beside the checkout and at the path in the variable AXE_CORE; fetched by npm where everything needed is
installed on purpose.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path

import pytest
from tests.hard_use import ROOT

VERSION = "4.10.3"


@cache
def axe_script() -> str:
    """Its text, or no test: skipped with a reason."""
    places = [Path(os.environ["AXE_CORE"])] if "AXE_CORE" in os.environ else []
    places.append(ROOT / "node_modules" / "axe-core" / "axe.min.js")
    found = next((path for path in places if path.is_file()), None)
    if found is not None:
        return found.read_text(encoding="utf-8")
    npm = shutil.which("npm")
    if os.environ.get("CI") == "true" and npm is not None:
        with tempfile.TemporaryDirectory(prefix="axe-") as folder:
            command = [npm, "install", "--prefix", folder, "--no-save", "--ignore-scripts", f"axe-core@{VERSION}"]
            subprocess.run(command, check=True, capture_output=True, timeout=120)
            return (Path(folder) / "node_modules" / "axe-core" / "axe.min.js").read_text(encoding="utf-8")
    reason = f"axe-core is not here: `npm install --no-save axe-core@{VERSION}` in the checkout brings it"
    if os.environ.get("CI") == "true":
        pytest.fail(reason)
    pytest.skip(reason)
