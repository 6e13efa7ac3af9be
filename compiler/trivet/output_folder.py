"""Writing an output folder so that a killed run leaves the former output or the new one, never half of either.

The new folder is written beside the old one under a name of its own and renamed into place. Between the two renames
nothing stands at the folder's name; a run killed just there is mended by the next one.
"""

from __future__ import annotations

import json
import os
import shutil
import stat
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from trivet.diagnostics import Diagnostic, Rule
from trivet.folder_lock import folder_lock
from trivet.tables.file_names import folded, is_safe_file_name
from trivet.tables.manifest import MANIFEST_NAME, WRITTEN_BY

FOREIGN = Rule(
    "foreign-output-folder",
    "error",
    "output goes into a new folder, an empty one, or one that trivet wrote and nobody added to",
    "the folder is replaced as a whole: anything else in it would be lost",
    "common practice, no source",
)
NOT_WRITTEN = Rule(
    "output-not-written",
    "error",
    "the output can be written in full",
    "half an output could be cut; when a file cannot be written the former output stays",
    "common practice, no source",
)
RULES = (FOREIGN, NOT_WRITTEN)

_UNFINISHED = ".trivet-unfinished"
# Files that file browsers leave behind unasked; from memory.
_LITTER = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})


def write_folder(folder: str, files: Mapping[str, bytes]) -> Diagnostic | None:
    """Make `folder` hold exactly `files` (relative paths with `/`, a manifest among them), or say why not.

    Missing parents are made. Another run writing the same folder is waited for. A diagnostic leaves `folder` as it was.
    Raises ValueError for paths that `check_names` refuses: they are made by us, not by users.
    """
    check_names(files)
    target = _target(folder)
    if not target.name:
        return _refuse(target, "is the top of a disk")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with _held(target) as free:
            if not free:
                return _not_written(folder, "another run is writing it")
            return _mend(target) or _foreign(target) or _replace(target, files)
    except (OSError, ValueError) as error:
        return _not_written(folder, _why(error))


def recover(folder: str) -> Diagnostic | None:
    """Put back the former output if a killed run left it renamed, and remove what that run had begun."""
    target = _target(folder)
    try:
        if not target.name or not any(os.path.lexists(path) for path in (_old(target), _new(target))):
            return None
        with _held(target) as free:
            return _mend(target) if free else None
    except (OSError, ValueError) as error:
        return _not_written(folder, _why(error))


def check_names(files: Mapping[str, bytes]) -> None:
    """ValueError unless there is a manifest, each part of each path is safe, and no two paths meet on any disk."""
    if MANIFEST_NAME not in files:
        raise ValueError(f"no {MANIFEST_NAME} among the outputs")
    seen: set[str] = set()
    for path in sorted(files):
        if not all(is_safe_file_name(part) for part in path.split("/")):
            raise ValueError(f"not a safe path: {path!r}")
        if folded(path) in seen:
            raise ValueError(f"the same file on some disks: {path!r}")
        seen.add(folded(path))
    for path in sorted(seen):
        if any("/".join(path.split("/")[:depth]) in seen for depth in range(1, path.count("/") + 1)):
            raise ValueError(f"a file and a folder of one name: {path!r}")


def _replace(target: Path, files: Mapping[str, bytes]) -> Diagnostic | None:
    try:
        _write_new(_new(target), files)
        if target.is_dir():
            os.replace(target, _old(target))
        os.replace(_new(target), target)
    except OSError:
        with suppress(OSError):
            _mend(target)
        raise
    _sync_folder(target.parent)
    # The output stands; what cannot be removed now is removed by the next run.
    with suppress(OSError):
        _mend(target)
    return None


def _write_new(new: Path, files: Mapping[str, bytes]) -> None:
    new.mkdir()
    (new / _UNFINISHED).touch()
    folders = {new}
    for path, data in sorted(files.items()):
        place = new / path
        place.parent.mkdir(parents=True, exist_ok=True)
        folders.update(parent for parent in place.parents if parent.is_relative_to(new))
        with open(place, "xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
    (new / _UNFINISHED).unlink()
    for folder in sorted(folders):
        _sync_folder(folder)


def _mend(target: Path) -> Diagnostic | None:
    """What a killed run left: the old folder goes back if nothing stands in its place, the rest is removed."""
    for left in (_old(target), _new(target)):
        if os.path.lexists(left):
            if left.is_symlink() or not left.is_dir() or not _ours(left):
                return _refuse(left, "stands where a former run would leave its own, and trivet did not write it")
            if left == _old(target) and not os.path.lexists(target) and _whole(left):
                os.replace(left, target)
            else:
                _remove(left)
    return None


def _whole(folder: Path) -> bool:
    """Whether all that the manifest lists is there: a folder that was being removed is not."""
    return all((folder / path).is_file() for path in _listed(folder) or ())


def _foreign(target: Path) -> Diagnostic | None:
    if target.is_symlink():
        return _refuse(target, "is a link")
    if not target.exists():
        return None
    if not target.is_dir():
        return _refuse(target, "is not a folder")
    if not _ours(target):
        return _refuse(target, "holds files that trivet did not write")
    listed = _listed(target) or frozenset()
    for path in sorted(item.relative_to(target) for item in target.rglob("*")):
        name = path.as_posix()
        added = not any(known == name or known.startswith(name + "/") for known in listed)
        if added and path.name not in _LITTER and name != MANIFEST_NAME:
            return _refuse(target, f"holds `{name}`, which trivet did not write", "move that file elsewhere")
    return None


def _ours(folder: Path) -> bool:
    """Whether trivet wrote the folder, or began to, or it is empty."""
    names = {item.name for item in folder.iterdir()}
    if not names - _LITTER:
        return True
    return _UNFINISHED in names or _listed(folder) is not None


def _listed(folder: Path) -> frozenset[str] | None:
    """The paths in the folder's manifest, or None without a manifest of ours."""
    place = folder / MANIFEST_NAME
    try:
        if not stat.S_ISREG(place.lstat().st_mode):
            return None
        found = json.loads(place.read_bytes())
        return frozenset(item["path"] for item in found["files"]) if found["written_by"] == WRITTEN_BY else None
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return None


def _remove(folder: Path) -> None:
    """Remove the folder, last what says whose it is, so that a run killed here leaves what the next one knows."""
    marks = (MANIFEST_NAME, _UNFINISHED)
    for item in sorted(folder.iterdir()):
        if item.is_dir() and not item.is_symlink():
            shutil.rmtree(item)
        elif item.name not in marks:
            item.unlink()
    for name in marks:
        (folder / name).unlink(missing_ok=True)
    folder.rmdir()


def _sync_folder(folder: Path) -> None:
    """Make renames last through a power cut; not every system lets a folder be opened."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def _held(target: Path) -> Iterator[bool]:
    with folder_lock(target.with_name(f".lock-{target.name}")) as free:
        yield free


def _target(folder: str) -> Path:
    """The folder as named, so that messages show what the user wrote; in full where that name has no last part."""
    target = Path(os.path.normpath(folder))
    return target if target.name not in ("", "..") else Path(os.path.abspath(target))


def _old(target: Path) -> Path:
    return target.with_name(f".old-{target.name}")


def _new(target: Path) -> Path:
    return target.with_name(f".new-{target.name}")


def _refuse(path: Path, reason: str, remedy: str = "name another folder for the output") -> Diagnostic:
    return Diagnostic(FOREIGN.slug, FOREIGN.severity, f"`{path}` {reason}", None, remedy=remedy)


def _why(error: OSError | ValueError) -> str:
    if isinstance(error, OSError):
        return (error.strerror or "the disk refused").lower()
    return "its name holds a character that no file name can hold"


def _not_written(folder: str, reason: str) -> Diagnostic:
    message = f"the output `{folder}` was not written: {reason}"
    return Diagnostic(NOT_WRITTEN.slug, NOT_WRITTEN.severity, message, None)
