"""One run at a time for one output folder."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_TRIES = 200
_PAUSE_S = 0.05


@contextmanager
def folder_lock(path: Path) -> Iterator[bool]:
    """True while this run alone holds the lock file at `path`; False if another held it for ten seconds.

    The system lets go of the lock of a killed run by itself, so that no stale lock is ever in the way. Raises OSError
    where no lock file can be made.
    """
    handle = _acquire(path)
    try:
        yield handle is not None
    finally:
        if handle is not None:
            # Removed before the lock goes: whoever waited for it sees that the name is gone and starts again.
            with suppress(OSError):
                path.unlink()
            os.close(handle)


def _acquire(path: Path) -> int | None:
    for _ in range(_TRIES):
        handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        if _lock(handle) and _is_at(handle, path):
            return handle
        os.close(handle)
        time.sleep(_PAUSE_S)
    return None


def _is_at(handle: int, path: Path) -> bool:
    """Whether the locked file still has its name: the run before may have removed it meanwhile."""
    try:
        return os.path.samestat(os.fstat(handle), os.stat(path))
    except OSError:
        return False


if sys.platform == "win32":

    def _lock(handle: int) -> bool:
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:

    def _lock(handle: int) -> bool:
        import fcntl

        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
