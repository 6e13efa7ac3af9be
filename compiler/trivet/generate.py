"""What the wheel carries ready-made: the library as data. Run when a wheel is built, never on a user's run."""

from __future__ import annotations

import json

from trivet.catalog_data import to_plain
from trivet.files import library_names
from trivet.inputs import parse_library


def generate() -> dict[str, str]:
    """Texts of files by their path in the package."""
    made = {}
    for name in library_names():
        data = to_plain(parse_library(name))
        made[f"library/{name}.json"] = json.dumps(data, ensure_ascii=True, separators=(",", ":")) + "\n"
    return made
