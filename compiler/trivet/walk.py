"""Finding the fixtures of a folder."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator, Sequence

from trivet.diagnostics import Diagnostic
from trivet.files import LARGEST_BYTES
from trivet.tables.manifest import MANIFEST_NAME, WRITTEN_BY

_FIXTURE = re.compile(r"^fixture[ \t]", re.MULTILINE)


def fixtures_in(paths: Sequence[str]) -> tuple[tuple[str, ...], tuple[Diagnostic, ...]]:
    """Files as named, and of each folder the files with a `fixture` heading, sorted; each once. Findings: folders without any.

    Hidden folders and outputs of trivet are passed over; links to folders are not followed.
    """
    found: dict[str, None] = {}
    faults = []
    for path in paths:
        if not os.path.isdir(path):
            found[path] = None
            continue
        inside = sorted(_fixtures(path))
        if not inside:
            faults.append(Diagnostic("unreadable-file", "error", f"no file in `{path}` has a `fixture` heading", None))
        found |= dict.fromkeys(inside)
    return tuple(found), tuple(faults)


def _fixtures(folder: str) -> Iterator[str]:
    for here, folders, files in os.walk(folder):
        if MANIFEST_NAME in files and _is_ours(os.path.join(here, MANIFEST_NAME)):
            folders.clear()
            continue
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in files:
            path = os.path.normpath(os.path.join(here, name))
            if name.endswith(".trivet") and not name.startswith(".") and _has_fixture(path):
                yield path


def _has_fixture(path: str) -> bool:
    """A file that cannot be read counts, so that it is reported."""
    try:
        if not os.path.isfile(path) or os.path.getsize(path) > LARGEST_BYTES:
            return True
        with open(path, encoding="utf-8") as stream:
            return _FIXTURE.search(stream.read()) is not None
    except (OSError, UnicodeDecodeError):
        return True


def _is_ours(path: str) -> bool:
    try:
        with open(path, encoding="utf-8") as stream:
            data = json.load(stream)
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(data, dict) and data.get("written_by") == WRITTEN_BY
