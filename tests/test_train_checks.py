"""Numbers in findings about the train and its teeth, against published figures and sums worked by hand; and their remedies, tried."""

from __future__ import annotations

import math
import re

import pytest
from tests.fixture_text import check_text, findings_of

from trivet.checks._examples import BASE, example_text
from trivet.checks._kite import kite
from trivet.diagnostics import Diagnostic


def swapped(text: str, *swaps: tuple[str, str]) -> str:
    for old, new in swaps:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def only(text: str, slug: str) -> Diagnostic:
    (found,) = findings_of(text, slug)
    return found


@pytest.mark.parametrize(("angle", "least"), [("14.5", 32), ("20", 18), ("25", 12)])
def test_few_teeth(angle: str, least: int) -> None:
    """SDP/SI, Elements of Metric Gear Technology, p. T-36 (seen), and Shigley 13.7 (from memory): 32, 18 and 12 teeth are the fewest."""
    for teeth, noted in ((least - 1, True), (least, False)):
        text = swapped(BASE, ("module 6 mm", f"module 6 mm\n  pressure_angle {angle} deg"), ("teeth 16", f"teeth {teeth}"))
        assert any("`hub`" in item.message for item in findings_of(text, "few-teeth")) is noted


def test_few_teeth_with_shift() -> None:
    """Least shift at 20 deg for 16 teeth is 0.06418 (1 - 8 sin^2 20 deg): 0.07 is enough, 0.06 is not."""
    for shift, noted in (("0.06", True), ("0.07", False)):
        assert bool(findings_of(swapped(BASE, ("teeth 16", f"teeth 16\n  profile_shift {shift}")), "few-teeth")) is noted


def test_tip_interference_of_12_and_24() -> None:
    """Standard 12/24 teeth at 20 deg, m 3: the gear's tip of 39 mm passes the limit sqrt(rb^2 + (A sin a)^2) = 38.54 mm.

    rb = 36 cos 20 = 33.829, A sin 20 = 54 x 0.34202 = 18.469; the root of 1144.40 + 341.11 is 38.542. The pinion's tip is clear.
    """
    text = swapped(
        BASE,
        ("module 6 mm", "module 3 mm"),
        ("teeth 16", "teeth 12"),
        ("gear west, east\n  teeth 20", "gear west, east\n  teeth 24"),
    )
    found = [item for item in findings_of(text, "tip-interference") if "`hub`" in item.message]
    # One for both idlers, which are equal.
    assert len(found) == 1 and set(found[0].parts) == {"east", "west", "hub"}
    for item in found:
        assert "reach a radius of 39 mm; 38.54 mm is the most" in item.message
        # 0.458 mm too long, so 0.5 mm shorter in steps of 0.05 would do; but it leaves the meshes under 1.2 pairs of teeth.
        assert "tip_shortening" not in item.remedy
    short = swapped(text, ("module 3 mm", "module 3 mm\n  tip_shortening 0.5 mm"))
    assert not [item for item in findings_of(short, "tip-interference") if "`hub`" in item.message]
    assert findings_of(short, "teeth-slip") and not findings_of(text, "teeth-slip")
    shift = re.search(r"`profile_shift ([\d.]+)` on `hub`", found[0].remedy)
    assert shift is not None
    for step, clear in ((0.0, True), (-0.01, False)):
        tried = swapped(text, ("teeth 12", f"teeth 12\n  profile_shift {float(shift[1]) + step:.2f}"))
        assert (not [item for item in findings_of(tried, "tip-interference") if "`hub`" in item.message]) is clear


def contact(m: float, z1: int, z2: int, distance: float, angle_deg: float = 20.0) -> float:
    """Contact ratio of standard gears from their circles: (path along the line of action)/(base pitch)."""
    a = math.radians(angle_deg)
    rb1, rb2 = m * z1 / 2 * math.cos(a), m * z2 / 2 * math.cos(a)
    path = math.sqrt((m * z1 / 2 + m) ** 2 - rb1**2) + math.sqrt((m * z2 / 2 + m) ** 2 - rb2**2)
    return (path - math.sqrt(distance**2 - (rb1 + rb2) ** 2)) / (math.pi * m * math.cos(a))


def spread_base(distance: str) -> str:
    return swapped(BASE, ("with west at 180 deg", f"with west at 180 deg, centre_distance {distance}"))


def test_teeth_slip() -> None:
    """115 mm + holes 2 x 0.15 + bolt (8.4 - 8)/2 + bore 0.2/2 + moisture 6 x (0.0208 - 0.0138) % of 115 = 0.048: 115.648 mm."""
    item = only(spread_base("115 mm"), "teeth-slip")
    assert item.severity == "error"
    assert "115 mm apart and up to 115.65 mm" in item.message
    printed = re.search(r"keep ([\d.]+) pairs of teeth in touch", item.message)
    assert printed is not None and float(printed[1]) == pytest.approx(contact(6, 16, 20, 115.648), abs=0.001)
    widest = re.search(r"`centre_distance ([\d.]+) mm`", item.remedy)
    assert widest is not None
    most = 1.00042 * float(widest[1]) + 0.6
    assert contact(6, 16, 20, most) >= 1.2 > contact(6, 16, 20, most + 0.03)
    assert not findings_of(spread_base(f"{widest[1]} mm"), "teeth-slip")


def test_teeth_slip_is_a_warning_between_1_and_1_2() -> None:
    assert 1.0 < contact(6, 16, 20, 110.6) < 1.2
    assert only(spread_base("110 mm"), "teeth-slip").severity == "warning"


def test_working_depth() -> None:
    """At 14.5 deg 100 and 100 teeth keep their contact ratio longer than their depth: 2 m less the spread, wanted 1.2 m = 7.2 mm."""
    distance = 600 + 4.4
    assert contact(6, 100, 100, distance + 0.6, 14.5) > 1.2
    text = swapped(
        spread_base(f"{distance} mm"),
        ("module 6 mm", "module 6 mm\n  pressure_angle 14.5 deg"),
        ("teeth 16", "teeth 100"),
        ("gear west, east\n  teeth 20", "gear west, east\n  teeth 100"),
    )
    (item,) = [item for item in findings_of(text, "teeth-slip") if "west" in item.parts]
    # 12 - 4.4 - 0.6, and 0.00042 x 604.4 by moisture
    assert item.severity == "warning" and "reach 6.75 mm into each other; at least 7.2 mm is wanted" in item.message


@pytest.mark.parametrize(
    ("thread", "screw", "row", "other", "apart"),
    [
        # Ten turns of the two leads: 10 |25.4/18 - 1.25| = 1.611, 10 |25.4/20 - 1| = 2.7, 10 |25.4/16 - 1.5| = 0.875 (printed 0.87: the float lies below).
        ("5/16-18", "ASME B18.2.1 hex_cap_screw", "5/16-18", "M8", "1.61 mm"),
        ("1/4-20", "ASME B18.2.1 hex_cap_screw", "1/4-20", "M6", "2.7 mm"),
        ("3/8-16", "ASME B18.2.1 hex_cap_screw", "3/8-16", "M10", "0.87 mm"),
    ],
)
def test_look_alike_threads_in_one_fixture(thread: str, screw: str, row: str, other: str, apart: str) -> None:
    """A drive of one and feet of the other are a warning with the drift of ten turns."""
    text = swapped(
        BASE,
        (
            "foot corner\n  kind riding\n  thread M8\n  screw ISO 4017,",
            f"foot corner\n  kind riding\n  thread {thread}\n  screw {screw},",
        ),
        ("  row M8,", f"  row {row},"),
        ("drive crank\n  thread M8", f"drive crank\n  thread {other}"),
    )
    item = only(text, "look-alike-threads")
    assert item.severity == "warning"
    assert f"{apart} apart after 10 turns" in item.message


def test_same_thread_twice_is_no_look_alike() -> None:
    assert not findings_of(BASE, "look-alike-threads")


def test_feet_rise_differently() -> None:
    """1.25 mm x 16/24 = 0.8333 against 1.25 x 16/20 = 1 mm a turn."""
    text = example_text("+ \n+ gear sw\n+   teeth 24\n+   carries corner\n- gear nw, sw, ne, se\n+ gear nw, ne, se\n")
    item = only(text, "feet-rise-differently")
    assert "`corner.sw` moves 0.833 mm" in item.message and "`corner.ne` 1 mm: 0.167 mm apart" in item.message
    assert item.remedy == "20 teeth on `sw` would make them equal"
    assert not findings_of(swapped(text, ("teeth 24", "teeth 20")), "feet-rise-differently")


def test_feet_rise_differently_by_lead() -> None:
    """M10 has 1.5 mm of lead where M8 has 1.25: 20 x 1.5/1.25 = 24 teeth would do; beside 22 teeth 26.4, and no count does."""
    block = """
foot big
  like corner
  thread M10
"""
    text = (
        swapped(
            BASE,
            (
                "gear nw, sw, ne, se\n  teeth 20\n  carries corner",
                "gear nw, ne, se\n  teeth 20\n  carries corner\n\ngear sw\n  teeth 20\n  carries big",
            ),
        )
        + block
    )
    text = swapped(text, ("  row M8,", "  row M10, 18, 15, 4, 15, 15\n  row M8,"))
    item = only(text, "feet-rise-differently")
    assert item.remedy == "`thread M8` for `big`, the thread of the others, or 24 teeth on `sw` would make them equal"
    odd = swapped(
        text, ("gear sw\n  teeth 20", "gear sw\n  teeth 23"), ("gear nw, ne, se\n  teeth 20", "gear nw, ne, se\n  teeth 22")
    )
    # Equal with a lead of 1.25 x 23/22.
    assert "a lead of 1.307 mm would" in only(odd, "feet-rise-differently").remedy


@pytest.mark.parametrize("far", [200.059485, 196.444754, 192.686568])
def test_ring_that_closes(far: float) -> None:
    """Kite of 20, 30, 40, 30 teeth, m 4: the alternating sum is 22, 23 and 24 at these distances (derived, simulated elsewhere)."""
    assert not findings_of(kite(far), "ring-out-of-phase")
    assert len(findings_of(kite(far), "closed-ring")) == 1


@pytest.mark.parametrize(("far", "arc"), [(200.559485, "1.78 mm"), (180.0, "1.69 mm")])
def test_ring_out_of_phase(far: float, arc: str) -> None:
    """0.141561 and 0.134376 pitches of pi x 4 mm: 1.77891 and 1.68862 mm (derived, simulated elsewhere)."""
    item = only(kite(far), "ring-out-of-phase")
    assert f"closes with its teeth {arc} out of place" in item.message
    assert not findings_of(kite(far), "closed-ring")


def test_ring_remedy_works() -> None:
    text = kite(200.559485)
    place = re.search(r"`at (\([^)]*\)) mm` for `near_two`, in place of its angle", only(text, "ring-out-of-phase").remedy)
    assert place is not None
    angle = re.search(r"  with near_two at (-[\d.]+ deg)\n", text)
    assert angle is not None
    moved = swapped(
        text,
        (
            "gear near_one, near_two\n  teeth 30",
            f"gear near_two\n  teeth 30\n  at {place[1]} mm\n  turns_on pin\n\ngear near_one\n  teeth 30",
        ),
        (f"  with near_two at {angle[1]}\n", "  with near_two\n"),
    )
    assert not findings_of(moved, "ring-out-of-phase") and not findings_of(moved, "mesh-binds")
    assert len(findings_of(moved, "closed-ring")) == 1


def test_gears_collide() -> None:
    """Two 30-tooth gears, m 4, 60 deg apart on one of 20: centres 2 x 100 sin 30 = 100 mm, tips 128 mm: SDP/SI, p. T-116, eq. 13-10."""
    text = re.sub(r"with near_(one|two) at (-?)[\d.]+ deg", r"with near_\1 at \g<2>30 deg", kite(192.686568))
    text = swapped(text, ("mesh last\n  with near_one\n  with near_two\n", ""))
    item = next(item for item in findings_of(text, "gears-collide") if set(item.parts) == {"near_one", "near_two"})
    assert "stand 100 mm apart" in item.message and "at least 129 mm is required, their tips overlap by 28 mm" in item.message


def test_riding_gear_meets_the_level_below() -> None:
    """A gear under `west` is clear of a foot's gear at rest, one level higher, and is met when the foot rides down."""
    edits = "+ \n+ gear lower\n+   teeth 20\n+   on_shaft_with west, below\n"
    # The tall pad lets the feet start close under the board, a full thickness above the lower gear.
    text = swapped(example_text(edits), ("drop 3 mm", "drop 25 mm"))
    item = only(text, "gears-collide")
    assert "`lower` and `nw` stand" in item.message and item.message.endswith("; 1 other pair is alike")
    assert set(item.parts) == {"lower", "nw", "sw"}


def test_mesh_binds_remedy_works() -> None:
    """hub-west: errors of 0.310 mm; feet: 0.353 mm. 0.3 mm is too little for both, and the remedies are the next steps of 0.05."""
    text = swapped(BASE, ("backlash 0.5 mm", "backlash 0.3 mm"))
    found = findings_of(text, "mesh-binds")
    assert [re.findall(r"`backlash ([\d.]+) mm`", item.remedy) for item in found] == [["0.35"], ["0.4"]]
    assert len(findings_of(swapped(BASE, ("backlash 0.5 mm", "backlash 0.35 mm")), "mesh-binds")) == 1
    assert not findings_of(swapped(BASE, ("backlash 0.5 mm", "backlash 0.4 mm")), "mesh-binds")
    # Spreading: jt grows by 2 tan 20 deg = 0.728 for each mm, so 0.05 mm needs 0.07 mm; each of four flanks 0.05 cos 20/4 = 0.012 mm.
    assert "0.012 mm off each flank or centres 0.07 mm further apart" in found[0].remedy


def test_mesh_binds_errors_by_hand() -> None:
    """hub-west at 20 deg with 0.312 mm: the root of the squares of each error's share lies between 0.311 and 0.313 mm.

    A radial shift d gives d (2 tan 20 + 0.31/108) = 0.7308 d: holes 0.15 twice, bolt (8.4 - 8)/2, bore 0.2/2; profile 4 x 0.05/cos 20; moisture 0.00042 x 108.
    """
    shares = [0.15 * 0.7308, 0.15 * 0.7308, 0.2 * 0.7308, 0.1 * 0.7308, 0.2 / math.cos(math.radians(20)), 0.00042 * 108 * 0.7308]
    assert math.sqrt(sum(share**2 for share in shares)) == pytest.approx(0.3117, abs=1e-4)
    for backlash, tight in (("0.311", True), ("0.313", False)):
        found = findings_of(swapped(BASE, ("backlash 0.5 mm", f"backlash {backlash} mm")), "mesh-binds")
        assert any("`hub`" in item.message for item in found) is tight


def test_loose_mesh_costs_little_height() -> None:
    """Lead 1.25 mm, 1.3 mm of backlash at the smaller working radius of 48 mm: 1.25 x 1.3/(2 pi 48) = 0.0054 mm."""
    item = only(swapped(BASE, ("backlash 0.5 mm", "backlash 1.3 mm")), "loose-mesh")
    assert "costs at most 0.005 mm of height" in item.message


def test_thin_tooth_tip_remedy_works() -> None:
    """0.3 x 6 mm = 1.8 mm is wanted; the shortening said reaches it, and one step less does not."""
    text = swapped(BASE, ("teeth 16", "teeth 16\n  profile_shift 0.7"))
    item = only(text, "thin-tooth-tip")
    assert "at least 1.8 mm is wanted" in item.message
    said = re.search(r"tip_shortening ([\d.]+) mm", item.remedy)
    assert said is not None
    for step, left in ((0.0, 0), (-0.05, 1)):
        tried = swapped(text, ("module 6 mm", f"module 6 mm\n  tip_shortening {float(said[1]) + step:.2f} mm"))
        assert len(findings_of(tried, "thin-tooth-tip")) == left


def test_no_drive_is_said_once() -> None:
    """Without a drive no gear is driven, and saying so for each would echo."""
    text = swapped(BASE, ("turned_by crank", "turns_on pin"))
    slugs = {item.rule for item in check_text(text) if item.severity == "error"}
    assert slugs == {"no-drive"}


def test_lost_gear_is_said_once() -> None:
    """A gear that no mesh joins has no place either; the missing mesh is the one fault."""
    text = example_text("-   with se at 298 deg\n")
    assert [item.rule for item in check_text(text) if item.severity == "error"] == ["foot-not-driven"]


def test_feet_turn_opposite_names_both_parties() -> None:
    text = (
        swapped(
            BASE,
            (
                "gear nw, sw, ne, se\n  teeth 20\n  carries corner",
                "gear nw, ne, se\n  teeth 20\n  carries corner\n\ngear sw\n  teeth 20\n  carries left",
            ),
        )
        + "\nfoot left\n  like corner\n  thread M8-LH\n"
    )
    item = only(text, "feet-turn-opposite")
    assert "raises the board at `corner.ne`, `corner.nw` and `corner.se` and lowers it at `left.sw`" in item.message
    assert "a right-hand thread for `left.sw`" in item.remedy and len(item.related) == 3
