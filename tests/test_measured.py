"""The filled inspection card: what it changes, which way, and what is wrong with it."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.bench_fixture import EXAMPLES, card, card_text, cut, solved, solved_text

from trivet.card import read_card
from trivet.card_cells import cells_of
from trivet.cli import main
from trivet.solve.binding import binding
from trivet.solve.inspection import readings
from trivet.solve.measured import measured
from trivet.source import SourceFile

RISER = "outfeed_riser"
NAMES = ("dog_table", "fine_lift", "inch_table", "outfeed_riser", "small_riser", "tripod")


def backlash(name: str, mesh: str, filled: dict[str, str]) -> tuple[float, float]:
    """Planned and measured."""
    before = next(item for item in solved(name)[1].train.meshes if item.id == mesh)
    after = next(item for item in cut(name, filled).derived.train.meshes if item.id == mesh)
    return before.backlash.nominal_mm, after.backlash.nominal_mm


@pytest.mark.parametrize("name", NAMES)
def test_a_card_as_expected_changes_nothing(name: str) -> None:
    design, derived = solved(name)
    rows = readings(design, derived)
    read = card(name, card_text(name, as_expected=True))
    assert not read.faults and not read.limits and len(read.filled) == len(rows)
    found = measured(design, derived, rows, read.filled)
    assert found.design == design
    assert found.derived.train.meshes == derived.train.meshes
    assert found.derived.lift == derived.lift
    assert not found.apart


def test_every_row_has_an_id_of_its_own_and_limits_round_its_figure() -> None:
    for name in NAMES:
        rows = readings(*solved(name))
        assert len({row.row for row in rows}) == len(rows)
        assert all(row.least_mm <= row.nominal_mm <= row.most_mm and row.why for row in rows)


def test_a_thick_tooth_takes_backlash() -> None:
    """W grows by 0.1: the tooth by 0.1/cos 20 deg on the reference circle, and on standard centres the backlash shrinks by as much."""
    before, after = backlash(RISER, "hub-west", {"west.span": "45.83"})
    assert before - after == pytest.approx(0.1 / math.cos(math.radians(20.0)), abs=1e-6)


def test_places_of_one_span_count_by_their_mean() -> None:
    before, after = backlash(RISER, "hub-west", {"west.span": "45.73 45.83; 45.93"})
    assert before - after == pytest.approx(0.1 / math.cos(math.radians(20.0)), abs=1e-6)


def test_near_centres_take_backlash() -> None:
    """j grows by about 2 tan a for each mm: 0.728 mm at 20 deg."""
    before, after = backlash(RISER, "hub-west", {"hub-west.centres": "114.60"})
    assert before - after == pytest.approx(0.1 * 2.0 * math.tan(math.radians(20.0)), abs=0.002)
    assert backlash(RISER, "west-nw", {"hub-west.centres": "114.60"})[1] == pytest.approx(0.5)


def test_measured_holes_are_taken_off_the_reading_of_centres() -> None:
    """Holes larger by 0.1 and 0.06 push the reading out by 0.08: the centres stand where they should."""
    filled = {
        "hub-west.centres": "114.78", "deck.hole-for-the-drive-bolt-crank": "8.50", "deck.pilot-hole-for-pin": "5.06 5.06",
    }  # fmt: skip
    before, after = backlash(RISER, "hub-west", filled)
    assert after == pytest.approx(before, abs=1e-6)


def test_a_wide_bore_wanders_more() -> None:
    """Half of 0.1 mm either way, times 2 tan aw + j/A, at the worst only. There the centres are nearer and aw is about 19 deg: up to a tenth less."""
    after = {item.id: item for item in cut(RISER, {"west.bore": "6.55"}).derived.train.meshes}
    before = {item.id: item for item in solved(RISER)[1].train.meshes}
    assert after["hub-west"].backlash.nominal_mm == before["hub-west"].backlash.nominal_mm
    lost = before["hub-west"].backlash.min_mm - after["hub-west"].backlash.min_mm
    assert lost == pytest.approx(0.05 * (2.0 * math.tan(math.radians(20.0)) + 0.5 / 108.0), rel=0.1)
    assert after["hub-east"] == before["hub-east"]


def test_of_a_laminated_gear_the_tightest_bore_and_the_thickest_teeth_count() -> None:
    """Bores of 6.50 and 6.60 for 6.45 planned leave the play of 6.50; spans of 45.73 and 45.83 the teeth of 45.83."""
    text = (
        (EXAMPLES / "outfeed_riser.trivet").read_text(encoding="utf-8").replace("  turns_on pin\n", "  turns_on pin\n  layers 2\n")
    )
    design, derived = solved_text(text)
    rows = readings(design, derived)
    filled = {"west.layer1.bore": (6.50,), "west.layer2.bore": (6.60,), "west.layer1.span": (45.73,), "west.layer2.span": (45.83,)}
    assert filled.keys() <= {row.row for row in rows}
    before, after = derived.train.gear("west"), measured(design, derived, rows, filled).derived.train.gear("west")
    assert after.hole_mm - before.hole_mm == pytest.approx(0.05)
    thicker = after.geometry.thickness_mm - before.geometry.thickness_mm
    assert thicker == pytest.approx(0.1 / math.cos(math.radians(20.0)))


def height_at_zero(filled: dict[str, str]) -> float:
    """How much higher the first foot stands at no extension than planned."""
    return cut(RISER, filled).derived.feet[0].height_at_zero_mm - solved(RISER)[1].feet[0].height_at_zero_mm


def test_a_shallow_pocket_lets_the_head_stand_out() -> None:
    """All four pockets 0.2 mm shallow: head and pad stand 0.2 mm further out. One of four measured so counts for a quarter."""
    filled = {f"{gear}.hex-pocket.depth": "5.60" for gear in ("nw", "ne", "sw", "se")}
    assert height_at_zero(filled) == pytest.approx(0.2, abs=1e-6)
    assert height_at_zero({"nw.hex-pocket.depth": "5.60"}) == pytest.approx(0.05, abs=1e-6)


def test_a_thin_sheet_lowers_everything_by_its_layers() -> None:
    """Board and gear are one sheet: both 0.2 mm thinner take 0.4 mm off the greatest height less what the travel gains."""
    found = cut(RISER, {"ply18.thickness": "17.4 17.6 17.8"})
    thick = found.design.sheets[0].thickness
    assert (thick.mean, thick.least, thick.most) == pytest.approx((17.6, 17.4, 17.8))
    zero = found.derived.feet[0].height_at_zero_mm
    assert solved(RISER)[1].feet[0].height_at_zero_mm - zero == pytest.approx(0.4, abs=1e-6)


def test_one_reading_of_a_sheet_keeps_its_spread() -> None:
    thick = cut(RISER, {"ply18.thickness": "17.7"}).design.sheets[0].thickness
    assert (thick.mean, thick.least, thick.most) == pytest.approx((17.7, 17.5, 17.9))


def test_a_longer_sleeve_gives_play() -> None:
    before = {item.id: item.play.mean for item in solved("fine_lift")[1].pivots}
    filled = {row: _plus(row, 0.1) for row in (f"{name}.sleeve" for name in before)}
    after = {item.id: item.play.mean for item in cut("fine_lift", filled).derived.pivots}
    assert after.keys() == before.keys()
    for name, play in after.items():
        assert play - before[name] == pytest.approx(0.1, abs=1e-6)


def _plus(row: str, mm: float) -> str:
    return f"{next(item.nominal_mm for item in readings(*solved('fine_lift')) if item.row == row) + mm:.2f}"


def test_less_backlash_binds_more_often() -> None:
    filled = {f"{name}.span": "45.83" for name in ("west", "east", "nw", "ne", "sw", "se")} | {"hub.span": "27.78"}
    found = cut(RISER, filled)
    planned, now = binding(*solved(RISER), draws=20_000).chance, binding(found.design, found.derived, draws=20_000).chance
    assert planned is not None and now is not None and now > 5.0 * planned


def test_inch_cards_are_read_in_inches() -> None:
    """0.004 in over the span, as a decimal with its unit, in mm, and as a fraction of the nearest reading."""
    row = next(item for item in readings(*solved("inch_table")) if item.row == "hub.span")
    inches = row.nominal_mm / 25.4
    one = backlash("inch_table", "hub-ne", {"hub.span": f"{inches + 0.003:.4f}"})
    two = backlash("inch_table", "hub-ne", {"hub.span": f"{row.nominal_mm + 0.0762:.3f} mm"})
    assert one[0] - one[1] == pytest.approx(0.0762 / math.cos(math.radians(20.0)), abs=0.002)
    assert two[1] == pytest.approx(one[1], abs=0.004)
    assert card("inch_table", card_text("inch_table", {"ply34.thickness": "45/64"})).filled["ply34.thickness"] == pytest.approx(
        (45 / 64 * 25.4,)
    )


WRONG = (
    ("45,83", "reading-form", "decimals have a point"),
    ("45.8x", "reading-form", "write a number"),
    ("=1+1", "reading-form", "write a number"),
    ("nan", "reading-form", "write a number"),
    ("1e3", "reading-form", "write a number"),
    ("-45.7", "reading-form", "write a number"),
    ("٤٥", "reading-form", "write a number"),
    ("45.7mm", "reading-form", "put a space before the unit"),
    ("45.7 mm 1.8 in", "reading-form", "one unit"),
    ("mm", "reading-form", "write a number"),
    ("9" * 400, "reading-form", "write a number"),
    ("1/0", "reading-form", "write a number"),
    ("1.80", "reading-not-believable", "write the unit behind it, `in`"),
    ("54.73", "reading-not-believable", "measure again"),
)


@pytest.mark.parametrize(("cell", "rule", "remedy"), WRONG)
def test_wrong_cells_are_findings_at_their_place(cell: str, rule: str, remedy: str) -> None:
    text = card_text(RISER, {"west.span": cell})
    read = card(RISER, text)
    assert [item.rule for item in read.faults] == [rule]
    fault = read.faults[0]
    assert remedy in fault.remedy and fault.span is not None
    assert "west.span" in text[: fault.span.start].rpartition("\n")[2]


def test_limits_are_a_warning_and_both_ends_are_looked_at() -> None:
    read = card(RISER, card_text(RISER, {"west.span": "45.50 45.90"}))
    assert not read.faults
    assert [(item.rule, item.severity) for item in read.limits] == [("reading-out-of-limits", "warning")] * 2
    at_the_limit = card(RISER, card_text(RISER, {"west.span": "45.63 45.83"}))
    assert not at_the_limit.limits


def test_unknown_rows_units_twice_and_no_card() -> None:
    def rules(text: str) -> list[str]:
        return [item.rule for item in card(RISER, text).faults]

    assert rules("row,unit,measured\nwest.spam,mm,45.7\n") == ["unknown-reading"]
    assert "west.span" in card(RISER, "row,unit,measured\nwest.spam,mm,45.7\n").faults[0].remedy
    assert rules("row,unit,measured\n,mm,45.7\n") == ["unknown-reading"]
    assert rules("row,unit,measured\nwest.span,furlong,45.7\n") == ["reading-form"]
    assert rules("row,unit,measured\nwest.span,mm,45.7\nwest.span,mm,45.7\n") == ["reading-given-twice"]
    assert rules("a,b\n1,2\n") == ["card-not-understood"]
    assert rules("") == ["card-not-understood"]
    assert rules("row,unit,measured\nwest.span,mm\nwest.span\n") == []


def test_a_card_of_another_plan_is_said_once() -> None:
    text = card_text(RISER, as_expected=True).replace(",132.00,", ",131.00,")
    found = card(RISER, text).faults
    assert [item.rule for item in found].count("card-of-another-plan") == 1
    assert "131.00" in found[0].message and "132.00 mm" in found[0].message


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_cards_of_any_spreadsheet(separator: str) -> None:
    text = f"\ufeffrow{separator}unit{separator}measured\r\nwest.span{separator}mm{separator}45.80\r\n"
    assert card(RISER, text).filled == {"west.span": pytest.approx((45.8,))}


@given(st.text(max_size=300))
def test_any_text_is_read_to_its_end(text: str) -> None:
    file = SourceFile("card.csv", text)
    for line in cells_of(file):
        for cell in line:
            assert 0 <= cell.span.start <= cell.span.end <= len(text)
    design, derived = solved(RISER)
    read_card(file, readings(design, derived), "mm")


@given(st.text(alphabet="0123456789.,;/- inm\"'=", max_size=20))
def test_any_cell_is_a_reading_or_a_finding(cell: str) -> None:
    read = card(RISER, f'row,unit,measured\nwest.span,mm,"{cell.replace(chr(34), chr(34) * 2)}"\n')
    values = read.filled.get("west.span", ())
    assert all(math.isfinite(mm) and abs(mm - 45.73) < 2.0 for mm in values)
    assert bool(values) or bool(read.faults) or not cell.strip()


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    fixture = str(EXAMPLES / "outfeed_riser.trivet")
    filled = tmp_path / "card.csv"
    filled.write_text(card_text(RISER, {"west.span": "45.83"}), encoding="utf-8")
    assert main(["check", fixture, "--measured", str(filled)]) == 0
    said = capsys.readouterr().out
    assert "measured: 1 of " in said and "backlash hub west: 0.5 -> 0.39 mm" in said and "binds: about 1 in" in said
    filled.write_text(card_text(RISER, {"west.bore": "6.55"}), encoding="utf-8")
    assert main(["check", fixture, "--measured", str(filled)]) == 0
    assert re.search(r"backlash hub west: 0\.5 mm; at worst -0\.\d+ -> -0\.\d+ mm", capsys.readouterr().out)
    filled.write_text(card_text(RISER, {"west.span": "45,83"}), encoding="utf-8")
    assert main(["check", fixture, "--measured", str(filled)]) == 1
    assert "card.csv:" in capsys.readouterr().out
    filled.write_text(card_text(RISER, as_expected=True), encoding="utf-8")
    assert main(["check", fixture, "--measured", str(filled)]) == 0
    assert "nothing changes" in capsys.readouterr().out
    assert main(["check", fixture, "--measured", str(tmp_path / "none.csv")]) == 2
    assert "there is no such file" in capsys.readouterr().out
    filled.write_text(card_text(RISER, {"hub-west.centres": "113.60"}), encoding="utf-8")
    assert main(["check", fixture, "--measured", str(filled)]) == 1
    assert "mesh-binds" in capsys.readouterr().out
    assert main(["check", fixture, "--measured", str(filled), "--over"]) == 2
