"""What comes too near what: gears to hardware, keepers to both; at which combination, and where a stop's nuts stand. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace as Of
from typing import Any

import pytest

from trivet.solve.clearances import Near, near_gears, near_keepers
from trivet.solve.contour_shapes import rectangle
from trivet.solve.solid import Solid, SolidSet


def solid(kind: Any, part: str, x: float, radius: float = 5.0, low: float = -20.0, high: float = -10.0, shaft: str = "", **facts: Any) -> Solid:
    return Solid(kind, part, shaft or part, x, 0.0, radius, low, high, **facts)


def derived(*sets: SolidSet, gears: tuple[Any, ...] = (), drives: tuple[Any, ...] = ()) -> Any:
    return Of(solids=sets, train=Of(gears=gears), drives=drives)


def at(*solids: Solid, travel: float = 0.0, stroke: bool = True) -> SolidSet:
    return SolidSet(0, 0, solids, travel, stroke)


def gear(name: str, level: int = 0, shaft: str = "") -> Any:
    return Of(id=name, level=level, shaft=shaft)


def pairs(found: tuple[Near, ...]) -> list[tuple[str, str, str, float, float]]:
    return [(item.one.part, item.other.part, item.other.kind, round(item.gap_mm, 6), round(item.shared_mm, 6)) for item in found]


# A gear of 20 round (0, 0).
WEST = solid("gear", "west", 0.0, 20.0)
# Its own bolt, another gear, one whose head is 1 off, then two that are nearer.
OWN = solid("head", "pin.west", 0.0, 5.0, shaft="west")
OTHER = solid("gear", "east", 30.0, 20.0)
OFF, NEAR, OVER = solid("head", "a", 26.0, shaft="x"), solid("head", "b", 25.5, shaft="y"), solid("nut", "c", 22.0, shaft="z")
TRAIN = (gear("west"), gear("east"), gear("x"), gear("y"), gear("z"))


def test_gears_near_hardware() -> None:
    found = near_gears(derived(at(OWN, OTHER, OFF, NEAR, WEST, OVER), gears=TRAIN))
    # East at 30 reaches from 10 on, so all lie under it.
    assert pairs(found) == [
        ("east", "a", "head", -21.0, 10.0), ("east", "b", "head", -20.5, 10.0), ("east", "c", "nut", -17.0, 10.0),
        ("west", "b", "head", 0.5, 10.0), ("west", "c", "nut", -3.0, 10.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("low", "levels", "near"),
    [
        # In one level more than 0.1 of height is shared, between levels more than 3.
        (-10.2, (0,), True), (-10.09, (0,), False), (-13.2, (1,), True), (-12.9, (1,), False), (-10.2, (1,), False),
        # A shaft with gears of two levels counts as in both.
        (-10.2, (1, 0), True), (-10.2, (0, 1), True), (-10.2, (2, 1), False),
    ],
)  # fmt: skip
def test_shared_height(low: float, levels: tuple[int, ...], near: bool) -> None:
    head = solid("head", "pin", 24.0, low=low, high=0.0, shaft="s0")
    gears = (gear("west", 0, "west"), *(gear(f"s{k}", level, "s0" if k else "") for k, level in enumerate(levels)))
    assert bool(near_gears(derived(at(WEST, head), gears=gears))) is near


def test_of_several_combinations_the_one_that_shares_most() -> None:
    def head(low: float, x: float = 24.0) -> Solid:
        return solid("head", "pin", x, low=low, high=0.0, shaft="x")

    sets = (at(WEST, head(-12.0)), at(WEST, head(-19.0), stroke=False), at(WEST, head(-14.0, 23.0)), at(WEST, head(-13.0)), at(WEST, head(-14.0)))
    assert pairs(near_gears(derived(*sets, gears=TRAIN))) == [("west", "pin", "head", -2.0, 4.0)]
    # Different things of one owner are told apart.
    nut = solid("nut", "pin", 25.5, shaft="x")
    assert pairs(near_gears(derived(at(WEST, head(-12.0), nut), gears=TRAIN))) == [("west", "pin", "head", -1.0, 2.0), ("west", "pin", "nut", 0.5, 10.0)]


def test_what_moves_is_met_at_some_height() -> None:
    low = solid("head", "pin", 24.0, low=-33.0, high=-25.0, shaft="x")
    down = solid("gear", "west", 0.0, 20.0, moves=True)
    assert near_gears(derived(at(down, low, travel=5.0), gears=TRAIN)) == ()
    assert pairs(near_gears(derived(at(down, low, travel=8.0), gears=TRAIN))) == [("west", "pin", "head", -1.0, 3.0)]


def test_keepers_that_overlap() -> None:
    """Of two keepers each pair once, the earlier first; a keeper may come as near as it likes to what it does not overlap."""

    def keeper(name: str, x: float) -> Solid:
        return solid("keeper", name, x + 10.0, 15.0, shaft=name, plate=rectangle(x, -10.0, 20.0, 20.0))

    one, two, three = keeper("k2", 0.0), keeper("k1", 18.0), keeper("k3", 40.0)
    head, beside, wheel = solid("head", "pin", 22.0, 5.0), solid("nut", "by", 65.0, 5.0), solid("gear", "east", 10.0, 30.0)
    found = near_keepers(derived(at(wheel, one, head, two, three, beside), gears=TRAIN))
    assert [(item.one.part, item.other.part) for item in found] == [("k2", "pin"), ("k2", "k1"), ("k1", "pin")]
    assert found[0].gap_mm == pytest.approx(-3.0) and found[1].gap_mm < 0.0
    turned = near_keepers(derived(at(one, two), at(two, one)))
    assert [(item.one.part, item.other.part) for item in turned] == [("k2", "k1")]
    assert near_keepers(derived()) == () and near_keepers(derived(at(head, beside))) == ()


def drive(name: str, stop: bool, across: float | None) -> Any:
    return Of(gear=name, drive=Of(stop=stop, stop_nut=None if across is None else Of(across_flats_mm=across)))


@pytest.mark.parametrize(
    ("drives", "radius", "gap"),
    [
        # Over its corners a nut of 13 across flats is 13 · 2/√3 wide: 7.506 where the bolt's end has 4.
        ((drive("hub", True, 13.0),), 4.0, 27.0 - 20.0 - 7.5056),
        ((drive("hub", True, 13.0),), 7.6, 27.0 - 20.0 - 7.6),
        ((drive("other", True, 30.0), drive("hub", True, 13.0)), 4.0, 27.0 - 20.0 - 7.5056),
        ((drive("hub", False, 13.0),), 4.0, None),
        ((drive("hub", True, None),), 4.0, None),
        ((), 4.0, None),
    ],
)
def test_nuts_of_a_stop_stand_somewhere_on_the_bolts_end(drives: tuple[Any, ...], radius: float, gap: float | None) -> None:
    end, nut = solid("bolt_end", "crank.hub", 27.0, radius, shaft="hub"), solid("nut", "crank.hub", 27.0, 4.0, shaft="hub")
    far = solid("bolt_end", "pin.x", 100.0, 4.0, shaft="x")
    found = near_gears(derived(at(far, WEST, nut, end), gears=(*TRAIN, gear("hub")), drives=drives))
    assert [item.gap_mm for item in found] == ([] if gap is None else [pytest.approx(gap, abs=1e-4)])
