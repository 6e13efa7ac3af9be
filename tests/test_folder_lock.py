"""The lock that keeps two runs apart."""

from __future__ import annotations

from pathlib import Path

import pytest

from trivet import folder_lock


def test_one_at_a_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(folder_lock, "_PAUSE_S", 0)
    path = tmp_path / "lock"
    for _ in range(2):
        with folder_lock.folder_lock(path) as first, folder_lock.folder_lock(path) as second:
            assert first and not second and path.exists()
        assert not path.exists()


def test_a_link_is_no_lock(tmp_path: Path) -> None:
    (tmp_path / "lock").symlink_to(tmp_path / "other")
    with pytest.raises(OSError, match="symbolic links"), folder_lock.folder_lock(tmp_path / "lock"):
        pass
    assert not (tmp_path / "other").exists()


def test_a_lock_file_removed_while_waiting_is_not_a_lock(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "lock"
    real, calls = folder_lock._lock, 0

    def removed_at_first(handle: int) -> bool:
        nonlocal calls
        calls += 1
        if calls == 1:
            path.unlink()
        return real(handle)

    monkeypatch.setattr(folder_lock, "_lock", removed_at_first)
    monkeypatch.setattr(folder_lock, "_PAUSE_S", 0)
    with folder_lock.folder_lock(path) as free:
        assert free and path.exists() and calls == 2
    assert not path.exists()
