"""A whole fixture solved: which length of a bolt is fitted, when a stroke means something, and what is left empty. Lengths mm, by hand."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs import design, gear, mesh, mm
from tests.designs_feet import cap_screw, crank, hex_screw, pin, riding, riser

from trivet.model.base import Band, Ref
from trivet.model.design import Design
from trivet.model.hardware import Thread
from trivet.model.shop import Shop
from trivet.solve.derived import Derived
from trivet.solve.solve import solve

EXACT = Band(18.0, 18.0, 18.0)
COARSE = Thread(designation="M8", major_mm=8.0, pitch_mm=1.5, lead_mm=1.5, system="metric")


def bodies(found: Derived, kind: str, part: str) -> list[tuple[float, float]]:
    return [(item.low_mm, item.high_mm) for item in found.solids[0].solids if item.kind == kind and item.part == part]


@pytest.mark.parametrize(
    ("facts", "fitted"),
    [
        ({"length": mm(45)}, 45.0),
        # Stated, though it has to be cut from a longer one.
        ({"length": mm("41.3")}, 41.3),
        ({"bolt": cap_screw(stock=(16.0, 30.0, 80.0))}, 30.0),
    ],
)
def test_end_of_the_drives_bolt(facts: dict[str, Any], fitted: float) -> None:
    """What is stated, else what is bought, from the face under the head: 9 over the board's underside."""
    found = solve(riser(riding(), EXACT, EXACT, drives=(crank(**facts),), shop=Shop(depth_mm=0.0)))
    ((low, _),) = bodies(found, "bolt_end", "crank.hub")
    assert low == pytest.approx(9.0 - fitted)


def test_tip_of_a_pivots_screw() -> None:
    """Washers 1.6, play 0.3, gear 18 - 7 of recess: 14.5; a screw of 25 reaches 10.5 into the board."""
    found = solve(riser(riding(), EXACT, EXACT, pivots=(pin(length=mm(25)),), shop=Shop(depth_mm=0.0)))
    ((low, high),) = bodies(found, "shank", "pin.west")
    assert (low, high) == pytest.approx((-14.5, 10.5))


def only_feet(**facts: Any) -> Design:
    gears = tuple(gear(name, 20, (x, y), foot=True) for name, x, y in (("a", 0.0, 0.0), ("b", 200.0, 0.0), ("c", 0.0, 200.0)))
    return design(gears, **facts)


def test_a_fixture_of_feet_alone() -> None:
    """Nothing hangs under the board, nothing turns a foot: no lowest point, no lift, no bodies of drives."""
    found = solve(only_feet())
    assert (found.low_point_mm, found.low_point_part, found.lift) == (0.0, "", None)
    assert (found.pivots, found.drives, found.joints, found.keepers, found.climbers) == ((), (), (), (), ())
    assert len(found.feet) == 3 and len(found.solids) == 5 and found.rise_differs == ()
    nothing = solve(design(()))
    assert (nothing.feet, nothing.bolts, nothing.lift, nothing.train.gears) == ((), (), None, ())


def test_what_rises_differently() -> None:
    """Two feet on a lead of 1.25 and two on 1.5: each is named with its rise; where all are alike none is."""
    made = riser(riding())
    assert solve(made).rise_differs == ()
    other = riding(name=Ref("steep"), thread=COARSE, screw=hex_screw(COARSE))
    gears = tuple(g.model_copy(update={"carries": Ref("steep")}) if g.name.text in ("ne", "se") else g for g in made.gears)
    found = solve(made.model_copy(update={"feet": (riding(), other), "gears": gears}))
    # 16/20 of a lead a turn, clockwise down the thread.
    rises = {name: abs(float(rise)) for name, rise in found.rise_differs if rise is not None}
    assert rises == pytest.approx({"corner.nw": 1.0, "corner.sw": 1.0, "steep.ne": 1.2, "steep.se": 1.2})


@pytest.mark.parametrize("spoil", ["fault", "conflict", "incomplete"])
def test_a_stroke_means_nothing_in_a_broken_fixture(spoil: str) -> None:
    """Gears with no place, gears that are asked to turn at two speeds, a foot without its insert."""
    made = riser(riding())
    assert solve(made).lift is not None and solve(made).solids[0].stroke
    if spoil == "fault":
        made = made.model_copy(update={"gears": (*made.gears, gear("lost", 20))})
    elif spoil == "conflict":
        made = made.model_copy(update={"gears": (*made.gears, gear("twin", 24, shaft="hub")), "meshes": (*made.meshes, mesh("twin", "west"))})
    else:
        made = made.model_copy(update={"feet": (riding().model_copy(update={"insert": None}),)})
    found = solve(made)
    assert found.lift is None and not found.solids[0].stroke and found.solids[0].travel_mm == 0.0
