"""Facts that cannot be, in a first fixture: each is refused at its place, and the remedy works when applied."""

from __future__ import annotations

import re

import pytest
from tests.newcomer import BASE, errors, marked, only

from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.pipeline import check
from trivet.source import SourceFile

ROW = "row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5"
CAPTURED = """
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 620 by 500 mm, corner_radius 12 mm
- kind riding
+   kind captured_nut
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   rod DIN 976-1, length 60 mm
+   nut ISO 4032, pocket underside
+   held_by keeper, stock ply18, outline rectangle 170 by 70 mm
+   rod_stop cross_pin 3 mm
- insert my_insert, driven_from topside, flush underside
"""


def test_base_is_in_order() -> None:
    """What follows is measured against a file without an error."""
    assert not errors(BASE)
    assert not errors(example_text(CAPTURED))


def test_a_deviation_larger_than_the_sheet() -> None:
    """17.8 - 20 = -2.2."""
    assert "-2.2 mm" in only("17.8 +/- 0.2 mm", "17.8 +/- 20 mm").message


def test_a_gear_that_nothing_holds() -> None:
    """All four ways are shown: a second drive would be wrong for an idler."""
    found = errors(BASE.replace("  turns_on pin\n", ""))
    assert len(found) == 2
    assert all("`turns_on pin`" in item.remedy and "`turned_by crank`" in item.remedy for item in found)


INSERTS = (
    ("row M8, 16.0 +/- 0.1, 15, 15, 4, 13.5", "live thread from 15 mm to 4 mm"),
    ("row M8, 16.0 +/- 0.1, 15, 4, 25, 13.5", "15 mm long; its live thread ends at 25 mm"),
    ("row M8, 16.0 +/- 0.1, 15, 4, 15, 15.9", "15.9 mm outside; its hole of 15.9 mm"),
)


@pytest.mark.parametrize(("row", "said"), INSERTS)
def test_a_row_of_an_insert_that_cannot_be(row: str, said: str) -> None:
    """Live thread backwards, longer than the insert, a hole as wide as the insert at its thinnest (16.0 - 0.1)."""
    found = only(ROW, row)
    assert (found.rule, marked(found)) == ("value-not-allowed", "my_insert")
    assert said in found.message


def test_sizes_beside_a_standard_must_be_the_threads() -> None:
    """A rod or nut of another size was passed over in silence before."""
    text = example_text(CAPTURED)
    for old, new in (("rod DIN 976-1", "rod DIN 976-1 M10"), ("nut ISO 4032", "nut ISO 4032 M10")):
        found = only(old, new, text)
        assert (found.rule, marked(found), found.remedy.split(":")[0]) == ("facts-exclude", "M10", f"write `{old}`")
        assert not errors(text.replace(old, f"{old} M8"))


def test_a_cross_pin_as_thick_as_the_rod() -> None:
    """The core of M8 is 6.647 mm (ISO 724, internal minor diameter, from memory: the library's row); half that is not refused."""
    text = example_text(CAPTURED)
    assert only("cross_pin 3 mm", "cross_pin 6.7 mm", text).rule == "value-not-allowed"
    assert not [item for item in errors(text.replace("cross_pin 3 mm", "cross_pin 6.6 mm")) if item.rule == "value-not-allowed"]


def test_the_keepers_stock_is_one_that_the_file_has() -> None:
    """The remedy works when it is applied."""
    text = example_text(CAPTURED).replace("ply18", "birch")
    found = only("held_by keeper, stock birch,", "held_by keeper,", text)
    assert found.remedy == "add `stock birch`"


def test_a_sleeve_that_does_not_go_over_its_bolt() -> None:
    """ST6.3 is 6.25 mm over the thread (ISO 1478, from memory); a tube of 6 mm outside has no wall."""
    assert only("sleeve outside 8 mm", "sleeve outside 6 mm").rule == "value-not-allowed"


def test_a_pivots_bolt_has_a_nut() -> None:
    """Nothing else holds a bolt in its hole."""
    swapped = BASE.replace("screw ISO 7049, head recessed 7 mm\n  drill 5 mm", "bolt ISO 4017, head recessed 7 mm").replace(
        "ST6.3", "M6"
    )
    found = errors(swapped)
    assert [(item.rule, marked(item)) for item in found] == [("missing-fact", "pin")]


def test_a_screw_whose_lengths_are_not_known() -> None:
    """It is said at the standard, and both remedies work: the newer standard, and a table of one's own."""
    found = only("screw ISO 4017", "screw DIN 933")
    assert (found.rule, marked(found)) == ("no-such-hardware", "DIN 933")
    assert "write `ISO 4017`" in found.remedy
    shown = re.findall("`([^`]+)`", found.remedy)
    heading, standard, columns, row = shown[1:]
    table = f'\n{heading}\n  {standard}\n  source "a box"\n  {columns}\n  {row}\n'
    assert not errors(BASE.replace("screw ISO 4017", "screw DIN 933") + table)


def with_setting(value: str) -> Diagnostic:
    """The one error of a `--set`."""
    text = BASE.replace("backlash 0.5 mm", "backlash slack") + "\nparameter slack 0.5 mm\n"
    found = check(SourceFile("a.trivet", text), MemoryFiles({"a.trivet": text}), {"slack": value}, full=False).findings
    (error,) = (item for item in found if item.severity == "error")
    return error


@pytest.mark.parametrize("value", ["0.9", "0.9mm", "0,9 mm"])
def test_a_setting_is_corrected_as_it_is_given(value: str) -> None:
    """The remedy is what to type, not a line of the file."""
    found = with_setting(value)
    assert (found.rule, found.remedy) == ("setting-form", 'write `--set "slack=0.9 mm"`')


@pytest.mark.parametrize(("name", "warned"), [("birch", True), ("ply18", False)])
def test_a_shops_sheet_of_another_name_is_not_passed_over(name: str, warned: bool) -> None:
    """The fixture would be cut for the author's sheet, and nobody would notice."""
    shop = f"sheet {name}\n  thickness 18.3 +/- 0.1 mm\n"
    files = MemoryFiles({"a.trivet": BASE, "shop.trivet": shop})
    found = check(SourceFile("a.trivet", BASE), files, {}, SourceFile("shop.trivet", shop), full=False).findings
    unused = [item for item in found if item.rule == "unused-name"]
    assert [(marked(item), item.remedy) for item in unused] == [("birch", "call it as the fixture does: `ply18`")] * warned


def test_a_hole_without_its_board_is_offered_the_boards_name() -> None:
    """The remedy works as it stands: no board is called as in the form's example here."""
    text = BASE.replace("deck", "top") + "\nhole dog\n  dowel 19 mm\n  at (240, 60) mm\n"
    (found,) = errors(text)
    line = re.search("`([^`]+)`", found.remedy)
    assert line is not None
    assert line[1] == "into top, topside"
    assert not errors(text + f"  {line[1]}\n")
