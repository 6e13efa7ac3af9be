"""A zip of an output folder that is the same bytes each time: sorted, stored, fixed dates and modes; written in whole or not at all."""

from __future__ import annotations

import io
import json
import os
import zipfile
from collections.abc import Mapping
from pathlib import Path

from trivet.diagnostics import Diagnostic
from trivet.output_folder import FOREIGN, NOT_WRITTEN, check_names
from trivet.tables.file_names import safe_file_name
from trivet.tables.manifest import MANIFEST_NAME, WRITTEN_BY

# The first date that a zip can hold (APPNOTE.TXT of the format, section 4.4.6, from memory): the clock is no part of the output.
NO_DATE = (1980, 1, 1, 0, 0, 0)
# An ordinary file, to be read by all and written by its owner, as its upper half holds it; 3 says that the mode is one of that kind.
MODE, SYSTEM = 0o100644 << 16, 3


def zip_name(folder: str, revision: str, draft: bool = False) -> str:
    """The zip beside a folder, with the revision in its name: `out/outfeed_riser-A.zip`."""
    target = Path(os.path.normpath(folder))
    target = target if target.name not in ("", "..") else Path(os.path.abspath(target))
    marks = [
        target.name,
        *([safe_file_name(revision.replace("/", "_").replace("\\", "_"))] if revision.strip(". ") else []),
        *(["DRAFT"] if draft else []),
    ]
    return str(target.with_name("-".join(marks) + ".zip"))


def zipped(top: str, files: Mapping[str, bytes]) -> bytes:
    """The bytes of a zip that holds `files` in one folder called `top`. Nothing is packed, so no version of a packer changes them.

    Raises ValueError for paths that `check_names` refuses.
    """
    check_names(files)
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for path, data in sorted(files.items()):
            entry = zipfile.ZipInfo(f"{top}/{path}", NO_DATE)
            entry.create_system, entry.external_attr, entry.compress_type = SYSTEM, MODE, zipfile.ZIP_STORED
            archive.writestr(entry, data)
    return stream.getvalue()


def write_zip(path: str, files: Mapping[str, bytes]) -> Diagnostic | None:
    """Put the zip at `path` in one step, or say why not and leave what is there. A file that trivet did not write is never replaced."""
    target = Path(path)
    beside = target.with_name(f".new-{target.name}")
    try:
        if os.path.lexists(target) and not _ours(target):
            return Diagnostic(
                FOREIGN.slug, FOREIGN.severity, f"`{path}` is a file that trivet did not write", None, remedy="move it elsewhere"
            )
        data = zipped(target.stem, files)
        with open(beside, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(beside, target)
    except OSError as error:
        beside.unlink(missing_ok=True)
        reason = (error.strerror or "the disk refused").lower()
        return Diagnostic(NOT_WRITTEN.slug, NOT_WRITTEN.severity, f"the output `{path}` was not written: {reason}", None)
    return None


def _ours(path: Path) -> bool:
    """Whether a file is a zip with a manifest of ours in its folder."""
    if path.is_symlink() or not path.is_file():
        return False
    try:
        with zipfile.ZipFile(path) as archive:
            name = next(name for name in archive.namelist() if name.endswith(f"/{MANIFEST_NAME}") and name.count("/") == 1)
            found = json.loads(archive.read(name))
            return isinstance(found, dict) and found.get("written_by") == WRITTEN_BY
    except (OSError, ValueError, KeyError, StopIteration, RuntimeError, RecursionError, zipfile.BadZipFile):
        return False
