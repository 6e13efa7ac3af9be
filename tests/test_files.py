"""Reading: what is refused, and that nothing outside the project is read."""

from __future__ import annotations

import io
import os
import shutil
import socket
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trivet import files as files_module
from trivet.diagnostics import Diagnostic
from trivet.files import LARGEST_BYTES, DiskFiles, MemoryFiles, decode, library_names, library_text
from trivet.source import SourceFile, Span

DISK = DiskFiles()


def refused(found: SourceFile | Diagnostic, rule: str, *words: str) -> None:
    assert isinstance(found, Diagnostic), found
    assert found.rule == rule and found.severity == "error"
    assert all(word in found.message for word in words), found.message


def unreadable(found: SourceFile | Diagnostic, *words: str) -> None:
    refused(found, "unreadable-file", *words)


def text_of(found: SourceFile | Diagnostic) -> str:
    assert isinstance(found, SourceFile), found
    return found.text


def test_text_is_kept_as_it_stands(tmp_path: Path) -> None:
    path = tmp_path / "a.trivet"
    path.write_bytes("\ufeffgear ö 😋\r\n\rx\n".encode())
    found = DISK.read(str(path))
    assert text_of(found) == "\ufeffgear ö 😋\r\n\rx\n"
    assert isinstance(found, SourceFile) and found.name == str(path)


@given(st.text(max_size=300))
def test_utf8_text_survives(text: str) -> None:
    # Text in which every second letter is NUL is taken for UTF-16 and refused, as is one that starts as such.
    data = text.encode("utf-8", "ignore")
    if data.count(0) == 0:
        assert text_of(decode("a", data)).encode() == data


@given(st.binary(max_size=300))
def test_bytes_never_raise(data: bytes) -> None:
    found = decode("a", data)
    assert isinstance(found, Diagnostic) or found.text.encode() == data


def test_absent_folder_and_path_through_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    unreadable(DISK.read(str(tmp_path / "none")), "there is no such file", "none")
    unreadable(DISK.read(str(tmp_path)), "it is a folder")
    unreadable(DISK.read(str(tmp_path / "file" / "a")), "not a folder")
    unreadable(DISK.read("a\0b"), "no file name can hold")
    unreadable(DISK.read(str(tmp_path / ("n" * 300))), "name too long")


def test_not_permitted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # A stand-in for the system's refusal, since the tests may run as a user to whom nothing is refused.
    def refuse(path: str, flags: int) -> int:
        raise PermissionError(13, "Permission denied")

    (tmp_path / "a").write_text("x")
    monkeypatch.setattr(os, "open", refuse)
    unreadable(DISK.read(str(tmp_path / "a")), "not permitted")


def test_pipes_devices_and_sockets_do_not_hang(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    os.symlink(tmp_path / "pipe", tmp_path / "link")
    here = os.getcwd()
    os.chdir(tmp_path)
    with socket.socket(socket.AF_UNIX) as listener:
        listener.bind("s")
        os.chdir(here)
        for path in (tmp_path / "pipe", tmp_path / "link", tmp_path / "s", Path("/dev/zero"), Path("/dev/null")):
            unreadable(DISK.read(str(path)), "a device, a pipe or a socket")


def test_a_pipe_put_in_place_after_the_first_look(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("x")
    os.mkfifo(tmp_path / "pipe")
    plain = os.stat(tmp_path / "file")
    monkeypatch.setattr(os, "stat", lambda path: plain)
    unreadable(DISK.read(str(tmp_path / "pipe")), "a device, a pipe or a socket")


def test_links_in_a_circle(tmp_path: Path) -> None:
    os.symlink(tmp_path / "a", tmp_path / "b")
    os.symlink(tmp_path / "b", tmp_path / "a")
    unreadable(DISK.read(str(tmp_path / "a")), "circle")


def test_size_limit(tmp_path: Path) -> None:
    (tmp_path / "most").write_bytes(b"#" * LARGEST_BYTES)
    (tmp_path / "more").write_bytes(b"#" * (LARGEST_BYTES + 1))
    assert len(text_of(DISK.read(str(tmp_path / "most")))) == LARGEST_BYTES
    unreadable(DISK.read(str(tmp_path / "more")), "larger than 2000000 bytes")
    unreadable(DISK.read_stream(io.BytesIO(b"#" * (LARGEST_BYTES + 1)), "-"), "larger")


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf16_is_named(encoding: str) -> None:
    found = decode("a", 'fixture ö\n  title "Ä"\n'.encode(encoding))
    unreadable(found, "UTF-16")
    assert isinstance(found, Diagnostic) and "UTF-8" in found.remedy


def test_latin1_is_named_with_the_byte() -> None:
    unreadable(decode("a", "# größe".encode("latin-1")), "byte 4 (counted from 0) is 0xf6", "Latin-1")
    unreadable(decode("a", b"\x7fELF\x00\x80"), "byte 5 (counted from 0) is 0x80", "no text")


def test_the_place_that_names_the_file_is_kept() -> None:
    span = Span(SourceFile("m", 'read "x"'), 5, 8)
    for found in (MemoryFiles({}).read("x", span=span), MemoryFiles({}).read_beside("m", "../x", span=span)):
        assert isinstance(found, Diagnostic) and found.span == span


def test_standard_input() -> None:
    found = DISK.read_stream(io.BytesIO("ö".encode()), "riser.trivet")
    assert isinstance(found, SourceFile) and (found.name, found.text) == ("riser.trivet", "ö")


def project(tmp_path: Path) -> str:
    (tmp_path / "plan" / "parts").mkdir(parents=True)
    (tmp_path / "plan" / "main").write_text("main")
    (tmp_path / "plan" / "feet").write_text("feet")
    (tmp_path / "plan" / "parts" / "deep").write_text("deep")
    (tmp_path / "plan2").mkdir()
    (tmp_path / "plan2" / "secret").write_text("secret")
    (tmp_path / "secret").write_text("secret")
    return str(tmp_path / "plan" / "main")


INSIDE = [("feet", "feet"), ("./parts/../feet", "feet"), ("parts/deep", "deep")]
OUTSIDE = ["../secret", "parts/../../secret", "../plan2/secret", "/etc/hostname", "//etc/hostname", "C:/x", "..", "."]


def test_read_beside(tmp_path: Path) -> None:
    base = project(tmp_path)
    memory = MemoryFiles({"plan/feet": "feet", "plan/parts/deep": "deep", "secret": "s", "plan2/secret": "s"})
    for relative, text in INSIDE:
        assert text_of(DISK.read_beside(base, relative)) == text
        assert text_of(memory.read_beside("plan/main", relative)) == text
    for relative in OUTSIDE:
        found = DISK.read_beside(base, relative)
        refused(found, "read-outside-project", f"`{relative}`")
        assert isinstance(found, Diagnostic) and "through a link" not in found.message
        refused(memory.read_beside("plan/main", relative), "read-outside-project", f"`{relative}`")
    unreadable(DISK.read_beside(base, "none"), "no such file")
    unreadable(DISK.read_beside(base, ""), "names no file")
    unreadable(DISK.read_beside(base, "a\0b"), "names no file")
    backslash = DISK.read_beside(base, "parts\\deep")
    refused(backslash, "read-outside-project")
    assert isinstance(backslash, Diagnostic) and backslash.remedy == "write `parts/deep`"


def test_read_beside_from_the_current_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    project(tmp_path)
    monkeypatch.chdir(tmp_path / "plan")
    found = DISK.read_beside("main", "parts/../feet")
    assert isinstance(found, SourceFile) and (found.name, found.text) == ("feet", "feet")
    refused(DISK.read_beside("main", "../secret"), "read-outside-project")


def test_root_may_be_named(tmp_path: Path) -> None:
    base = project(tmp_path)
    deep = str(Path(base).parent / "parts" / "deep")
    refused(DISK.read_beside(deep, "../feet"), "read-outside-project")
    assert text_of(DISK.read_beside(deep, "../feet", str(Path(base).parent))) == "feet"
    assert text_of(DISK.read_beside(base, "../secret", str(tmp_path))) == "secret"


def test_links_out_of_the_project(tmp_path: Path) -> None:
    base = project(tmp_path)
    plan = tmp_path / "plan"
    os.symlink("../secret", plan / "file_link")
    os.symlink("../plan2", plan / "folder_link")
    os.symlink("../absent", plan / "dangling_link")
    os.symlink("parts/deep", plan / "inner_link")
    for name in ("file_link", "folder_link/secret", "dangling_link"):
        refused(DISK.read_beside(base, name), "read-outside-project", "through a link")
    assert text_of(DISK.read_beside(base, "inner_link")) == "deep"
    # The plan's own folder may be reached through a link.
    os.symlink("plan", tmp_path / "plan_link")
    assert text_of(DISK.read_beside(str(tmp_path / "plan_link" / "main"), "feet")) == "feet"


@given(st.lists(st.sampled_from(["..", ".", "parts", "deep", "feet", "", "plan", "/", "plan2", "secret"]), max_size=8))
def test_no_path_leads_out(parts: list[str]) -> None:
    memory = MemoryFiles({"plan/feet": "in", "plan/parts/deep": "in", "secret": "out", "plan2/secret": "out"})
    found = memory.read_beside("plan/main", "/".join(parts))
    assert isinstance(found, Diagnostic) or found.text == "in"


def test_library_falls_back_to_the_checkout() -> None:
    top = Path(files_module.__file__).parents[2] / "library"
    assert library_names() == tuple(sorted(path.stem for path in top.glob("*.trivet")))
    for name in library_names():
        assert library_text(name) == (top / f"{name}.trivet").read_bytes().decode("utf-8")
    with pytest.raises(KeyError):
        library_text("../files")


def test_library_of_an_installed_package(tmp_path: Path) -> None:
    package = tmp_path / "trivet"
    shutil.copytree(Path(files_module.__file__).parent, package, ignore=shutil.ignore_patterns("__pycache__"))
    (package / "library").mkdir()
    (package / "library" / "nuts.trivet").write_text("table nuts is nut ö\n", encoding="utf-8")
    (package / "library" / "README.md").write_text("no table\n")
    script = "from trivet.files import *; print(library_names(), ascii(library_text('nuts')))"
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=tmp_path, env={"PYTHONPATH": str(tmp_path)}, capture_output=True, text=True
    )
    assert run.stdout == "('nuts',) 'table nuts is nut \\xf6\\n'\n", run.stderr
