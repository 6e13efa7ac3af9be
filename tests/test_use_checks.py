"""Findings about the fixture in use, generated: each rule against a sum of its own, where it must speak and where it must be silent.

The base: M8 x 1.25 feet under gears of 20 teeth, hub 16, so 1 mm of rise a turn; ISO 4035 M8 13 mm across flats, d2 7.188.
"""

from __future__ import annotations

import itertools
import math

import pytest
from tests.edited_base import PAD, PLAY, SHEET, of_rule, only, plain, solved
from tests.fixture_text import NAME

from trivet.checks._examples import example_text
from trivet.files import MemoryFiles
from trivet.pipeline import check
from trivet.solve.flush import flush_of
from trivet.solve.locking import nut_hold, pivot_turn
from trivet.source import SourceFile
from trivet.tables.report import report
from trivet.tables.summary import summary_lines

BOARD = "- outline rectangle 480 by 350 mm, corner_radius 12 mm\n+   outline rectangle 480 by 350 mm, corner_radius 12 mm\n"


# --- flush ---


def flush_sum(marks: int, disc_mm: float, tilt_deg: float, bow_mm: float, early: bool) -> float:
    """Setting to half a mark (or a sixteenth), half a step of zeroing (20 teeth, or lcm(6, 20) = 60 clockings), a disc that rocks, the
    bow, and the flank of the thread on the 8 mm that are engaged at the end of the travel.
    """
    steps = 60 if early else 20
    return (
        (1.0 / (2 * marks) if marks else 1.0 / 16)
        + 1.25 / steps / 2
        + disc_mm * math.tan(math.radians(tilt_deg))
        + bow_mm
        + 7.188 / 2 * 0.15 / 8.0
    )


CASES = list(itertools.product((0, 12, 24), (0.0, 25.0), (0.3, 1.0), (0.0, 0.12), (False, True)))


@pytest.mark.parametrize(("marks", "disc", "tilt", "bow", "early"), CASES)
def test_flush_is_judged_by_its_sum(marks: int, disc: float, tilt: float, bow: float, early: bool) -> None:
    """Just under the sum it is not met, just over it is; the remedy's last word never contradicts the sum."""
    edits = f"- inserts guide_block\n+   inserts {tilt} deg\n"
    edits += PLAY + (f"+   dial marks {marks}, diameter 40 mm\n" if marks else "")
    edits += PAD + (f"+   pad disc diameter {disc:g} mm, drop 3 mm\n" if disc else "+   pad dome, drop 3 mm\n")
    edits += f"+   zeroed {'before' if early else 'after'}_gluing\n"
    edits += BOARD + (f"+   bow {bow} mm\n" if bow else "")
    total = flush_sum(marks, disc, tilt, bow, early)
    (item,) = plain(f"+ require flush within {total - 0.001:.4f} mm\n{edits}", "require-not-met")
    assert item.severity == "error" and "off flush" in item.message and item.related and item.remedy
    shown = [float(label.message.split(" mm is ")[0]) for label in item.related if " mm is " in label.message]
    assert shown == sorted(shown, reverse=True) and sum(shown) == pytest.approx(total, abs=0.003)
    assert not plain(f"+ require flush within {total + 0.001:.4f} mm\n{edits}", "require-not-met")


def test_what_the_remedy_proposes_does() -> None:
    """A hand sets 1/16 mm; ten marks set 0.05: 0.031 + 0.05 + 0.067 = 0.148."""
    item = only("require-not-met", "+ require flush within 0.15 mm")
    assert item.remedy == "`dial marks 10, diameter 40 mm` on the drive would do"
    assert not of_rule("require-not-met", "+ require flush within 0.15 mm\n" + PLAY + "+   dial marks 10, diameter 40 mm\n")


def test_several_changes_together() -> None:
    flat = PAD + "+   pad disc diameter 25 mm, drop 4 mm\n"
    item = only("require-not-met", f"+ require flush within 0.12 mm\n{flat}{BOARD}+   bow 0.3 mm\n")
    assert item.remedy is not None and "planing the bow" in item.remedy and "`pad dome, drop 4 mm`" in item.remedy
    hopeless = only("require-not-met", "+ require flush within 0.02 mm")
    assert hopeless.remedy is not None and hopeless.remedy.endswith("which is still more")


def test_sag_counts_in_a_full_run_only() -> None:
    """What the plate gives under its load stands in `board-sags`; a plain run says that it is left out."""
    heavy = SHEET + "+   material birch_plywood\n+ \n+ load vice\n+   force 500 N at deck.centre, down\n"
    edits = "+ require flush within 0.2 mm\n" + heavy
    assert not plain(edits, "require-not-met")
    assert "without sag" in plain(edits, "require-not-run")[0].message
    item = only("require-not-met", edits)
    assert "the sag of `deck` under `vice`" in item.related[0].message
    assert not of_rule("require-not-run", edits)


def test_feet_on_their_gears_rock_by_the_gear() -> None:
    """R 66, inserts by guide block 0.5 deg: 2 x 66 x tan 0.5 = 1.152 mm, the largest part; a guide bore bounds the tilt: 0.2 over 30."""
    design, derived = solved(PAD)
    flush = flush_of(design, derived)
    assert flush is not None and flush.parts[0].key == "pad_rock" and flush.parts[0].mm == pytest.approx(1.1519, abs=1e-3)
    design, derived = solved(PAD + "+   guide clearance 0.2 mm, length 30 mm\n")
    flush = flush_of(design, derived)
    assert flush is not None and flush.parts[0].mm == pytest.approx(2 * 66 * 0.2 / 30)


def test_flush_in_summary_and_report() -> None:
    design, derived = solved("+ require flush within 0.2 mm")
    assert any(line.startswith("flush: within 0.16 mm at worst: thread rock 0.07 mm") for line in summary_lines(design, derived))
    made = report(design, derived, findings=(), status="clean", version="1")["flush"]
    assert isinstance(made, dict) and made["required_mm"] == pytest.approx(0.2) and made["sideways_mm"] > 0.3
    assert not any(line.startswith("flush") for line in summary_lines(*solved("")))


def test_nothing_stated_is_left_unused() -> None:
    edits = BOARD + "+   bow 0.1 mm\n" + PLAY + "+   stop\n" + PAD + "+   pad dome, drop 3 mm\n+   zeroed\n"
    assert not plain(edits, "statement-not-yet-used")


# --- teeth under a driver ---


@pytest.mark.parametrize("material", ["", "birch_plywood", "mdf"])
@pytest.mark.parametrize(("hub", "module"), [(16, 6.0), (24, 6.0), (18, 4.0), (30, 4.0)])
@pytest.mark.parametrize("how", ["driver", "hand"])
def test_driver_against_lewis(material: str, hub: int, module: float, how: str) -> None:
    """All teeth by Lewis: the note comes just over the torque that the weakest bears, and is silent just under it."""
    bears = {"": (3.0, 1.61), "birch_plywood": (10.7, 5.5), "mdf": (3.1, 1.5)}[material]
    edits = SHEET + (f"+   material {material}\n" if material else "")
    edits += f"- teeth 16\n+   teeth {hub}\n- module 6 mm\n+   module {module} mm\n"
    _, derived = solved(edits)
    form = {16: 0.296, 18: 0.309, 20: 0.322, 24: 0.337, 30: 0.359}
    most = math.inf
    for mesh in derived.train.meshes:
        assert mesh.overlap_at_least_mm is not None and mesh.overlap_at_most_mm is not None
        face = min(mesh.overlap_at_least_mm, mesh.overlap_at_most_mm)
        thick = math.pi * module / 2 - 0.25
        for gear in (mesh.a, mesh.b):
            y = form[derived.train.gear(gear).geometry.teeth]
            # Idlers pass the force on: it is the drive's torque over the hub's radius in every mesh.
            force = min(bears[0] * face * module * y, bears[1] * face * thick / 1.5)
            most = min(most, force * module * hub / 2)
    over, under = (f"{PLAY}+   turned_with {how}, torque {most * factor / 1000:.4f} Nm\n" for factor in (1.01, 0.99))
    (item,) = plain(edits + over, "driver-can-break-teeth")
    assert item.severity == "note" and item.remedy is not None
    clutch = float(item.remedy.split(" Nm")[0].split()[-1])
    assert most / 1000 - 0.1 <= clutch <= most / 1000 + 1e-6
    assert ("clutch" in item.remedy) is (how == "driver")
    assert not plain(edits + under, "driver-can-break-teeth")


def test_what_turns_it_must_be_said() -> None:
    """A hand without a torque, and a file that says nothing, are not judged; a driver without one is taken to give 20 Nm."""
    assert not plain("", "driver-can-break-teeth")
    assert not plain(PLAY + "+   turned_with hand\n", "driver-can-break-teeth")
    (item,) = plain(PLAY + "+   turned_with driver\n", "driver-can-break-teeth")
    assert "20 Nm" in item.message and "no source" in item.related[0].message


# --- nuts that part ---


def holding_nmm(across_mm: float) -> float:
    """Plywood drawn to 5 N/mm2; mu √(0.08·0.24), on wood √(0.2·0.6): tan(rho ∓ lambda) for the threads, the face at its mean radius."""
    clamp = 5 * math.pi / 4 * (across_mm**2 - 64)
    rho, lead = math.atan(math.sqrt(0.08 * 0.24) / math.cos(math.pi / 6)), math.atan(1.25 / (math.pi * 7.188))
    off, on = (clamp * 7.188 / 2 * math.tan(rho + sign * lead) for sign in (-1, 1))
    return max(0.0, off) + min(on, math.sqrt(0.2 * 0.6) * clamp * (across_mm + 8) / 4)


def raising_nmm(force_n: float) -> float:
    """Base: 20 teeth behind 16, two meshes, raised clockwise; the mean of both ends of friction."""
    ends = []
    for mu, rub, mesh in ((0.08, 0.2, 0.95), (0.24, 0.6, 0.85)):
        rho, lead = math.atan(mu / math.cos(math.pi / 6)), math.atan(1.25 / (math.pi * 7.188))
        foot = force_n * (7.188 / 2 * math.tan(rho + lead) + 2 / 3 * rub * 2.0)
        ends.append(foot * 0.8 / mesh**2)
    return sum(ends) / 2


@pytest.mark.parametrize("washer", [None, ("ISO 7089", 16.0), ("ISO 7093-1", 24.0)])
@pytest.mark.parametrize("factor", [0.3, 0.6, 0.9, 0.98, 1.02, 1.1, 1.5, 3.0, 8.0])
def test_nuts_hold_three_times(washer: tuple[str, float] | None, factor: float) -> None:
    """The load at which three times the torque is what the nuts hold, times a factor: over one it is said, under one it is not."""
    across = washer[1] if washer is not None else 13.0
    force = factor * holding_nmm(across) / 3 / raising_nmm(1.0)
    edits = f"+ \n+ load vice\n+   force {force:.3f} N at deck.centre, down\n" + PLAY
    edits += f"+   washers {washer[0]}, below\n" if washer else ""
    found = plain(edits, "jam-nut-may-slip")
    assert bool(found) is (factor > 1)
    if found:
        assert "raising" in found[0].message and "clockwise" in found[0].message and "assumed, no source" in found[0].related[0].message
        assert ("a washer under the jam nut" in (found[0].remedy or "")) is (washer is None)


@pytest.mark.parametrize(("thread", "loosens"), [("M8", "clockwise"), ("M8-LH", "anticlockwise")])
@pytest.mark.parametrize("feet", ["M8", "M8-LH"])
def test_which_way_parts_the_nuts(thread: str, loosens: str, feet: str) -> None:
    """A right-hand bolt turned clockwise from above goes down through the tee nut and takes the jam nut off the gear. With right-hand feet
    behind two meshes clockwise raises; left-hand ones turn that round.
    """
    swaps = f"- thread M8\n+   thread {thread}\n"
    text = example_text("")
    drive, foot = text.index("drive crank"), text.index("foot corner")
    text = text[:drive] + text[drive:foot].replace("thread M8", f"thread {thread}") + text[foot:].replace("thread M8", f"thread {feet}", 1)
    text = text.replace("row M8, 16.0", "row M8, 16.0") + ("  row M8-LH, 16.0 +/- 0.1, 15, 4, 15, 13.5\n" if feet.endswith("LH") else "")
    result = check(SourceFile(NAME, text), MemoryFiles({NAME: text}))
    assert result.design is not None and result.derived is not None, (swaps, [item.message for item in result.findings])
    hold = nut_hold(result.design, result.derived, result.derived.drives[0])
    raises = "clockwise" if feet == "M8" else "anticlockwise"
    assert hold.loosens == loosens and hold.loosens_while == ("raising" if loosens == raises else "lowering")


def test_which_way_drags_a_pivot_loose() -> None:
    """Idlers turn against the drive; a screw with its head below unscrews clockwise seen from above: that is while the base is lowered."""
    design, derived = solved("")
    turns = [pivot_turn(design, derived, state) for state in derived.pivots]
    assert {turn.loosens for turn in turns} == {"clockwise"} and {turn.loosens_while for turn in turns} == {"lowering"}
    assert all(turn.clamped for turn in turns)
    made = report(design, derived, findings=(), status="clean", version="1")["locking"]
    assert isinstance(made, dict) and sorted(row["id"] for row in made["pivots"]) == ["pin.east", "pin.west"]
