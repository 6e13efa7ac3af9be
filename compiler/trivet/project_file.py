"""The door to `trivet.toml`: where it lies, its text, and the files of the library folders that it names."""

from __future__ import annotations

import os

from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles
from trivet.record import record
from trivet.source import SourceFile

NAME = "trivet.toml"


@record
class ProjectText:
    """The file's text, and the folder that its paths are relative to."""

    source: SourceFile
    folder: str


def find_project(path: str) -> ProjectText | Diagnostic | None:
    """The nearest `trivet.toml` in the folder of `path` or above it, no higher than a folder with `.git`; None where there is none.

    `path` is the fixture's file, `-` for standard input (then the working folder counts).
    """
    folder = os.path.dirname(path) if path != "-" else ""
    shown = folder
    while True:
        here = os.path.join(shown, NAME)
        if os.path.exists(here):
            read = DiskFiles().read(here)
            return read if isinstance(read, Diagnostic) else ProjectText(read, shown)
        absolute = os.path.abspath(shown or ".")
        if os.path.exists(os.path.join(absolute, ".git")) or os.path.dirname(absolute) == absolute:
            return None
        shown = os.path.relpath(os.path.dirname(absolute)) if not os.path.isabs(shown) else os.path.dirname(absolute)
        shown = "" if shown == "." else shown


def library_files(folder: str, names: tuple[str, ...]) -> list[SourceFile | Diagnostic]:
    """The `.trivet` files of library folders, sorted by name; folders are relative to that of the project file."""
    found: list[SourceFile | Diagnostic] = []
    for name in names:
        inside = os.path.join(folder, name)
        try:
            files = sorted(item for item in os.listdir(inside) if item.endswith(".trivet") and not item.startswith("."))
        except OSError as error:
            reason = "there is no such folder" if isinstance(error, FileNotFoundError) else (error.strerror or "refused").lower()
            found.append(Diagnostic("unreadable-file", "error", f"the library folder `{inside}` cannot be read: {reason}", None))
            continue
        found += [DiskFiles().read(os.path.join(inside, item)) for item in files]
    return found
