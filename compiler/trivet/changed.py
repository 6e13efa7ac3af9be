"""Which fixtures a change touches: those whose own file, or a file that they read, differs from a revision."""

from __future__ import annotations

import os
from collections.abc import Sequence

from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles
from trivet.git_files import git
from trivet.inputs import read_parts
from trivet.project_file import NAME
from trivet.source import SourceFile


def touched(paths: Sequence[str], revision: str, also: Sequence[str] = ()) -> tuple[str, ...] | Diagnostic:
    """Those of `paths` that differ from `revision`, in their order. `also`: files that count for all of them, such as the shop's.

    New files that git does not know yet count as changed, and so does a fixture that reads a file which cannot be read.
    """
    if revision.startswith("-") or not revision:
        return _fault(f"`{revision}` is no revision")
    changed = _changed(revision)
    if isinstance(changed, str):
        return _fault(changed)
    if any(os.path.realpath(path) in changed for path in also):
        return tuple(paths)
    return tuple(path for path in paths if _is_touched(path, changed))


def _changed(revision: str) -> frozenset[str] | str:
    top = git(("rev-parse", "--show-toplevel"), ".")
    if isinstance(top, str):
        return top
    folder = top.decode("utf-8", "surrogateescape").rstrip("\n")
    names: set[str] = set()
    for arguments in (
        ("diff", "--name-only", "--no-renames", "-z", revision, "--"),
        ("ls-files", "--others", "--exclude-standard", "-z"),
    ):
        found = git(arguments, folder)
        if isinstance(found, str):
            return found
        names |= {name for name in found.decode("utf-8", "surrogateescape").split("\0") if name}
    return frozenset(os.path.realpath(os.path.join(folder, name)) for name in names)


def _is_touched(path: str, changed: frozenset[str]) -> bool:
    files = DiskFiles()
    source = files.read(path)
    if not isinstance(source, SourceFile):
        return True
    parts, found = read_parts(source, files, None)
    if any(item.rule == "unreadable-file" for item in found):
        return True
    if any(os.path.realpath(part.document.file.name) in changed for part in parts):
        return True
    here = os.path.dirname(os.path.abspath(path))
    return any(os.path.basename(name) == NAME and here.startswith(os.path.dirname(name)) for name in changed)


def _fault(reason: str) -> Diagnostic:
    return Diagnostic("unreadable-file", "error", f"what changed cannot be told: {reason}", None)
