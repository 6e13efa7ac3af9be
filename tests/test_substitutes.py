"""What neighbouring hardware would change, against sums by hand; sources of the rows stand in the library's own tests.

Base without sleeves. With 5/16-18 for M8: pitch 25.4 / 18 = 1.4111 (ASME B1.1: 18 threads an inch), times 16 / 20 per turn. The screw sold
nearest to 30 mm is 1-1/4 in, 31.75: worst tip e >= 6 + 31.75 + 0.5 - 35.2 = 3.05, teeth e <= 1.4 + 17.6 - 8.8 = 10.2, travel 7.15.
"""

from __future__ import annotations

import json

import pytest
from tests.edited_base import NO_SLEEVE
from tests.fixture_text import NAME, compiled

from trivet.checks._examples import example_text
from trivet.outputs import Wanted, outputs
from trivet.substitutes import substitutes
from trivet.tables.substitutes import Substitute, substitute_rows

HEX_NUT = "- nut tee_nut, above gear\n+   nut ISO 4032, above gear, recessed 7 mm\n"


def found(edits: str = "") -> dict[tuple[str, str], Substitute]:
    text = example_text(edits + NO_SLEEVE if edits.startswith("+") else NO_SLEEVE + edits)
    result = compiled(text)
    assert result.design is not None and result.derived is not None, result.findings
    return {(item.part, item.other): item for item in substitutes(result.design, result.derived, {NAME: text})}


def changes(item: Substitute) -> dict[str, tuple[str, str]]:
    return {what: (before, after) for what, before, after in item.changes}


def test_feet_in_the_other_system() -> None:
    item = found()["corner", "5/16-18"]
    told = changes(item)
    assert told["lift per turn"] == ("1 mm", f"{round(25.4 / 18 * 16 / 20, 2)} mm")
    assert told["travel with the worst sheets"] == ("8.9 mm", f"{10.2 - 3.05:.2f} mm")
    assert told["screw"] == ("ISO 4017 M8 x 30 mm", "ASME B18.2.1 hex cap screw 5/16-18 x 1.25 in")
    # The insert's hole, 1/2 in: ShopNotes 85 p. 50 chart (as the library's row says), to two decimals of a millimetre.
    assert told["insert hole"] == ("13.5 mm", "12.7 mm")
    assert "measure" in item.assumed and "inserts_inch 5/16-18 (partly found)" in item.rows


def test_a_requirement_that_breaks_is_named() -> None:
    assert found()["corner", "5/16-18"].findings == ()
    assert found("+ require travel >= 8 mm\n")["corner", "5/16-18"].findings == ("require-not-met",)


def test_rows_of_the_own_table_are_used() -> None:
    row = (
        "- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row 5/16-18, 15, 16, 3, 16, 12.5\n"
    )
    item = found(row)["corner", "5/16-18"]
    assert changes(item)["insert hole"] == ("13.5 mm", "12.5 mm") and not item.assumed


def test_drive() -> None:
    """ASME B18.2.8 close hole for 5/16: 21/64 in = 0.328 in, Machinery's Handbook 31 p. 1741, from the library's row; to 0.01 mm."""
    item = found(HEX_NUT)["crank", "5/16-18"]
    told = changes(item)
    assert told["hole in the board"] == ("8.4 mm", "8.33 mm")
    # ASME B18.2.2 hex nut 5/16: 1/2 in across flats (published table, library's row).
    assert told["nut across flats"] == ("13 mm", "12.7 mm")
    assert "no row M8x1 for the tee nut" in found()["crank", "M8x1"].missing


@pytest.mark.parametrize(("size", "flats"), [("M8", None), ("M10", ("16 mm", "17 mm"))])
def test_heads_to_the_older_standard(size: str, flats: tuple[str, str] | None) -> None:
    """M10 heads are 16 mm wide to ISO 4017 and 17 mm to DIN 933 (reference tables; both widths are sold)."""
    edits = f"- foot corner\n+ foot corner\n+   thread {size}\n- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row {size}, 18, 15, 4, 15, 13.5\n"
    text = example_text(NO_SLEEVE + edits).replace(
        f"  thread {size}\n  kind riding\n  thread M8\n", f"  thread {size}\n  kind riding\n"
    )
    result = compiled(text)
    assert result.design is not None and result.derived is not None, result.findings
    (item,) = [one for one in substitutes(result.design, result.derived, {NAME: text}) if one.other == "DIN 933"]
    assert changes(item).get("head's pocket across flats") == flats
    assert not item.findings


def test_what_is_not_known_is_said() -> None:
    item = found()["corner", "M8x1"]
    assert item.missing == "no table has an insert M8x1" and not item.changes
    (row,) = [row for row in substitute_rows([item]).rows if row[2] == "M8x1"]
    assert row[3] == "not computed: no table has an insert M8x1"


def test_feet_of_one_thread_change_together() -> None:
    """One set alone would tilt the board, which says nothing about the thread."""
    edits = "+ foot left\n+   like corner\n+ gear ne, se\n+   teeth 20\n+   carries left\n- gear nw, sw, ne, se\n+ gear nw, sw\n"
    item = found(edits)["corner, left", "5/16-18"]
    assert "feet-rise-differently" not in item.findings


def test_in_the_outputs() -> None:
    text = example_text(NO_SLEEVE)
    result = compiled(text)
    assert result.design is not None and result.derived is not None
    files = outputs(result.design, result.derived, result.findings, {NAME: text}, {}, Wanted())
    records = json.loads(files["report.json"])["substitutes"]
    assert {record["with"] for record in records} >= {"5/16-18", "DIN 933", "ISO 7089"}
    page = files["hardware.md"].decode()
    assert "# Substitutes and what they would change" in page and "lift per turn from 1 mm to 1.13 mm" in page
    assert files["hardware.csv"].decode().count("\r\nsubstitute,") == len(records)
