"""A placement kept beside the fixture: used again while it holds, said when it does not, never trusted blindly."""

from __future__ import annotations

import contextlib
import io
import json
import sys
from pathlib import Path
from typing import Any

import pytest
from tests.fixture_text import compiled
from tests.test_nest import least_distance, outlines

from trivet.checks._examples import BASE
from trivet.cli import main
from trivet.solve.nest import nest
from trivet.solve.nest_job import jobs_of
from trivet.solve.nest_kept import NotKept, kept_nest, kept_record
from trivet.solve.nest_thorough import thorough_nest


def run(*arguments: str) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(["compile", "base.trivet", *arguments])
    return code, out.getvalue(), err.getvalue()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "base.trivet").write_text(BASE, encoding="utf-8")
    return tmp_path


def kept(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "base.placement.json").read_text(encoding="utf-8"))
    return found


def came_from(folder: Path) -> str:
    report = json.loads((folder / "out/base/report.json").read_text(encoding="utf-8"))
    return str(report["nest"]["came_from"])


def test_kept_and_used_again_with_the_same_bytes(folder: Path) -> None:
    code, said, err = run("--keep-placement")
    assert code == 0 and not err and "kept where the parts lie in base.placement.json" in said
    first = {path.name: path.read_bytes() for path in (folder / "out/base/sheets").iterdir()}
    assert came_from(folder) == "computed" and len(first) >= 2
    code, said, _ = run()
    assert code == 0 and "sheets: laid as kept in base.placement.json" in said
    assert came_from(folder) == "kept"
    assert {path.name: path.read_bytes() for path in (folder / "out/base/sheets").iterdir()} == first
    inputs = json.loads((folder / "out/base/manifest.json").read_text(encoding="utf-8"))["inputs"]
    assert "base.placement.json" in json.dumps(inputs)


def test_a_placement_moved_by_hand_is_used_as_far_as_it_holds(folder: Path) -> None:
    run("--keep-placement")
    record = kept(folder)
    # The piece that reaches furthest along the sheet has free sheet beyond it.
    piece = max(record["sheets"][0]["pieces"], key=lambda item: item["x_mm"] if item["part"] != "deck" else 0.0)
    piece["x_mm"] += 150.0
    (folder / "base.placement.json").write_text(json.dumps(record), encoding="utf-8")
    _, said, _ = run()
    assert "laid as kept" in said
    report = json.loads((folder / "out/base/report.json").read_text(encoding="utf-8"))
    moved = next(item for item in report["sheets"][0]["pieces"] if item["part"] == piece["part"])
    assert moved["x_mm"] == piece["x_mm"]


def _onto_another(record: dict[str, Any]) -> None:
    a, b = [item for item in record["sheets"][0]["pieces"] if item["part"] in ("nw", "se")]
    a["x_mm"], a["y_mm"] = b["x_mm"] + 1.0, b["y_mm"]


def _over_the_edge(record: dict[str, Any]) -> None:
    record["sheets"][0]["pieces"][0]["x_mm"] += 5000.0


def _not_a_number(record: dict[str, Any]) -> None:
    record["sheets"][0]["pieces"][0]["x_mm"] = float("nan")


def _twice(record: dict[str, Any]) -> None:
    record["sheets"][0]["pieces"].append(dict(record["sheets"][0]["pieces"][0]))


def _no_sheets(record: dict[str, Any]) -> None:
    record["sheets"] = 7


def _other_parts(record: dict[str, Any]) -> None:
    record["holds"] = "sha256:0"


def _other_form(record: dict[str, Any]) -> None:
    record["form"] = 99


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (_onto_another, "lays parts too near to each other"), (_over_the_edge, "lays a part over the edge of its sheet"),
        (_not_a_number, "lays a part over the edge of its sheet"), (_twice, "is damaged"), (_no_sheets, "is damaged"),
        (_other_parts, "is for other parts or sheets than these"), (_other_form, "is not in a form that this version reads"),
    ],
)  # fmt: skip
def test_one_that_does_not_hold_is_refused(spoil: Any, words: str) -> None:
    found = compiled(BASE)
    assert found.design is not None and found.derived is not None
    jobs = jobs_of(found.design, found.derived)
    record = json.loads(json.dumps(kept_record(jobs, nest(found.design, found.derived))))
    assert kept_nest(jobs, record).came_from == "kept"
    spoil(record)
    with pytest.raises(NotKept, match=f"^{words}$"):
        kept_nest(jobs, record)


def test_text_that_is_no_placement_is_said(folder: Path) -> None:
    (folder / "base.placement.json").write_text("[" * 100_000, encoding="utf-8")
    code, said, _ = run()
    assert code == 0 and "is not in a form that this version reads" in said


def test_a_change_of_a_part_makes_it_stale_and_keeping_replaces_it(folder: Path) -> None:
    run("--keep-placement")
    before = kept(folder)["holds"]
    (folder / "base.trivet").write_text(BASE.replace("480 by 350 mm", "482 by 350 mm"), encoding="utf-8")
    _, said, _ = run("--keep-placement")
    assert "is for other parts or sheets than these" in said and "kept where the parts lie" in said
    assert kept(folder)["holds"] != before
    _, said, _ = run()
    assert "laid as kept" in said


def test_a_change_that_cuts_nothing_else_keeps_it(folder: Path) -> None:
    run("--keep-placement")
    (folder / "base.trivet").write_text(BASE.replace("fixture base\n", 'fixture base\n  title "Named"\n'), encoding="utf-8")
    _, said, _ = run()
    assert "laid as kept" in said


def test_a_thorough_search_holds_and_is_no_worse() -> None:
    found = compiled(BASE)
    assert found.design is not None and found.derived is not None
    usual, better = nest(found.design, found.derived), thorough_nest(found.design, found.derived, seconds=1)
    assert better.came_from == "thorough" and len(better.sheets) == len(usual.sheets) == 1
    assert better.sheets[0].used_mm[2] <= usual.sheets[0].used_mm[2] + 0.01
    assert least_distance(outlines(better)) >= better.sheets[0].spacing_mm - 0.011
    assert sorted(item.part for item in better.sheets[0].lying) == sorted(item.part for item in usual.sheets[0].lying)


def test_without_the_engine_a_thorough_search_says_what_it_needs(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "spyrrow", None)
    code, _, err = run("--nest", "thorough")
    assert code == 2 and not (folder / "out").exists()
    assert err == "the thorough search needs the package `spyrrow`: pip install 'trivet[nest]'\n"
