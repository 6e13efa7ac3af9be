"""Writing outputs: whole or not at all, whatever stops the run, and never over what trivet did not write."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import trivet.files
from trivet import folder_lock
from trivet.files import DiskFiles, MemoryFiles
from trivet.output_folder import check_names, recover, write_folder
from trivet.tables.manifest import manifest

Tree = dict[str, bytes]


def output(mark: str) -> Tree:
    files = {"index.html": mark.encode(), f"cut/{mark}.topside.svg": b"<svg/>", "z.md": mark.encode()}
    listed = manifest(files, inputs={"a.trivet": mark}, parameters={}, version="0.1.0")
    return {**files, "manifest.json": json.dumps(listed).encode()}


OLD, NEW = output("old"), output("new")


def tree(folder: Path) -> Tree:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def foreign(found: object, *words: str) -> None:
    assert getattr(found, "rule", None) == "foreign-output-folder", found
    assert all(word in getattr(found, "message", "") for word in words), found


@pytest.fixture
def target(tmp_path: Path) -> Path:
    return tmp_path / "out" / "riser"


def test_new_and_replaced(target: Path) -> None:
    for files in (OLD, NEW, NEW):
        assert DiskFiles().write_outputs(str(target), files) is None
        assert tree(target) == files
        assert [path.name for path in target.parent.iterdir()] == ["riser"]


def test_empty_folder_is_used(target: Path) -> None:
    target.mkdir(parents=True)
    assert write_folder(str(target), NEW) is None
    assert tree(target) == NEW and [path.name for path in target.parent.iterdir()] == ["riser"]


def test_memory_holds_outputs() -> None:
    memory = MemoryFiles({})
    assert memory.write_outputs("out/riser", NEW) is None
    assert memory.written == {"out/riser": NEW}


@pytest.mark.parametrize(
    "held",
    [
        {"notes.txt": b"mine"},
        {"manifest.json": b"{}"},
        {"manifest.json": b"not json", "x": b""},
        {"manifest.json": b"[" * 100_000},
        {"manifest.json": b'{"written_by": "another", "files": []}'},
        {"manifest.json": b'{"written_by": "trivet", "files": 7}'},
        {**OLD, "notes.txt": b"mine"},
        {**OLD, "cut/mine.svg": b"mine"},
        {**OLD, "mine/a": b"mine"},
    ],
)
def test_foreign_folder_is_never_replaced(target: Path, held: Tree) -> None:
    for name, data in held.items():
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        (target / name).write_bytes(data)
    foreign(write_folder(str(target), NEW), "trivet did not write")
    assert tree(target) == held and [path.name for path in target.parent.iterdir()] == ["riser"]


def test_manifest_that_is_a_pipe(target: Path) -> None:
    target.mkdir(parents=True)
    os.mkfifo(target / "manifest.json")
    foreign(write_folder(str(target), NEW))


def test_litter_of_file_browsers_does_not_count(target: Path) -> None:
    write_folder(str(target), OLD)
    (target / "cut" / "Thumbs.db").write_bytes(b"x")
    assert write_folder(str(target), NEW) is None and tree(target) == NEW


def test_links_and_files_are_refused(target: Path) -> None:
    elsewhere = target.parent / "elsewhere"
    write_folder(str(elsewhere), OLD)
    target.symlink_to(elsewhere)
    foreign(write_folder(str(target), NEW), "is a link")
    target.unlink()
    target.symlink_to("nowhere")
    foreign(write_folder(str(target), NEW), "is a link")
    target.unlink()
    target.write_text("mine")
    foreign(write_folder(str(target), NEW), "is not a folder")
    assert target.read_text() == "mine" and tree(elsewhere) == OLD


def test_parent_that_is_a_file(target: Path) -> None:
    target.parent.write_text("mine")
    found = write_folder(str(target), NEW)
    assert found is not None and found.rule == "output-not-written"


def test_impossible_folder_names() -> None:
    foreign(write_folder("/", NEW), "top of a disk")
    for folder in ("a\0b", "\ud800"):
        found = write_folder(folder, NEW)
        assert found is not None and "no file name can hold" in found.message
        recover(folder)


def test_the_folder_is_shown_as_it_was_named(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target.mkdir(parents=True)
    (target / "mine").write_text("x")
    monkeypatch.chdir(target)
    foreign(write_folder("../riser", NEW), "`../riser` holds")
    (target / "mine").unlink()
    assert write_folder(".", NEW) is None and tree(target) == NEW


def test_links_inside_a_former_output_are_not_followed(target: Path) -> None:
    write_folder(str(target), OLD)
    outside = target.parent / "outside"
    outside.mkdir()
    (outside / "keep").write_text("mine")
    (target / "index.html").unlink()
    (target / "index.html").symlink_to(outside / "keep")
    for path in (target / "cut").iterdir():
        path.unlink()
    (target / "cut").rmdir()
    (target / "cut").symlink_to(outside)
    assert write_folder(str(target), NEW) is None
    assert tree(target) == NEW and tree(outside) == {"keep": b"mine"}
    assert sorted(path.name for path in target.parent.iterdir()) == ["outside", "riser"]


def test_a_former_runs_names_taken_by_others(target: Path) -> None:
    write_folder(str(target), OLD)
    for name in (".new-riser", ".old-riser"):
        other = target.parent / name
        other.mkdir()
        (other / "keep").write_text("mine")
        foreign(write_folder(str(target), NEW), name)
        assert tree(target) == OLD and tree(other) == {"keep": b"mine"}
        (other / "keep").unlink()
        other.rmdir()


@pytest.mark.parametrize("step", ["replace", "fsync"])
@pytest.mark.parametrize("fault", [OSError(28, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_fault_at_a_step_keeps_the_former_output(
    target: Path, monkeypatch: pytest.MonkeyPatch, step: str, fault: BaseException, count: int
) -> None:
    write_folder(str(target), OLD)
    calls = 0
    real = getattr(os, step)

    def failing(*arguments: object) -> object:
        nonlocal calls
        calls += 1
        if calls == count:
            raise fault
        return real(*arguments)

    with monkeypatch.context() as patch:
        patch.setattr(os, step, failing)
        if isinstance(fault, KeyboardInterrupt) and not (step == "replace" and count == 3):
            with pytest.raises(KeyboardInterrupt):
                write_folder(str(target), NEW)
        elif step == "replace" and count == 3:
            assert write_folder(str(target), NEW) is None
            assert tree(target) == NEW
            return
        else:
            found = write_folder(str(target), NEW)
            assert found is not None and found.rule == "output-not-written" and "no space left" in found.message
            assert tree(target) == OLD and [path.name for path in target.parent.iterdir()] == ["riser"]
    assert recover(str(target)) is None
    assert tree(target) == OLD and [path.name for path in target.parent.iterdir()] == ["riser"]


KILLED = """
import json, os, sys
from trivet.output_folder import write_folder
folder, stop, files = sys.argv[1], int(sys.argv[2]), json.load(sys.stdin)
seen = 0
def watch(event, arguments):
    global seen
    changes = event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "shutil.rmtree")
    if changes or event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR):
        if str(arguments[0]).startswith(os.path.dirname(folder)):
            seen += 1
            if seen == stop:
                os._exit(9)
sys.addaudithook(watch)
write_folder(folder, {name: text.encode() for name, text in files.items()})
"""


def killed(target: Path, stop: int) -> int:
    """Run in a process of its own that ends, with no clean-up, just before its change number `stop` to the disk."""
    text = json.dumps({name: data.decode() for name, data in NEW.items()})
    source = str(Path(trivet.files.__file__).parents[1])
    command = [sys.executable, "-c", KILLED, str(target), str(stop)]
    return subprocess.run(command, input=text, text=True, env={"PYTHONPATH": source}).returncode


def test_run_killed_at_every_step(target: Path) -> None:
    between = 0
    for stop in range(1, 60):
        write_folder(str(target), OLD)
        if killed(target, stop) == 0:
            break
        if target.exists():
            assert tree(target) in (OLD, NEW)
        else:
            between += 1
        assert recover(str(target)) is None
        assert tree(target) in (OLD, NEW)
        assert [path.name for path in target.parent.iterdir() if not path.name.startswith(".lock")] == ["riser"]
    # Opening the lock, the new folder, its mark, four files, the removed mark and two renames are ten steps at least.
    assert 10 < stop < 59
    # Only a run killed between the two renames leaves nothing at the folder's name.
    assert between == 1


def test_half_removed_former_output_is_not_put_back(target: Path) -> None:
    left = target.parent / ".old-riser"
    write_folder(str(left), OLD)
    (left / "index.html").unlink()
    assert recover(str(target)) is None
    assert not target.exists() and not left.exists()


def test_concurrent_runs_do_not_mix(target: Path) -> None:
    script = (
        "import json, sys; from trivet.output_folder import write_folder\n"
        "files = {name: text.encode() for name, text in json.loads(sys.argv[2]).items()}\n"
        "sys.exit(sum(write_folder(sys.argv[1], files) is not None for _ in range(10)))"
    )
    source = str(Path(trivet.files.__file__).parents[1])
    runs = [
        subprocess.Popen(
            [sys.executable, "-c", script, str(target), json.dumps({name: data.decode() for name, data in files.items()})],
            env={"PYTHONPATH": source},
        )
        for files in (OLD, NEW, OLD)
    ]
    assert [run.wait(60) for run in runs] == [0, 0, 0]
    assert tree(target) in (OLD, NEW) and [path.name for path in target.parent.iterdir()] == ["riser"]


def test_a_lock_that_stays_held_is_reported(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(folder_lock, "_PAUSE_S", 0)
    write_folder(str(target), OLD)
    with folder_lock.folder_lock(target.with_name(".lock-riser")) as free:
        assert free
        found = write_folder(str(target), NEW)
    assert found is not None and "another run" in found.message
    assert tree(target) == OLD
    assert write_folder(str(target), NEW) is None


@pytest.mark.parametrize("path", ["../a", "/a", "a//b", "a/../b", "a\\b", "con.svg", "a b", ".hidden", "a\x1b", "", "a."])
def test_unsafe_paths_are_refused(target: Path, path: str) -> None:
    with pytest.raises(ValueError, match="safe"):
        write_folder(str(target), {**NEW, path: b""})
    assert not target.parent.exists()


def test_paths_that_meet() -> None:
    for pair in (("Hub.svg", "hub.svg"), ("cut", "cut/a"), ("stra\u00dfe", "strasse")):
        with pytest.raises(ValueError, match=r"disks|one name"):
            check_names({**dict.fromkeys(pair, b""), "manifest.json": b""})
    with pytest.raises(ValueError, match="no manifest"):
        check_names({})
