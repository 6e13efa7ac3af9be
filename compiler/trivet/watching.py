"""Waiting for files to change."""

from __future__ import annotations

import os
from collections.abc import Iterable


def wait_for_change(paths: Iterable[str]) -> bool:
    """Wait until one of the files changes, appears or goes; False when the wait was ended from the keyboard.

    Editors write a file anew under its name, so its folder is watched. Changes close together come as one.
    """
    import watchfiles

    wanted = {os.path.abspath(path) for path in paths}
    folders = {os.path.dirname(path) for path in wanted}
    real = wanted | {os.path.realpath(path) for path in wanted}

    def asked(_: watchfiles.Change, path: str) -> bool:
        return path in real

    existing = [folder for folder in sorted(folders) if os.path.isdir(folder)]
    for _ in watchfiles.watch(*existing, watch_filter=asked, debounce=150, step=30, recursive=False, raise_interrupt=False):
        return True
    return False
