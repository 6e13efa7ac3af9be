"""Two versions of a fixture: what changes for the maker, and nothing where nothing does."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from trivet.cli import main
from trivet.compare.change import Comparison
from trivet.compare.compare import compare
from trivet.compare.version import version_of
from trivet.files import DiskFiles
from trivet.source import SourceFile

ROOT = Path(__file__).resolve().parents[1]
RISER = ROOT / "examples" / "outfeed_riser.trivet"
EXAMPLES = sorted((ROOT / "examples").glob("*.trivet"))


def compared(old: str, new: str, folder: Path = ROOT / "examples") -> Comparison:
    sides = [
        version_of(name, SourceFile(str(folder / "fixture.trivet"), text), DiskFiles(), full=False)
        for name, text in (("old", old), ("new", new))
    ]
    return compare(sides[0], sides[1], full=False)


def edited(*edits: tuple[str, str], path: Path = RISER) -> str:
    text = path.read_text("utf-8")
    for pattern, replacement in edits:
        text, count = re.subn(pattern, replacement, text)
        assert count, pattern
    return text


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_nothing_changes_where_only_comments_spaces_and_order_do(path: Path) -> None:
    text = path.read_text("utf-8")
    assert compared(text, text).empty
    assert compared(text, "# a remark\n\n" + text.replace("  ", "    ") + "\n# the end\n").empty


def test_blocks_in_another_order_are_no_change() -> None:
    text = RISER.read_text("utf-8")
    blocks = re.split(r"\n(?=[a-z])", text)
    head, rest = blocks[:2], blocks[2:]
    moved = "\n".join([*head, *(block.rstrip() + "\n" for block in reversed(rest))])
    assert [change.kind for change in compared(text, moved).parts] == []


def test_a_hole_that_moves_says_how_far() -> None:
    """3 and 4 to the side are 5 along the way: Euclid, Elements I.47."""
    found = compared(edited(), edited((r"first_at \(190, 70\) mm", "first_at (193, 74) mm")))
    (deck,) = found.parts
    assert (deck.part, deck.kind) == ("deck", "cut again")
    assert deck.deviation_mm == pytest.approx(5.0, abs=1e-4)
    assert len(deck.reasons) == 1 and "moves by 5 mm, as do 5 more cuts" in deck.reasons[0]
    assert found.same_parts == 7 and not found.function and not found.purchases and not found.findings


def test_a_deeper_pocket_changes_parts_heights_and_nothing_to_buy() -> None:
    found = compared(edited(), edited((r"pocket 5\.8 mm", "pocket 5.3 mm")))
    assert {change.part for change in found.parts} == {"nw", "ne", "sw", "se"}
    assert {round(change.deviation_mm, 6) for change in found.parts} == {0.5}
    assert not found.purchases


def test_more_teeth_change_the_lift_by_the_ratio() -> None:
    """Lead times drive teeth over foot teeth: 1.25 mm × 16/20 before, 1.25 mm × 16/22 after."""
    found = compared(edited(), edited((r"teeth( +)20", r"teeth\g<1>22")))
    lift = next(change for change in found.function if change.what == "lift per turn")
    assert (lift.old, lift.new) == ("1 mm", f"{round(1.25 * 16 / 22, 4)} mm")
    assert {"nw", "ne", "sw", "se", "east", "west", "deck"} == {change.part for change in found.parts}
    assert found.same_parts == 1


def test_a_turned_gear_is_the_same_gear() -> None:
    found = compared(edited(), edited((r"with west at 180 deg", "with west at 179.9 deg")))
    assert "west" not in {change.part for change in found.parts} and "hub" not in {change.part for change in found.parts}


def test_another_name_needs_no_cutting() -> None:
    found = compared(edited(), edited((r"\bnw\b", "north_west")))
    kinds = {change.part: change.kind for change in found.parts}
    assert kinds["north_west"] == "another name"
    assert "nw" not in kinds


def test_hardware_to_buy_and_to_leave() -> None:
    found = compared(edited(), edited((r"ISO 4017, length 30 mm", "ISO 4017, length 35 mm")))
    bought = {change.description: (change.old, change.new) for change in found.purchases}
    assert bought == {"hexagon head screw ISO 4017 M8 x 30 mm": (4, 0), "hexagon head screw ISO 4017 M8 x 35 mm": (0, 4)}


def test_findings_come_go_and_change_their_numbers() -> None:
    found = compared(edited(), edited((r"require travel >= 8 mm", "require travel >= 12 mm"), (r"accept gear-on-thread.*\n", "")))
    new = [change for change in found.findings if not change.old]
    assert any(change.rule == "require-not-met" and change.severity == "error" for change in new)
    changed = next(change for change in found.findings if change.rule == "gear-on-thread")
    assert "accepted because" in changed.old and "accepted" not in changed.new
    back = compared(edited((r"require travel >= 8 mm", "require travel >= 12 mm")), edited())
    assert [(change.rule, change.new) for change in back.findings] == [("require-not-met", "")]


def test_a_broken_file_is_not_compared_and_seems_not_clean() -> None:
    found = compared(edited(), edited((r"pocket 5\.8 mm", "pocket 5,8 mm")))
    assert "new cannot be worked out" in found.not_compared
    assert [change.rule for change in found.findings] == ["number-form"]
    assert not found.parts


def test_forms(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new = tmp_path / "new.trivet"
    new.write_text(edited((r'title +"[^"]*"', 'title "<script>alert(1)</script>"'), (r"pocket 5\.8 mm", "pocket 5.3 mm")), "utf-8")
    assert main(["compare", str(RISER), str(new), "--report", "json", "--overlay", str(tmp_path / "over")]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {part["part"] for part in data["parts"]} == {"nw", "ne", "sw", "se"} and data["same_parts"] == 4
    drawn = {path.name for path in (tmp_path / "over").glob("*.svg")}
    assert drawn == {f"{name}.underside.svg" for name in ("nw", "ne", "sw", "se")}
    assert main(["compare", str(RISER), str(new), "--report", "markdown"]) == 0
    page = capsys.readouterr().out
    assert "<script>" not in page and "## Parts" in page
    assert main(["compare", str(RISER), str(new)]) == 0
    text = capsys.readouterr().out
    assert "cut ne, nw, se, sw again: " in text.replace("nw, ne, sw, se", "ne, nw, se, sw") and "4 parts need no cutting" in text


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("one.trivet",), "name two files"),
        (("a", "b", "c"), "name two files"),
        (("missing.trivet", "also.trivet"), "there is no such file"),
        (("--git", "HEAD", "a", "b"), "with --git name one file"),
        (("--git=-x", str(RISER)), "is no revision"),
    ],
)
def test_wrong_use(arguments: tuple[str, ...], words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", *arguments]) == 2
    assert words in capsys.readouterr().err


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """Two revisions of a fixture that reads another file, which changes too."""
    assert shutil.which("git"), "git is needed"
    shutil.copytree(ROOT / "examples" / "shared", tmp_path / "plans" / "shared")
    fixture = tmp_path / "plans" / "small_riser.trivet"
    shutil.copy(ROOT / "examples" / "small_riser.trivet", fixture)
    command(tmp_path, "git", "init", "-q")
    command(tmp_path, "git", "add", ".")
    command(tmp_path, "git", "commit", "-qm", "first")
    fixture.write_text(edited((r"teeth 24", "teeth 26"), path=fixture), "utf-8")
    return tmp_path


def command(folder: Path, *words: str) -> str:
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "compiler"), "GIT_CONFIG_GLOBAL": os.devnull, "PATH": os.environ["PATH"]}
    for role in ("AUTHOR", "COMMITTER"):
        environment |= {f"GIT_{role}_NAME": "nobody", f"GIT_{role}_EMAIL": "nobody@example.org"}
    done = subprocess.run(words, cwd=folder, env=environment, capture_output=True, encoding="utf-8", timeout=120, check=False)
    assert done.returncode == 0, (words, done.stdout, done.stderr)
    return done.stdout


def test_a_revision_is_read_with_the_files_that_it_reads(repository: Path) -> None:
    shop = repository / "plans" / "shared" / "shop.trivet"
    shop.write_text(shop.read_text("utf-8").replace("pocket", "#pocket", 1), "utf-8")
    said = command(repository / "plans", sys.executable, "-m", "trivet", "compare", "--git", "HEAD", "small_riser.trivet")
    assert said.startswith("from small_riser.trivet at HEAD to small_riser.trivet\n")
    command(repository, "git", "checkout", "-q", "plans/shared/shop.trivet")
    said = command(repository, sys.executable, "-m", "trivet", "compare", "--git", "HEAD", "plans/small_riser.trivet")
    assert "lift per turn" in said and "26 teeth instead of 24" in said
    command(repository, "git", "commit", "-qam", "second")
    said = command(repository, sys.executable, "-m", "trivet", "compare", "--git", "HEAD~1..HEAD", "plans/small_riser.trivet")
    assert "26 teeth instead of 24" in said


def test_git_takes_it_as_its_diff_driver(repository: Path) -> None:
    driver = f'"{sys.executable}" -m trivet compare'
    (repository / ".gitattributes").write_text("*.trivet diff=trivet\n", "utf-8")
    said = command(repository, "git", "-c", f"diff.trivet.command={driver}", "diff")
    assert "26 teeth instead of 24" in said and "plans/small_riser.trivet" in said
    command(repository, "git", "mv", "plans/small_riser.trivet", "plans/low_riser.trivet")
    said = command(repository, "git", "-c", f"diff.trivet.command={driver}", "diff", "-M", "HEAD")
    assert "low_riser.trivet" in said
    shop = repository / "plans" / "shared" / "shop.trivet"
    shop.write_text(shop.read_text("utf-8") + "\n# a remark\n", "utf-8")
    said = command(repository, "git", "-c", f"diff.trivet.command={driver}", "diff", "--", "plans/shared/shop.trivet")
    assert "holds no fixture of its own" in said


def test_a_file_that_came_or_went(capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["compare", "a.trivet", os.devnull, ".", ".", str(RISER), "1234567890", "100644"]
    assert main(arguments) == 0
    assert "is new" in capsys.readouterr().out
