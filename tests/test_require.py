"""Requirements against sums by hand. The base without sleeves; lengths mm.

Board T and gears g 17.8 +/- 0.2, head k 5.3 +/- 0.15 (ISO 4017 M8: 5.45 at most), pocket p 5.8 +/- 0.2, pad 3, screw L 30, live
thread 0 to 11, washers 1.6 (1.4 to 1.8), play 0.3, tip radius of the idlers 6 (20 + 2) / 2 = 66, washer diameter 18.

Mean: proud 5.3 + 3 - 5.8 = 2.5; droop 66 min(0.2/10.8, 0.3/18) = 1.1; z_low -(1.8 + 0.3 + 17.8) - 1.1 = -21;
bench e >= 21 - 17.8 - 2.5 = 0.7; tip e >= 5.8 + 30.5 - 35.6 = 0.7; thread e <= -12 + 30 - 8 = 10. Travel 9.3.
Worst travel: thin board and gear, deep pocket: tip e >= 6 + 30.5 - 35.2 = 1.3; teeth e <= 1.4 + 17.6 - 8.8 = 10.2. Travel 8.9.
Heights of every sheet: rim of a thick gear, shallow pocket, 18 + 18 + (5.45 + 3 - 5.6) + 66 tan 0.5 deg = 39.426 (bench: 18 + 21.2,
z_low -(1.8 + 0.3 + 18) - 1.1); teeth 17.6 + 17.6 + (5.15 + 3 - 6) + 10.2 = 47.55.
"""

from __future__ import annotations

import re

import pytest
from tests.edited_base import NO_SLEEVE, findings, of_rule, only

from trivet.catalog import Catalog
from trivet.checks._leads import leads_mm
from trivet.diagnostics import Diagnostic
from trivet.inputs import load_library

UNMET = "require-not-met"
WORST = "at the worst combination of sheets"


def base(require: str, edits: str = "") -> str:
    """Edits of the base: lines that go to the end stand first."""
    return f"+ require {require}\n{NO_SLEEVE}{edits}"


def unmet(require: str, edits: str = "") -> Diagnostic:
    return only(UNMET, base(require, edits))


@pytest.mark.parametrize(
    "require",
    [
        "travel >= 8.9 mm",
        "travel <= 9.3 mm",
        "height covers 39.43..47.55 mm",
        "lift_per_turn within 0.9..1.1 mm",
        "lift_per_turn >= 1 mm",
        "turns_for_travel within 8..10",
        "face_overlap >= 8.8 mm",
    ],
)
def test_what_is_reached_is_no_finding(require: str) -> None:
    assert not of_rule(UNMET, base(require))


@pytest.mark.parametrize(
    ("require", "message"),
    [
        ("travel >= 9 mm", f"travel is 8.9 mm {WORST}; 9 mm is required"),
        ("travel > 8.9 mm", f"travel is 8.9 mm {WORST}; more than 8.9 mm is required"),
        # 8.9 / 25.4 = 0.3504; the unit is the writer's.
        ("travel >= 3/8 in", f"travel is 0.35 in {WORST}; 0.375 in is required"),
        ("travel <= 9 mm", "travel is 9.3 mm at mean thickness; at most 9 mm is required"),
        ("height covers 39..47 mm", f"the lowest height is 39.43 mm {WORST}; at most 39 mm is required"),
        ("height covers 40..48 mm", f"the greatest height is 47.55 mm {WORST}; 48 mm is required"),
        # 1.25 x 16/20 = 1.
        ("lift_per_turn within 1.1..1.3 mm", "lift per turn is 1 mm; 1.1 mm is required"),
        ("lift_per_turn < 1 mm", "lift per turn is 1 mm; less than 1 mm is required"),
        ("turns_for_travel within 3..5", "the travel takes 9.3 turns at mean thickness; at most 5 is required"),
        ("turns_for_travel >= 12", f"the travel takes 8.9 turns {WORST}; 12 is required"),
        # Thin gears at 10.2 mm extension: 1.4 + 17.6 - 10.2.
        ("face_overlap >= 10 mm", f"face overlap of `east` and `ne` is 8.8 mm {WORST}; 10 mm is required"),
    ],
)
def test_messages(require: str, message: str) -> None:
    found = unmet(require)
    assert found.message == message
    assert found.severity == "error"
    assert found.span is not None and found.span.text == f"require {require}"


def test_limiting_causes_are_named_where_they_stand() -> None:
    end, beginning = unmet("travel >= 9 mm").related
    assert end.message.startswith(
        "the insert of `corner.ne`, driven from the topside, keeps 8 mm of live thread at 10 mm extension"
    )
    assert end.message.endswith("the end of the travel at mean thickness")
    assert end.span is not None and end.span.text == "30 mm"
    assert beginning.message.endswith("at 0.7 mm extension of `corner.ne`, the beginning of the travel at mean thickness")


def test_insert_the_other_way_round() -> None:
    # Driven from the underside the thread is live from 4 to 15: e <= 6 - ..., and the travel is k + 21 + z_low = 5.15 + 21 - 21.2.
    edits = (
        "- insert my_insert, driven_from topside, flush underside\n+   insert my_insert, driven_from underside, flush underside\n"
    )
    found = unmet("travel >= 8 mm", edits)
    assert found.message == f"travel is 4.95 mm {WORST}; 8 mm is required"
    assert found.remedy == f"an insert driven from the topside would give 8.9 mm of travel {WORST}"
    assert "driven from the underside, keeps 8 mm" in found.related[0].message


def test_another_screw() -> None:
    # 25 long, k + 20 + z_low = 5.15 + 20 - 21.2 = 3.95 are left.
    screw = "- screw ISO 4017, length 30 mm, pocket 5.8 mm\n+   screw ISO 4017, length 25 mm, pocket 5.8 mm\n"
    found = unmet("travel >= 8 mm", screw)
    assert found.message == f"travel is 3.95 mm {WORST}; 8 mm is required"
    assert found.remedy == f"a screw of 30 mm would give 8.9 mm of travel {WORST}"


def test_what_no_change_of_the_feet_reaches_is_said() -> None:
    """Neither the feet nor two layers of anything give thirty millimetres; what comes nearest is named."""
    remedy = unmet("travel >= 30 mm").remedy
    assert remedy.startswith("nothing tried on the feet, the layers of gears and board, and the file's sheets reaches it; `layers 2` in")


def test_layers_that_reach_it_are_named_and_do() -> None:
    """Applied to the text as the remedy says, the requirement is met."""
    remedy = unmet("travel >= 15 mm").remedy
    found = re.match(r"`layers 2` in `east`, `hub`, `west` and `deck`, a screw of ([\d.]+) mm and a pad with a drop of ([\d.]+) mm ", remedy)
    assert found is not None, remedy
    applied = (
        "- board deck\n+ board deck\n+   layers 2\n- gear hub\n+ gear hub\n+   layers 2\n- gear west, east\n+ gear west, east\n+   layers 2\n"
        f"- screw ISO 4017, length 30 mm, pocket 5.8 mm\n+   screw ISO 4017, length {found[1]} mm, pocket 5.8 mm\n"
        f"- pad dome, drop 3 mm\n+   pad dome, drop {found[2]} mm\n"
    )
    assert not of_rule(UNMET, base("travel >= 15 mm", applied))


def test_a_thread_is_named_by_its_lead() -> None:
    """A turn of the drive is 16/20 of a foot's: 1.5 mm (M10, ISO 261) gives 1.2 mm, 1.25 mm (M8) 1 mm."""
    assert "`thread M10` for `corner` would give 1.2 mm per turn" in unmet("lift_per_turn within 1.15..1.25 mm").remedy


def test_leads_are_those_of_the_library() -> None:
    catalog = Catalog(load_library)
    for system in ("metric", "unified"):
        for name, lead in leads_mm(system).items():
            assert catalog.thread(name).lead_mm == pytest.approx(lead, abs=1e-6), name


def test_riser_and_pad_for_heights() -> None:
    assert unmet("height covers 39..47 mm").remedy.startswith("a riser of 0.43 mm under the workpiece")
    # A pad 0.5 higher raises the top to 48.05, and the lowest height that the rim leaves, to 39.926.
    assert (
        unmet("height covers 40..48 mm").remedy
        == f"a pad with a drop of 3.5 mm would give heights from 39.93 mm to 48.05 mm {WORST}"
    )


def test_both_ends_of_a_height_range_are_two_findings() -> None:
    assert len(of_rule(UNMET, base("height covers 30..60 mm"))) == 2


@pytest.mark.parametrize(
    ("require", "teeth"),
    [
        ("lift_per_turn within 1.1..1.3 mm", 18),  # 1.25 x 18/20 = 1.125; 17 give 1.0625
        ("lift_per_turn <= 0.5 mm", 8),  # 1.25 x 8/20 = 0.5
        ("turns_for_travel within 3..5", 30),  # 9.3 x 16/30 = 4.96; 29 give 5.13
    ],
)
def test_teeth_that_would_do(require: str, teeth: int) -> None:
    remedy = unmet(require).remedy
    assert remedy.startswith(f"a drive gear of {teeth} teeth would give")
    assert not of_rule(UNMET, base(require, f"- teeth 16\n+   teeth {teeth}\n"))


def test_stated_overlap_keeps_the_overlap() -> None:
    # Thin gears end at 19 - 10 = 9 and begin, by the tip, at 1.3.
    found = unmet("face_overlap >= 10 mm")
    assert found.remedy == f"`face_overlap 10 mm` in the tooth form `coarse` keeps it and leaves 7.7 mm of travel {WORST}"
    stated = "- backlash 0.5 mm\n+   backlash 0.5 mm\n+   face_overlap 10 mm\n"
    assert not of_rule(UNMET, base("face_overlap >= 10 mm", stated))


def test_no_echo_of_an_empty_stroke() -> None:
    screw = "- screw ISO 4017, length 30 mm, pocket 5.8 mm\n+   screw ISO 4017, length 45 mm, pocket 5.8 mm\n"
    rules = [item.rule for item in findings(f"+ require travel >= 8 mm\n{screw}")]
    assert "tip-through-board" in rules and UNMET not in rules
    # Lift per turn does not depend on the stroke.
    assert of_rule(UNMET, f"+ require lift_per_turn >= 2 mm\n{screw}")


def test_what_is_not_computed_is_said() -> None:
    found = only("require-not-run", "+ require travel >= 8 mm\n- carries corner\n+   turns_on pin\n")
    assert found.severity == "note" and "no heights can be computed" in found.message


def test_without_heights_nothing_is_judged() -> None:
    rules = {item.rule: item for item in findings("+ require travel >= 8 mm\n- with se at 298 deg")}
    assert UNMET not in rules
    assert re.search("no heights can be computed", rules["require-not-run"].message)
