"""A folder to publish: the shop file that changes nothing, the plan inside it, and a zip that is the same bytes each time."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from tests.bench_fixture import EXAMPLES, solved

from trivet.cli import main
from trivet.files import DiskFiles
from trivet.fmt.format import format_text
from trivet.pipeline import check
from trivet.source import SourceFile
from trivet.tables.shop_template import shop_template
from trivet.zip_folder import write_zip, zip_name, zipped

NAMES = ("dog_table", "fine_lift", "inch_table", "outfeed_riser", "small_riser", "tripod")
COMPILER = str(EXAMPLES.parent / "compiler")
FILES = {"manifest.json": b'{"written_by": "trivet"}', "a.txt": b"a", "cut/b.svg": b"b"}


def checked(name: str, shop: str | None) -> list[tuple[str, str]]:
    path = EXAMPLES / f"{name}.trivet"
    source = SourceFile(str(path), path.read_text(encoding="utf-8"))
    found = check(source, DiskFiles(), shop=SourceFile("mine.trivet", shop) if shop is not None else None)
    assert found.derived is not None, found.findings
    lift = found.derived.lift
    assert lift is not None
    figures = (
        lift.travel_mm,
        lift.travel_worst_mm,
        lift.height_max_mm,
        *(mesh.backlash.min_mm for mesh in found.derived.train.meshes),
    )
    return [*((item.rule, item.message) for item in found.findings), *(("figure", f"{mm:.5f}") for mm in figures)]


@pytest.mark.parametrize("name", NAMES)
def test_the_shop_file_changes_nothing_until_it_is_changed(name: str) -> None:
    text = shop_template(solved(name)[0])
    assert format_text(SourceFile("mine.trivet", text)) == text
    assert checked(name, text) == checked(name, None)


def test_the_shop_file_changes_what_it_says() -> None:
    text = shop_template(solved("outfeed_riser")[0])
    assert checked("outfeed_riser", text.replace("17.8 +/- 0.2", "17.2 +/- 0.2")) != checked("outfeed_riser", None)
    assert checked("outfeed_riser", text.replace("guide_block", "by_hand", 1)) != checked("outfeed_riser", None)


def test_a_zip_is_sorted_stored_dated_and_whole(tmp_path: Path) -> None:
    data = zipped("top", FILES)
    assert data == zipped("top", dict(reversed(FILES.items())))
    path = tmp_path / "x.zip"
    assert write_zip(str(path), FILES) is None
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == ["x/a.txt", "x/cut/b.svg", "x/manifest.json"]
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert {entry.external_attr >> 16 for entry in archive.infolist()} == {0o100644}
        assert {entry.compress_type for entry in archive.infolist()} == {zipfile.ZIP_STORED}
    assert write_zip(str(path), FILES) is None
    assert sorted(os.listdir(tmp_path)) == ["x.zip"]


@pytest.mark.parametrize("there", [b"", b"PK\x03\x04", b"my own notes", zipped("x", FILES).replace(b"trivet", b"others")])
def test_a_foreign_file_is_never_replaced(tmp_path: Path, there: bytes) -> None:
    path = tmp_path / "x.zip"
    path.write_bytes(there)
    found = write_zip(str(path), FILES)
    assert found is not None and found.rule == "foreign-output-folder"
    assert path.read_bytes() == there and os.listdir(tmp_path) == ["x.zip"]


def test_a_zip_that_cannot_be_written_leaves_the_former(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x.zip"
    assert write_zip(str(path), FILES) is None
    before = path.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    found = write_zip(str(path), {**FILES, "a.txt": b"other"})
    assert found is not None and found.rule == "output-not-written" and "no space left" in found.message
    assert path.read_bytes() == before and os.listdir(tmp_path) == ["x.zip"]


@pytest.mark.parametrize(
    ("folder", "revision", "name"),
    [
        ("out/a", "B", "out/a-B.zip"),
        ("out/a/", "", "out/a.zip"),
        ("a", "1/2", "a-1_2.zip"),
        ("a", "..", "a.zip"),
        ("a", "é 3", "a-é_3.zip"),
    ],
)
def test_names_of_zips(folder: str, revision: str, name: str) -> None:
    assert zip_name(folder, revision) == str(Path(name))
    assert zip_name(folder, revision, draft=True) == str(Path(name.removesuffix(".zip") + "-DRAFT.zip"))


def test_same_zip_whatever_the_hash_seed(tmp_path: Path) -> None:
    """Two processes, two folders, two hash seeds: one checksum; what is inside is what the folder holds and its manifest says."""
    sums = []
    for seed in ("1", "2"):
        work = tmp_path / seed
        work.mkdir()
        command = [sys.executable, "-m", "trivet", "compile", str(EXAMPLES / "small_riser.trivet"), "--zip"]
        done = subprocess.run(
            command,
            cwd=work,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": COMPILER},
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        assert "wrote out/small_riser.zip" in done.stdout
        sums.append(hashlib.sha256((work / "out" / "small_riser.zip").read_bytes()).hexdigest())
    assert sums[0] == sums[1]
    folder = work / "out" / "small_riser"
    with zipfile.ZipFile(work / "out" / "small_riser.zip") as archive:
        for name in archive.namelist():
            assert archive.read(name) == (folder / name.removeprefix("small_riser/")).read_bytes()
        listed = json.loads(archive.read("small_riser/manifest.json"))["files"]
        assert len(listed) + 1 == len(archive.namelist())
        for item in listed:
            assert hashlib.sha256(archive.read(f"small_riser/{item['path']}")).hexdigest() == item["sha256"]


def test_a_stranger_compiles_what_he_was_given(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """From the folder alone: the plan inside it, the shop file beside it; links of its pages lead to files of it."""
    monkeypatch.chdir(tmp_path)
    assert main(["compile", str(EXAMPLES / "outfeed_riser.trivet"), "--out", "given"]) == 0
    given = tmp_path / "given"
    for page in given.glob("*.md"):
        text = page.read_text(encoding="utf-8")
        for target in [part.partition(")")[0] for part in text.split("](")[1:]]:
            assert (given / target).is_file(), (page.name, target)
    capsys.readouterr()
    assert main(["check", "given/plan/outfeed_riser.trivet", "--shop", "given/mine.trivet"]) == 0
    assert "travel: 9.3 mm" in capsys.readouterr().out
    assert main(["check", "given/plan/outfeed_riser.trivet", "--measured", "given/inspection.csv"]) == 0
    assert "nothing changes" in capsys.readouterr().out
