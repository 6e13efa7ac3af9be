"""Findings about cutters, sheets, magnets, turns and warp; figures worked by hand beside each."""

from __future__ import annotations

import math
import re

import pytest
from tests.fixture_text import compiled, findings_of

from trivet.checks._examples import BASE, example_text
from trivet.checks.insert_not_square import tolerated_deg
from trivet.checks.pole_mismatch import RULE as POLES
from trivet.checks.thread_runs_back import MU, pitch_diameter_mm
from trivet.diagnostics import Diagnostic
from trivet.model.hardware import Thread
from trivet.solve.derived import Backlash

OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"


def swapped(text: str, *swaps: tuple[str, str]) -> str:
    for old, new in swaps:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def only(text: str, slug: str) -> Diagnostic:
    (found,) = findings_of(text, slug)
    return found


@pytest.mark.parametrize(("corner", "found"), [("", False), (", corner_radius 2.9 mm", True), (", corner_radius 3 mm", False)])
def test_unrelieved_corner(corner: str, found: bool) -> None:
    """A 6 mm cutter leaves 3 mm; what states nothing is not judged."""
    pocket = f"\npocket rest\n  into deck, topside\n  outline rectangle 40 by 20 mm{corner}\n  depth 6 mm\n  at (240, 30) mm\n"
    assert bool(findings_of(BASE + pocket, "unrelieved-corner")) is found
    assert not findings_of(BASE + pocket.replace(" mm\n  depth", " mm, relieved\n  depth"), "unrelieved-corner")


def test_cutter_too_short() -> None:
    """The sheet is 18 mm at its thickest, layers are cut one by one; a cutter without `reach` is not judged."""
    short = swapped(BASE, ("reach 25 mm", "reach 17.9 mm"))
    item = only(short, "cutter-too-short")
    assert item.severity == "error" and "reaches 17.9 mm" in item.message and "up to 18 mm" in item.message
    assert item.remedy == "a cutter that reaches 18 mm or more" and item.parts == ("straight6",)
    enough = swapped(BASE, ("reach 25 mm", "reach 18 mm"), (f"  {OUTLINE}\n", f"  {OUTLINE}\n  layers 2\n"))
    assert not findings_of(enough, "cutter-too-short")
    assert not findings_of(swapped(BASE, ("  reach 25 mm\n", "")), "cutter-too-short")


@pytest.mark.parametrize(("depth", "found"), [(8, False), (8.5, True)])
def test_a_pockets_own_cutter(depth: float, found: bool) -> None:
    fine = f"""
cutter fine3
  diameter 3 mm
  reach 8 mm

pocket rest
  into deck, topside
  outline rectangle 40 by 20 mm
  depth {depth:g} mm
  cutter fine3
  at (240, 30) mm
"""
    items = findings_of(BASE + fine, "cutter-too-short")
    assert [item.parts for item in items] == ([("fine3", "rest")] if found else [])


def test_thickness_not_measured() -> None:
    bare = swapped(BASE, ("17.8 +/- 0.2 mm", "17.8 mm"))
    item = only(bare, "thickness-not-measured")
    assert item.severity == "note" and item.message == "`ply18` is taken as 17.8 mm thick everywhere"
    glued = swapped(bare, (f"  {OUTLINE}\n", f"  {OUTLINE}\n  layers 2\n"))
    assert only(glued, "thickness-not-measured").message.endswith("the layers of `deck` add their differences")
    assert not findings_of(BASE + "\nsheet spare\n  thickness 9 mm\n", "thickness-not-measured")


@pytest.mark.parametrize(
    ("thread", "dm_mm", "lead_deg"),
    [
        # Lead angles of 60 deg threads at the basic pitch diameter, recomputed from lead/(pi d2), not from a printed table.
        (Thread("M8", 8.0, 1.25, 1.25, "metric"), 7.1881, 3.1683),
        (Thread("M12", 12.0, 1.75, 1.75, "metric"), 10.8633, 2.9354),
        (Thread("1/4-20", 6.35, 1.27, 1.27, "unified"), 0.2175 * 25.4, 4.1847),
    ],
)
def test_pitch_diameter(thread: Thread, dm_mm: float, lead_deg: float) -> None:
    assert pitch_diameter_mm(thread) == pytest.approx(dm_mm, abs=0.001)
    assert math.degrees(math.atan(thread.lead_mm / (math.pi * dm_mm))) == pytest.approx(lead_deg, abs=0.002)


@pytest.mark.parametrize(("pitch", "found"), [("2.08", False), ("2.09", True)])
def test_thread_runs_back(pitch: str, found: bool) -> None:
    """The bound by hand: pi mu d2/cos 30 deg = pi 0.08 7.188/0.8660 = 2.0860 mm of lead."""
    assert pytest.approx(2.0860, abs=1e-4) == math.pi * MU * 7.188 / math.cos(math.radians(30))
    table = 'table steep is thread\n  source "measured"\n  columns thread, diameter mm, pitch mm, pitch_diameter mm\n'
    items = findings_of(f"{BASE}\n{table}  row M8, 8, {pitch}, 7.188\n", "thread-runs-back")
    assert [item.severity for item in items] == (["warning"] if found else [])


def test_starts_count_in_the_lead() -> None:
    """Two starts of 1.25 mm: atan(2.5/(pi 7.188)) = 6.32 deg."""
    item = only(example_text(_page("thread-runs-back")), "thread-runs-back")
    assert "climbs at 6.32 deg, 2.5 mm a turn" in item.message and "below 2.08 mm" in item.remedy


def _page(slug: str) -> str:
    from trivet.checks._check import all_checks

    return next(check.rule.failing for check in all_checks() if check.rule.slug == slug)


def test_many_turns() -> None:
    text = example_text(_page("many-turns"))
    item, lift = only(text, "many-turns"), compiled(text).derived.lift
    # 0.3 mm of lead and 16 to 20 teeth: 0.24 mm a turn.
    assert lift is not None and f"takes {lift.travel_mm / 0.24:.1f} turns" in item.message
    teeth = re.search(r"with (\d+) teeth or more", item.remedy)
    assert teeth and int(teeth[1]) == math.ceil(16 * lift.travel_mm / 0.24 / 30)
    assert not findings_of(f"{text}\nrequire turns_for_travel <= 40\n", "many-turns")


@pytest.mark.parametrize(("teeth", "found"), [(32, False), (33, True)])
def test_coarse_step(teeth: int, found: bool) -> None:
    """1.25 mm x z/20 over eight: 0.25 mm at 32 teeth."""
    text = swapped(BASE, ("teeth 16", f"teeth {teeth}"))
    items = findings_of(text, "coarse-step")
    assert [item.remedy.startswith("`hub` with 32 teeth or fewer") for item in items] == ([True] if found else [])
    assert not findings_of(f"{text}\nrequire lift_per_turn >= 2 mm\n", "coarse-step")


@pytest.mark.parametrize(("depth", "proud"), [("0.15", None), ("0.2", "0.05 mm proud"), ("0.4", "0.25 mm proud")])
def test_magnet_proud(depth: str, proud: str | None) -> None:
    """Holes are 0.15 mm deeper than the magnet."""
    magnet = "\nmagnet keep\n  into deck, topside\n  disc 10 by 3 mm\n  at (240, 30) mm\n"
    items = findings_of(swapped(BASE, ("guide_block", f"guide_block\n  depth +/- {depth} mm")) + magnet, "magnet-proud")
    assert [proud in item.message for item in items if proud] == ([True] if proud else [])
    assert len(items) == (1 if proud else 0)


def test_pole_mismatch() -> None:
    same = POLES.failing
    assert only(same, "pole-mismatch").parts == ("lower", "upper")
    assert not findings_of(POLES.passing, "pole-mismatch")
    # Half a disc of 10 mm apart: they no longer face each other.
    lower = "  polarity north\n  at lid (100, 100) mm\n"
    head, _, tail = same.rpartition(lower)
    assert not tail.strip()
    assert findings_of(f"{head}  polarity north\n  at lid (104, 100) mm\n", "pole-mismatch")
    assert not findings_of(f"{head}  polarity north\n  at lid (105, 100) mm\n", "pole-mismatch")
    # On the far face, or with a pole not stated, nothing is said.
    assert not findings_of(same.replace("into base, topside", "into base, underside"), "pole-mismatch")
    assert not findings_of(f"{head}  at lid (100, 100) mm\n", "pole-mismatch")


@pytest.mark.parametrize(("teeth", "found"), [(33, False), (34, True)])
def test_gear_warp_rubs(teeth: int, found: bool) -> None:
    """ISO 7093-1 M6: 1.6 mm thick, 1.4 mm at the least (from memory). 6 (z + 2)/150 mm is 1.4 mm at 33 teeth."""
    assert findings_of(swapped(BASE, ("above and below", "below")), "gear-warp-rubs")
    text = swapped(BASE, ("gear west, east\n  teeth 20", f"gear west, east\n  teeth {teeth}"))
    wanted = 6.0 * (teeth + 2) / 150.0
    items = findings_of(text, "gear-warp-rubs")
    assert bool(items) is found, [item.message for item in items]
    assert all(f"at least {wanted:.2f} mm" in item.message for item in items)


def test_tilt_that_is_tolerated() -> None:
    """0.5² = 0.3² + s² 0.2²: s = 2, so twice the tangent of 0.3 deg; 0.6 deg but for the fifth decimal."""
    backlash = Backlash(0.5, 0.0, 1.0, 0.36, (("profile offset", 0.3, 0.3), ("insert tilt of `nw`", 0.2, 0.2)))
    assert tolerated_deg(backlash, 0.3) == pytest.approx(0.6, abs=1e-4)
    assert tolerated_deg(Backlash(0.2, 0.0, 1.0, 0.36, backlash.contributors), 0.3) == 0.0
    assert tolerated_deg(Backlash(0.5, 0.0, 1.0, 0.3, backlash.contributors[:1]), 0.3) is None


def test_a_tilt_at_the_bound_just_binds() -> None:
    """The tilt that is named is the one at which `mesh-binds` begins."""
    loose = swapped(BASE, ("backlash 0.5 mm", "backlash 0.35 mm"), ("guide_block", "drill_press"))
    said = re.search(r"tilt by ([\d.]+) deg", only(loose, "insert-not-square").message)
    assert said and 0.3 < float(said[1]) < 0.5
    for more, binds in ((-0.01, False), (0.01, True)):
        text = swapped(loose, ("drill_press", f"{float(said[1]) + more:.3f} deg"))
        assert bool(findings_of(text, "mesh-binds")) is binds
