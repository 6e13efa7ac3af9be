"""A plan tried over its ranges, against sums by hand and against the same plan with the numbers written into its text.

The base without sleeves, board and gears from one sheet of t +/- 0.2 mm, as in test_require: with thin sheets the tip bounds the least
extension, e >= 6 + 30.5 - 2 (t - 0.2), and the teeth the most, e <= 1.4 + (t - 0.2) / 2. At t = 17: 2.9 and 9.8, travel 6.9 mm.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.edited_base import NO_SLEEVE, findings

from trivet.checks._examples import example_text
from trivet.cli import main
from trivet.commands._progress import Progress
from trivet.files import MemoryFiles
from trivet.inputs import read_parts
from trivet.over import MOST_CORNERS, Over, over
from trivet.over_ranges import corners, varied
from trivet.pipeline import check_parts
from trivet.source import SourceFile

SHEET = "-   thickness 17.8 +/- 0.2 mm\n+   thickness 17.8 +/- 0.2 mm\n+   for_sheets {}\n"
PLAY = "+ parameter slack 0.5 mm, within {}\n-   backlash 0.5 mm\n+   backlash slack\n"


def tried(edits: str, settings: dict[str, str] | None = None, **more: object) -> Over:
    source = SourceFile("plan.trivet", example_text(edits))
    parts, found = read_parts(source, MemoryFiles({}), None)
    first = check_parts(parts, found, settings or {}, full=False)
    assert first.design is not None, first.findings
    return over(parts, found, settings or {}, first.design, **more)


def plan(*, sheets: str = "17.0..18.2 mm", play: str = "0.4..0.8 mm", require: str = "") -> str:
    lines = PLAY.format(play).splitlines(keepends=True)
    return "".join((lines[0], require, *lines[1:], SHEET.format(sheets), NO_SLEEVE))


def test_corners_are_all_ends_together() -> None:
    found = tried(plan())
    assert found.corners_of == len(found.corners) == 4
    assert [dict(case.settings) for case in found.corners] == [
        {"slack": slack, "ply18.thickness": t} for slack in ("0.4 mm", "0.8 mm") for t in ("17 mm", "18.2 mm")
    ]
    assert found.proven and found.words.startswith("proven over slack 0.4 mm to 0.8 mm, ply18.thickness 17 mm to 18.2 mm")


def test_worst_travel_by_hand() -> None:
    found = tried(plan())
    assert found.least_travel is not None and found.least_travel.travel_mm is not None
    assert dict(found.least_travel.settings)["ply18.thickness"] == "17 mm"
    assert found.least_travel.travel_mm == pytest.approx((1.4 + 16.8 / 2) - (6 + 30.5 - 2 * 16.8))


def test_a_corner_is_what_the_text_with_its_numbers_says() -> None:
    """The same numbers written as facts, through the whole pipeline."""
    require = "+ require travel >= 7 mm\n"
    corner = tried(plan(require=require)).corners[0]
    written = f"{require}-   backlash 0.5 mm\n+   backlash 0.4 mm\n-   thickness 17.8 +/- 0.2 mm\n+   thickness 17 +/- 0.2 mm\n{NO_SLEEVE}"
    errors = [item for item in findings(written) if item.severity == "error" and not item.accepted]
    assert [(item.rule, item.message, item.remedy) for item in corner.failing] == [
        (item.rule, item.message, item.remedy) for item in errors if item.rule != "train-binds"
    ]
    assert errors


def test_the_worst_between_is_found_where_no_corner_fails() -> None:
    """17.8 and 19.0 mm take wood screws of 25 and 32 mm; near 18.5 mm neither does, which only the scan between sees."""
    found = tried(SHEET.format("17.8..19.0 mm") + NO_SLEEVE)
    assert all(case.holds for case in found.corners)
    assert found.failing and not found.proven
    assert {item.rule for case in found.failing for item in case.failing} == {"no-bolt-fits"}
    thick = [float(dict(case.settings)["ply18.thickness"].split()[0]) for case in found.failing]
    for t, fails in ((18.3, False), (18.5, True), (18.8, False)):
        written = f"-   thickness 17.8 +/- 0.2 mm\n+   thickness {t} +/- 0.2 mm\n{NO_SLEEVE}"
        assert fails == any(item.rule == "no-bolt-fits" for item in findings(written))
    assert min(thick) > 18.3 and max(thick) < 18.8
    assert "0 of 2 corners" in found.words


def test_choices_and_counts() -> None:
    edits = (
        "+ parameter screw one_of M8, M10\n+ parameter z 16, within 14..18\n-   teeth 16\n+   teeth z\n"
        "- drive crank\n+ drive crank\n+   thread screw\n"
    )
    text = example_text(edits).replace("  thread screw\n  thread M8\n", "  thread screw\n")
    source = SourceFile("plan.trivet", text)
    parts, found = read_parts(source, MemoryFiles({}), None)
    design = check_parts(parts, found, {}, full=False).design
    assert design is not None
    choice, count = varied(design, {})
    assert choice.choices == ("M8", "M10") and choice.between() == ()
    assert count.whole and [count.at(share) for share in count.between()] == ["15", "16", "17"]
    result = over(parts, found, {}, design)
    assert result.corners_of == 4
    assert all("." not in dict(case.settings)["z"] for case in result.inside) and len(result.inside) == 6


def test_what_is_set_does_not_vary() -> None:
    found = tried(plan(), {"slack": "0.6 mm"})
    assert [item.name for item in found.ranges] == ["ply18.thickness"]
    assert found.corners_of == 2


def test_above_the_bound_a_stated_part_is_run() -> None:
    source = "".join(f"parameter p{index} 0.5 mm, within 0.4..0.8 mm\n" for index in range(10))
    text = example_text("").replace("fixture base", f"{source}fixture base")
    parts, found = read_parts(SourceFile("plan.trivet", text), MemoryFiles({}), None)
    design = check_parts(parts, found, {}, full=False).design
    assert design is not None
    chosen, total = corners(varied(design, {}), MOST_CORNERS)
    assert total == 2**10 and len(chosen) == len(set(chosen)) == MOST_CORNERS
    texts = [tuple(text for _, text in at) for at in chosen]
    assert texts[:2] == [("0.4 mm",) * 10, ("0.8 mm",) * 10]
    assert sorted(texts[2:22]) == sorted(
        ("0.5 mm",) * k + (end,) + ("0.5 mm",) * (9 - k) for k in range(10) for end in ("0.4 mm", "0.8 mm")
    )


def test_a_sheet_outside_its_range_is_refused() -> None:
    for value, rule in (("16.9 mm", "setting-out-of-range"), ("17", "setting-form"), ("17 deg", "setting-form")):
        parts, found = read_parts(SourceFile("plan.trivet", example_text(plan())), MemoryFiles({}), None)
        (item,) = check_parts(parts, found, {"ply18.thickness": value}, full=False).findings
        assert item.rule == rule, value


@pytest.mark.parametrize("fact", ["for_sheets 18.0..18.6 mm", "for_sheets 0.1..18 mm", "for_sheets 17..18 deg", "for_sheets 17 mm"])
def test_wrong_ranges_of_a_sheet(fact: str) -> None:
    edits = f"-   thickness 17.8 +/- 0.2 mm\n+   thickness 17.8 +/- 0.2 mm\n+   {fact}\n"
    parts, found = read_parts(SourceFile("plan.trivet", example_text(edits)), MemoryFiles({}), None)
    result = check_parts(parts, found, {}, full=False)
    assert result.design is None and len(result.findings) == 1
    assert result.findings[0].span is not None


@pytest.mark.parametrize(("fact", "wrong"), [("up_to 6.35 mm", False), ("up_to 5 mm", True)])
def test_cutters(fact: str, wrong: bool) -> None:
    edits = f"-   diameter 6 mm\n+   diameter 6 mm\n+   {fact}\n"
    parts, found = read_parts(SourceFile("plan.trivet", example_text(edits)), MemoryFiles({}), None)
    result = check_parts(parts, found, {"straight6.diameter": "6.35 mm"}, full=False)
    assert (result.design is None) == wrong
    if result.design is not None and result.design.cutters[0].diameter is not None:
        assert result.design.cutters[0].diameter.mm == 6.35


class TestCommand:
    @pytest.fixture(autouse=True)
    def _in_an_empty_folder(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(tmp_path)

    def run(self, edits: str, *more: str) -> int:
        Path("plan.trivet").write_text(example_text(edits), encoding="utf-8")
        return main(["check", "plan.trivet", "--over", *more])

    def test_a_plan_that_holds(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert self.run(plan()) == 0
        out = capsys.readouterr().out.splitlines()
        assert out[-1].startswith("proven over ") and sum(line.startswith("  corner ") for line in out) == 4

    def test_the_printed_command_shows_the_finding(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert self.run(plan(require="+ require travel >= 7 mm\n")) == 1
        out = capsys.readouterr().out
        (line,) = [line for line in out.splitlines() if "to see it: " in line]
        command = line.partition("to see it: trivet ")[2]
        import shlex

        assert main(shlex.split(command)) == 1
        again = capsys.readouterr().out
        (message,) = [item for item in out.splitlines() if "[require-not-met]" in item]
        assert message in again

    def test_json(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert self.run(plan(require="+ require travel >= 7 mm\n"), "--report", "json") == 1
        facts = json.loads(capsys.readouterr().out)
        assert facts["status"] in ("clean", "findings") and not facts["over"]["proven"]
        assert [row["holds"] for row in facts["over"]["corners"]] == [False, True, False, True]
        assert facts["over"]["corners"][0]["travel_worst_mm"] == pytest.approx(6.9)

    def test_nothing_to_vary(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert self.run("") == 0
        assert "declares no range" in capsys.readouterr().out

    def test_wrong_use(self) -> None:
        with pytest.raises(SystemExit) as end:
            self.run("", "--full")
        assert end.value.code == 2
        assert self.run("", "--report", "sarif") == 2

    def test_stopping_says_how_far_it_came(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        def stop(self: Progress, done: int, of: int) -> None:
            self.done, self.of = done, of
            if done == 3:
                raise KeyboardInterrupt

        monkeypatch.setattr(Progress, "__call__", stop)
        assert self.run(plan()) == 2
        streams = capsys.readouterr()
        assert "stopped after 3 of at most " in streams.err and not streams.out


def test_the_bar_waits_a_second_and_leaves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    import io
    import sys

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    times = iter((0.0, 0.5, 1.2, 1.25, 1.5))
    monkeypatch.setattr(sys, "stderr", Terminal())
    bar = Progress("places", lambda: next(times))
    written = []
    for done in (1, 2, 3, 4):
        bar(done, 4)
        written.append(sys.stderr.getvalue())
    bar.clear()
    assert not written[0] and "2 of at most 4 places" in written[1] and written[2] == written[1] and "4 of at most 4" in written[3]
    assert sys.stderr.getvalue().endswith(" \r")


@pytest.mark.parametrize(
    ("shop", "outside"),
    [
        ("sheet ply18\n  thickness 18.9 +/- 0.1 mm\n", True),
        ("sheet ply18\n  thickness 18.1 +/- 0.1 mm\n", False),
        ("cutter straight6\n  diameter 7 mm\n  reach 25 mm\n", True),
        ("cutter straight6\n  diameter 5 mm\n  reach 25 mm\n", False),
    ],
)
def test_what_a_shop_brings_from_outside_the_plan(shop: str, outside: bool) -> None:
    edits = "-   diameter 6 mm\n+   diameter 6 mm\n+   up_to 6.35 mm\n" + SHEET.format("17.0..18.6 mm")
    brought = SourceFile("mine.trivet", shop)
    parts, found = read_parts(SourceFile("plan.trivet", example_text(edits)), MemoryFiles({}), brought)
    warned = [item for item in check_parts(parts, found, {}, full=False).findings if item.rule == "outside-the-plan"]
    assert bool(warned) == outside
    for item in warned:
        assert item.span is not None and item.span.file is brought and item.related[0].span is not None
        assert item.related[0].span.file is not brought
