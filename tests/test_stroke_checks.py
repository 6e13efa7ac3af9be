"""Checks of strokes, stacks, bolts and pivots against sums by hand on the base of the rule pages. Lengths mm.

The base: board and gears 17.8 +/- 0.2; ISO 4017 M8, L 30, head 5.3, pocket p 5.8 +/- 0.2, pad 3: proud 2.5; bearing face at
-17.8 + 5.8 = -12; live thread 0 to 11. Idlers: washer 1.6, sleeve (18 - 6.8) + 0.3 = 11.5, so 0.7 of play at mean; top at -2.3, bottom at
-20.1. Lowest point -(1.8 + 0.7 + 17.8) - 66 x 0.2/10.8 = -21.522. Bench e >= 21.522 - 17.8 - 2.5 = 1.222.
Teeth e <= 20.1 - 8.9 = 11.2; thread e <= -12 + 30 - 8 = 10; travel 8.778.
"""

from __future__ import annotations

import pytest
from tests.edited_base import NO_SLEEVE, findings, of_rule, only

from trivet.checks._check import all_checks
from trivet.checks._stroke import CAUSES, REST

SCREW = "- screw ISO 4017, length 30 mm, pocket 5.8 mm\n"
BOLT = "- bolt ISO 4762, head recessed 9 mm\n"
PIVOT = "- screw ISO 7049, head recessed 7 mm\n"
INSERT = "- insert my_insert, driven_from topside, flush underside\n"
PAD = "- pad dome, drop 3 mm\n"
FORM = "- backlash 0.5 mm\n+   backlash 0.5 mm\n"

STROKES = [
    # Tip: e >= 5.8 + 45 + 0.5 - 35.6 = 15.7, over the teeth's 11.2 by 4.5.
    ("tip-through-board", SCREW + "+   screw ISO 4017, length 45 mm, pocket 5.8 mm", "4.5 mm", "at 15.7 mm extension", "30 mm"),
    # Thread: e <= -12 + 20 - 8 = 0, under the bench's 1.222.
    ("thread-leaves-insert", SCREW + "+   screw ISO 4017, length 20 mm, pocket 5.8 mm", "1.22 mm", "at 0 mm extension", "30 mm"),
    # A full face of 17.8: e <= 20.1 - 17.8 = 2.3; proud 0.5, so bench e >= 3.222. An overlap of 15.877 ends it 1 mm later than that.
    (
        "teeth-part",
        PAD + "+   pad dome, drop 1 mm\n" + FORM + "+   face_overlap 17.8 mm",
        "0.92 mm",
        "at 2.3 mm extension",
        "`face_overlap 15.87 mm`",
    ),
    # ISO 4014, b = 2 x 8 + 6 = 22: shank 28, e >= -12 + 28 - 0 = 16, over 11.2 by 4.8. Two layers keep the tip inside.
    (
        "shank-in-insert",
        SCREW
        + "+   screw ISO 4014, length 50 mm, pocket 5.8 mm\n- outline rectangle 480 by 350 mm, corner_radius 12 mm\n"
        + "+   outline rectangle 480 by 350 mm, corner_radius 12 mm\n+   layers 2",
        "4.8 mm",
        "at 16 mm extension",
        "",
    ),
    # 14 of insert out of the underside, over 11.2 by 2.8.
    (
        "head-hits-board",
        INSERT + "+   insert my_insert, driven_from topside, flush underside, proud 14 mm",
        "2.8 mm",
        "at 14 mm",
        "2.8 mm",
    ),
]


@pytest.mark.parametrize(("slug", "edits", "lacking", "where", "remedy"), STROKES)
def test_bound_that_leaves_no_stroke(slug: str, edits: str, lacking: str, where: str, remedy: str) -> None:
    found = only(slug, edits)
    assert found.severity == "error"
    assert found.message.startswith(f"no travel is left, {lacking} is lacking: ")
    assert where in found.message and remedy in found.remedy
    assert {"corner.nw", "corner.ne", "corner.sw", "corner.se"} <= set(found.parts)
    assert len(found.related) == 1 and "extension" in found.related[0].message
    assert [item.rule for item in findings(edits) if item.rule in {*CAUSES.values(), REST}] == [slug]


def test_socket_too_shallow() -> None:
    # A socket of 4 keeps min(max(0.6 x 5.3, min(4, 5.3)), 4) = 4 of the head, at no extension; the head meets its floor there too.
    failing = next(check.rule.failing for check in all_checks() if check.rule.slug == "hex-leaves-socket")
    found = only("hex-leaves-socket", failing)
    assert found.message == "no travel is left: the socket of `corner.ne` keeps 4 mm of the head at 0 mm extension"
    # 4.5 keep 4 as well: half a millimetre of travel.
    assert not of_rule("hex-leaves-socket", failing.replace("depth 4 mm", "depth 4.5 mm"))


def test_screw_under_another_board() -> None:
    # The deck lies on the board of the feet: e >= 5.8 + 45 + 0.5 - 17.8 - 17.8 = 15.7 again, at its underside.
    failing = next(check.rule.failing for check in all_checks() if check.rule.slug == "screw-bottoms")
    found = only("screw-bottoms", failing)
    assert "4.5 mm is lacking" in found.message and "0.5 mm below the underside of `deck` at 15.7 mm extension" in found.message


def test_natural_beginning_is_not_blamed() -> None:
    # A pad of 8 lifts all off the bench; the stroke begins at the rim, 66 tan 0.5 deg = 0.58, and a screw of 20 ends it at 0.
    found = only(
        "thread-leaves-insert", PAD + "+   pad dome, drop 8 mm\n" + SCREW + "+   screw ISO 4017, length 20 mm, pocket 5.8 mm"
    )
    assert "0.58 mm is lacking" in found.message and "tilted 0.5 deg" in found.related[0].message


def test_bound_is_no_finding_while_a_stroke_is_left() -> None:
    # 40 long: tip e >= 10.7, teeth 11.2: half a millimetre is left at mean, but no more than 0.1 at thin sheets' 10.2.
    edits = SCREW + "+   screw ISO 4017, length 40 mm, pocket 5.8 mm"
    assert not of_rule("tip-through-board", edits)
    found = only("no-stroke", edits)
    assert found.severity == "warning"
    assert found.message == "travel is 0.5 mm at mean thickness, but 0 mm at the worst combination of sheets"


def test_every_cause_has_its_rule() -> None:
    slugs = {check.rule.slug for check in all_checks()}
    assert {*CAUSES.values(), REST} <= slugs


def test_remedy_of_a_screw_holds() -> None:
    for length in (20, 45):
        found = findings(f"{SCREW}+   screw ISO 4017, length {length} mm, pocket 5.8 mm")
        remedy = next(item.remedy for item in found if item.rule in CAUSES.values())
        assert remedy.startswith("a screw of 30 mm would give")
    assert not {item.rule for item in findings("+ #")} & {*CAUSES.values(), REST}


def test_engagement() -> None:
    # 8 at the end of the travel; min(1.5 x 8, 11) = 11; height there 17.8 + 17.8 + 2.5 + 10 = 48.1, 3 less at 11.
    found = only("short-engagement", "+ #")
    assert found.message == "the screws of `corner` hold by 8 mm of thread at the end of the travel; at least 11 mm is advised"
    assert "3 mm earlier, at a height of 45.1 mm" in found.remedy


def test_insert_the_wrong_way() -> None:
    # Live 4 to 15: e <= -12 + 30 - 4 - 8 = 6, travel 6 - 1.222 = 4.778.
    found = only("insert-wrong-way", INSERT + "+   insert my_insert, driven_from underside, flush underside")
    assert "travel is 4.78 mm; driven from the topside it would be 8.78 mm" in found.message
    assert found.message.endswith("raising the board loosens it")


def test_left_hand_thread_loosens_the_other_way() -> None:
    # A left-hand screw turns anticlockwise to raise, which unscrews a right-hand outer thread driven from the topside.
    swaps = ("  kind riding\n  thread M8\n", "  kind riding\n  thread M8-LH\n"), ("  row M8,", "  row M8-LH,")
    found = only("insert-wrong-way", "+ #", *swaps)
    assert found.message == "the insert of `corner` is driven from the topside: raising the board loosens it"


def test_face_overlap_stated_low() -> None:
    found = only("low-face-overlap", FORM + "+   face_overlap 4 mm")
    assert found.severity == "warning" and "4 mm; at least 8.9 mm is advised" in found.message
    assert not of_rule("low-face-overlap", FORM + "+   face_overlap 8.9 mm")


def test_gear_on_the_bench() -> None:
    # No pad: head 5.3 in a pocket of 5.8. 2 x 66 x tan 0.5 deg = 1.15; a dome of 5.8 - 5.3 + 2 = 2.5 stands 2 out.
    found = only("gear-rubs-bench", PAD)
    assert "the pocket is 5.8 mm deep, the head only 5.3 mm high" in found.message
    assert "1.15 mm" in found.related[0].message and "drop 2.5 mm" in found.remedy
    assert not of_rule("gear-rubs-bench", PAD + "+   pad dome, drop 2.5 mm")


def test_idler_on_bare_thread_can_be_accepted() -> None:
    found = only("gear-on-thread", NO_SLEEVE)
    assert found.severity == "warning" and set(found.parts) == {"pin.west", "pin.east"} and not found.accepted
    # 6.3 and two walls of 0.75, in whole millimetres.
    assert found.remedy.startswith("`sleeve outside 8 mm`")
    accepted = only("gear-on-thread", '+ accept gear-on-thread on pin because "turned seldom"\n' + NO_SLEEVE)
    assert accepted.accepted and accepted.accepted_because == "turned seldom"


def test_flange() -> None:
    def tee_nut(way: str) -> str:
        unused = "".join(
            f"- {line}\n"
            for line in (
                "table my_insert is insert",
                'source "measured: five of a box of fifty"',
                "columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm",
                "row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5",
            )
        )
        return f"{INSERT}+   insert tee_nut, driven_from {way}\n{unused}"

    assert only("flange-lifts-off", tee_nut("topside")).severity == "error"
    assert not of_rule("flange-lifts-off", tee_nut("underside"))


def test_drive_bolt() -> None:
    # Longest: 18 - 8.8 + 0.2 + 1.5 + 18 - 5.8 + 4 = 27.1. Shortest to the hub's underside: 17.6 - 9.2 + 0.2 + 1.5 + 17.6 = 27.7.
    found = only("bolt-not-sold", "+ #")
    assert found.severity == "note"
    assert found.message == "no ISO 4762 M8 between 27.1 mm and 27.7 mm long is sold for `crank`: buy 30 mm and cut it to 27.5 mm"
    short = only("bolt-too-short", BOLT + "+   bolt ISO 4762, head recessed 9 mm, length 27 mm")
    assert "is 27 mm long; its longest stack takes 27.1 mm" in short.message and short.remedy == "`length 27.5 mm` fits"
    assert short.span is not None and short.span.text == "27 mm"
    long = only("bolt-too-long", BOLT + "+   bolt ISO 4762, head recessed 9 mm, length 60 mm")
    assert "is 60 mm long; at most" in long.message
    assert not of_rule("bolt-too-short", BOLT + "+   bolt ISO 4762, head recessed 9 mm, length 27.1 mm")


def test_no_bolt_fits_where_the_room_is_less_than_the_spread() -> None:
    # A nut 4 high, let in by 3: it ends the room itself; longest 9.2 + 0.2 + 1.5 + 15.2 + 4 = 30.1, shortest 8.4 + 0.2 + 1.5 + 14.4 + 4 = 28.5.
    jam = "- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm\n+   jam_nut ISO 4035, below gear, recessed 3 mm, round 24 mm"
    found = only("no-bolt-fits", jam)
    assert "the longest stack takes 30.1 mm, but only 28.5 mm" in found.message
    # The gear's underside is at least 27.7 below the head: 2.4 deeper fits, and half a millimetre more leaves room for a cut.
    assert found.remedy == "`recessed 5.9 mm` in the `jam_nut` leaves a length that can be cut"


def test_pivot_screw_through_the_topside() -> None:
    # Washers at their thinnest 1.4 + 1.4, sleeve 11.5, board 17.6: the topside is 31.9 from the head; 1 less stays inside.
    found = only("screw-through-board", PIVOT + "+   screw ISO 7049, head recessed 7 mm, length 32 mm")
    assert "is 32 mm long and comes 0.1 mm through the topside; at most 30.9 mm stays inside" in found.message
    near = only("screw-through-board", PIVOT + "+   screw ISO 7049, head recessed 7 mm, length 31.5 mm")
    assert "comes within 0.4 mm of the topside" in near.message


def test_pivot_play() -> None:
    found = only("pivot-clamps-gear", "- play 0.3 mm\n+   play 0.15 mm")
    assert "0.15 mm of axial play at its thickest; at least 0.2 mm is required" in found.message and "`play 0.2 mm`" in found.remedy
    assert not of_rule("pivot-clamps-gear", "- play 0.3 mm\n+   play 0.2 mm")
    # 0.063 mm on 18 mm per percent (from memory), 6 percent, 17.8 mm: 0.3738; with 0.2: 0.5738.
    swells = only("swelling-takes-play", "+ #")
    assert "0.3 mm of axial play; 0.57 mm allows for swelling" in swells.message
    assert not of_rule("swelling-takes-play", "- play 0.3 mm\n+   play 0.6 mm")


def test_wood_under_the_drive_head() -> None:
    # 17.6 - (13 + 0.2) = 4.4.
    found = only("thin-under-head", BOLT + "+   bolt ISO 4762, head recessed 13 mm")
    assert found.severity == "warning" and found.message.startswith("4.4 mm of wood") and "11.4 mm" in found.remedy
    assert not of_rule("thin-under-head", BOLT + "+   bolt ISO 4762, head recessed 11.4 mm")
    assert only("thin-under-head", BOLT + "+   bolt ISO 4762, head recessed 17.8 mm").severity == "error"


def test_workpiece_and_its_riser() -> None:
    # Lowest 17.8 + 21.522 = 39.322; 39.322 - 18 = 21.322, rounded up.
    piece = "+ workpiece plank\n+   thickness 18..22 mm\n"
    found = only("workpiece-not-met", piece)
    assert found.severity == "warning" and "39.32 mm to 48.1 mm" in found.message and found.remedy == "`on riser 21.33 mm`"
    assert not of_rule("workpiece-not-met", piece + "+   on riser 21.33 mm")
    # Thick ones met, thin ones not; on the riser the thickest are 15 above the lowest height: (15 - 8.778)/(8.778 - 1) is one block,
    # of 8.778 - 1 at most.
    part = only("workpiece-not-met", "+ workpiece plank\n+   thickness 30..45 mm\n")
    assert (
        "is matched flush only from 39.32 mm to 45 mm" in part.message
        and part.remedy == "`on riser 9.33 mm` and a foot block of 7.77 mm at most under each foot for the thickest"
    )
