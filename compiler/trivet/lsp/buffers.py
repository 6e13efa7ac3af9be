"""Files as the editor sees them: open buffers before the disk, and nothing is ever written."""

from __future__ import annotations

import re
from collections.abc import Mapping

from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles, Read
from trivet.source import SourceFile, Span

# A buffer that was never saved has no path but the editor's own name for it; a drive's letter is one letter.
_UNSAVED = re.compile(r"[A-Za-z][A-Za-z0-9+.-]+:")


def unsaved(path: str) -> bool:
    """Whether a path is the editor's name for a buffer that was never saved."""
    return _UNSAVED.match(path) is not None


class EditorFiles(DiskFiles):
    """Open buffers by path; a file that is not open is read from disk as the compiler reads it.

    A file from disk whose text did not change since it was last read is the same `SourceFile`, so that what was parsed can be kept.
    """

    def __init__(self, buffers: Mapping[str, SourceFile], seen: dict[str, SourceFile] | None = None) -> None:
        self._buffers = buffers
        self._seen: dict[str, SourceFile] = {} if seen is None else seen

    def read(self, path: str, *, span: Span | None = None) -> Read:
        """The open buffer of that path, else the file on disk."""
        held = self._buffers.get(path)
        if held is not None:
            return held
        found = super().read(path, span=span)
        if isinstance(found, SourceFile):
            before = self._seen.get(path)
            if before is not None and before.text == found.text:
                return before
            self._seen[path] = found
        return found

    def read_beside(self, base: str, relative: str, root: str | None = None, *, span: Span | None = None) -> Read:
        """As `DiskFiles.read_beside`; beside a buffer that was never saved there are no files."""
        if unsaved(base):
            message = f"`{relative}` cannot be read: the file that names it was never saved, so it has no folder"
            return Diagnostic("unreadable-file", "error", message, span, remedy="save it first")
        return super().read_beside(base, relative, root, span=span)

    def write_outputs(self, folder: str, files: Mapping[str, bytes]) -> Diagnostic | None:
        """Refuses: an editor's server writes nothing."""
        return self._refused(folder)

    def create_text(self, path: str, text: str) -> Diagnostic | None:
        """Refuses, as `write_outputs`."""
        return self._refused(path)

    def replace_text(self, path: str, text: str) -> Diagnostic | None:
        """Refuses, as `write_outputs`."""
        return self._refused(path)

    def _refused(self, path: str) -> Diagnostic:
        return Diagnostic("output-not-written", "error", f"`{path}` is not written from an editor", None)

