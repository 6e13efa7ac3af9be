"""Gears that are moved: in a closed ring, out of another's way, out of an interference. Lengths mm.

A gear of a closed ring that moves by m turns the last mesh by m . (p - n) of arc, p and n the unit vectors a quarter turn
anticlockwise from the directions to its mates, where centres are tight: rolling without slip. With other centres each counts by the
sum of pitch radii over the distance. The gear that has to move least, along p - n, is to be named.
"""

from __future__ import annotations

import math
import re
from types import SimpleNamespace
from typing import Any

import pytest

from trivet.checks import _collide_remedy, _interference, _ring_remedy, _teeth_changed
from trivet.model.base import Ref
from trivet.record import replace
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry, tight_centre_distance_mm
from trivet.solve.mesh_phase import ring_closure

TEETH, NAMES = (20, 30, 40, 30), ("hub", "one", "last", "two")
# At this distance the rules' kite of module 4 closes.
CLOSED_MM = 200.059485
Centres = tuple[tuple[float, float], ...]


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def kite(moved: int = 0, by: float = 0.0, towards_deg: float = 0.0, scale: float = 1.0) -> Centres:
    """The closed kite with one gear moved; sides of 100 and 140."""
    angle = math.acos((CLOSED_MM**2 + 100.0**2 - 140.0**2) / (2.0 * CLOSED_MM * 100.0))
    x, y = 100.0 * math.cos(angle), 100.0 * math.sin(angle)
    places = [(scale * (100.0 + u), scale * (200.0 + v)) for u, v in ((0.0, 0.0), (x, y), (CLOSED_MM, 0.0), (x, -y))]
    u, v = places[moved]
    places[moved] = (u + by * math.cos(math.radians(towards_deg)), v + by * math.sin(math.radians(towards_deg)))
    return tuple(places)


def said(centres: Centres, allowed: float, module: float = 4.0, unit: str = "mm", rings: Any = (), meshes: Any = ()) -> str:
    """What is said of a ring on a board whose (0, 0) is at (10, 20)."""
    states = {
        name: named(id=name, x_mm=x, y_mm=y, gear=named(z=z, name=Ref(name), under=Ref("deck")), geometry=named(module_mm=module))
        for name, (x, y), z in zip(NAMES, centres, TEETH, strict=True)
    }
    boards = (named(name=Ref("other"), x_mm=9e9, y_mm=9e9), named(name=Ref("deck"), x_mm=10.0, y_mm=20.0))
    design: Any = named(boards=boards, rings=rings, meshes=meshes)
    return _ring_remedy.ring_remedy(design, named(train=named(gear=states.__getitem__)), named(gears=NAMES, allowed_mm=allowed, residual_mm=9.0), unit)


def least_move(centres: Centres, module: float = 4.0, furthest: float = 10.0) -> tuple[str, float, float, float] | None:
    """Name, move and place in the world of the gear that has to move least, none of its two meshes tighter by 0.02."""
    arc = ring_closure(TEETH, centres, module).residual_pitches * math.pi * module
    moves = []
    for k, (x, y) in enumerate(centres):
        mates = (k - 1) % 4, (k + 1) % 4
        across = [0.0, 0.0]
        for mate, sign in zip(mates, (1.0, -1.0), strict=True):
            dx, dy = centres[mate][0] - x, centres[mate][1] - y
            far = math.hypot(dx, dy)
            weight = (-1.0) ** k * sign * module * (TEETH[k] + TEETH[mate]) / 2.0 / far
            across = [across[0] - weight * dy / far, across[1] + weight * dx / far]
        steep = across[0] ** 2 + across[1] ** 2
        place = (x - arc * across[0] / steep, y - arc * across[1] / steep)
        tighter = any(math.dist(place, centres[mate]) < math.dist((x, y), centres[mate]) - 0.02 for mate in mates)
        if not tighter and math.dist(place, (x, y)) <= furthest:
            moves.append((math.dist(place, (x, y)), NAMES[k], *place))
    if not moves:
        return None
    far, name, x, y = min(moves)
    return name, far, x, y


PLACE = re.compile(r"`at \((-?[\d.]+), (-?[\d.]+)\) (mm|in)` for `(\w+)`, ([\d.]+) mm from where it stands, closes the ring; or open the ring by")
NOTHING = "place one gear of the ring by its meshes alone, or open the ring by leaving out one mesh"


@pytest.mark.parametrize("moved", range(4))
def test_the_gear_that_has_to_move_least(moved: int) -> None:
    named_here = set()
    for towards in range(7, 360, 15):  # where no two gears are alike
        centres = kite(moved, 0.6, towards)
        words, wanted = said(centres, 0.1), least_move(centres)
        if wanted is None:
            assert words == NOTHING
            continue
        found = PLACE.match(words)
        assert found is not None, words
        assert found[4] == wanted[0] and float(found[5]) == pytest.approx(wanted[1], abs=0.006)
        assert (float(found[1]) + 10.0, float(found[2]) + 20.0) == pytest.approx(wanted[2:], abs=2e-3)
        named_here.add(found[4])
    assert len(named_here) >= 2


def test_a_move_counts_only_where_it_closes() -> None:
    # Far out, one step along the slope leaves a rest: backlash (and a thousandth for rounding) must take it up.
    centres = kite(2, 3.0, 150.0)
    found = PLACE.match(said(centres, 9.0))
    assert found is not None and float(found[5]) > 1.0
    index = NAMES.index(found[4])
    there = [*centres]
    there[index] = (float(found[1]) + 10.0, float(found[2]) + 20.0)
    rest = ring_closure(TEETH, there, 4.0).residual_arc_mm
    assert rest > 0.005
    first = found[0]
    assert said(centres, rest - 0.0005).startswith(first) and not said(centres, rest - 0.003).startswith(first)


def test_a_gear_is_moved_a_centimetre_at_most() -> None:
    # Five times as large, of module 20: half a pitch is 31 mm.
    names = set()
    for by in (9.0, 9.6, 10.4, 11.0):
        for moved in (1, 3):
            for towards in range(0, 360, 30):
                centres = kite(moved, by, towards, 5.0)
                wanted, free = least_move(centres, 20.0), least_move(centres, 20.0, 99.0)
                words = said(centres, 99.0, 20.0)
                found = PLACE.match(words)
                assert (found[4] if found else None) == (wanted[0] if wanted else None), (words, wanted)
                if free is not None and wanted is None:
                    names.add(free[0])
    assert names


def test_how_a_move_is_written() -> None:
    centres = kite(1, 0.6, 0.0)
    wanted = least_move(centres)
    assert wanted is not None
    inches = said(centres, 0.1, unit="in")
    assert inches.startswith(f"`at ({round((wanted[2] - 10.0) / 25.4, 3):g}, {round((wanted[3] - 20.0) / 25.4, 3):g}) in` for `{wanted[0]}`, ")
    # A gear that a mesh places by an angle loses it there; other meshes, and those without an angle, are left alone.
    angled = named(a=Ref("first"), b=Ref(wanted[0]), angle=3.0)
    others = (named(a=Ref("x"), b=Ref(wanted[0]), angle=None), named(a=Ref(wanted[0]), b=Ref("y"), angle=3.0))
    assert f"` for `{wanted[0]}`, in place of its angle in `mesh first`, 0." in said(centres, 0.1, meshes=(*others, angled))
    assert "in place of" not in said(centres, 0.1, meshes=others)
    # Gears of a `ring` stand where it puts them: there teeth are to be alike.
    made, other = named(gears=tuple(map(Ref, reversed(NAMES)))), named(gears=(Ref("hub"), Ref("x")))
    # 20 and 40 beside 30 and 30: (4 - 2) (20 - 30) / 4 is whole, so the first of 20 and 40 is the usual one.
    assert said(centres, 0.1, rings=(other, made)) == "20 teeth on `last` close it; or open the ring by leaving out one mesh"
    assert said(centres, 0.1, rings=(other,)).startswith("`at (")


def test_teeth_alike_where_the_first_is_unlike() -> None:
    states = {name: named(gear=named(z=z)) for name, z in zip("abcdef", (21, 30, 20, 31, 20, 30), strict=True)}
    train: Any = named(gear=states.__getitem__)
    assert _ring_remedy._alike_teeth(named(train=train), named(gears=tuple("abcdef"))) == "20 teeth on `a` and 30 teeth on `d` close it"


def at_turn(name: str, turn: float, tip: float = 30.0, radius: float = 100.0, hub: tuple[float, float] = (7.0, 5.0)) -> Any:
    x, y = hub[0] + radius * math.cos(math.radians(turn)), hub[1] + radius * math.sin(math.radians(turn))
    return named(id=name, x_mm=x, y_mm=y, tip_radius_mm=tip)


def turned(
    moved: float, stays: float, *others: float, hub: tuple[float, float] = (7.0, 5.0), tips: tuple[float, float] = (30.0, 20.0), gap: float = 1.0
) -> str:
    """The angle at which `b` is offered, out of the way of `c` at `stays` and of gears of 20 at others' angles."""
    centre, b, c = at_turn("hub", 0.0, 20.0, 0.0, hub), at_turn("b", moved, tips[0], hub=hub), at_turn("c", stays, tips[1], hub=hub)
    gears = (centre, b, c, *(at_turn(f"d{k}", turn, 20.0, hub=hub) for k, turn in enumerate(others)))
    train: Any = named(gears=gears, gear={"hub": centre}.__getitem__)
    design: Any = named(meshes=(named(a=Ref("hub"), b=Ref("b"), angle=moved),), gears=(), rings=())
    words = _collide_remedy.turned_away(design, named(train=train), c, b, gap)
    found = re.fullmatch(r"`with b at (\d+) deg` in `mesh hub`", words)
    assert found is not None or not words, words
    return found[1] if found else ""


def test_a_gear_turns_away_to_the_next_whole_degree() -> None:
    # 30 + 20 + 1 apart on a circle of 100: 29.55 deg. From 9.5 the next whole degree is 10, 30 from -20.
    assert turned(9.5, -20.0) == "10" and turned(-9.5, 20.0) == "350" and turned(0.5, 20.0) == "350"
    # Downwards every degree is tried: 9 is 30 from 39.
    assert turned(20.5, 39.0) == "9" and turned(21.5, 40.0) == "10" and turned(170.5, 150.5) == "181" and turned(-150.5, -170.5) == "220"
    # On the far side it still goes away from what it was to leave, by the shorter way.
    assert (turned(179.5, 0.0), turned(180.5, 0.0), turned(-179.5, 0.0), turned(-90.25, 90.25)) == ("180", "180", "180", "270")
    assert turned(-90.25, 89.25) == "269"
    # One that is clear already goes a degree further: it is asked because it was not.
    assert turned(0.0, -30.0, hub=(0.0, 0.0)) == "1"
    # Other gears in the way are passed.
    assert turned(9.5, -20.0, 39.0) == "" and turned(9.5, -20.0, 30.0) == "" and turned(9.5, -20.0, 120.0) == "10"
    assert turned(0.5, -20.0, tips=(30.0, 20.0), gap=26.0) == "25" and turned(0.5, -20.0, gap=51.0) == "41"


HUB, WHEEL = ToothGeometry(9, 6.0), ToothGeometry(20, 6.0)


def past_mm(tip: ToothGeometry, root: ToothGeometry, apart: float) -> float:
    """How far a tip reaches past the end of the line of action: ra against sqrt(rb^2 + (A sin aw)^2)."""
    working = math.acos((tip.base_radius_mm + root.base_radius_mm) / apart)
    return tip.tip_radius_mm - math.hypot(tip.base_radius_mm, apart * math.sin(working))


def test_the_shift_that_ends_an_interference() -> None:
    found = _interference.least_shift(WHEEL, HUB)
    assert found is not None and 0.0 < found < 0.6 and round(found * 100.0) == pytest.approx(found * 100.0)
    after = [past_mm(WHEEL, root, tight_centre_distance_mm(WHEEL, root)) for root in (replace(HUB, profile_shift=shift) for shift in (found, found - 0.01))]
    assert after[0] <= 0.0 < after[1]
    shifted = replace(HUB, profile_shift=0.1)
    assert _interference.least_shift(WHEEL, shifted) == pytest.approx(found)
    # One hundredth is always tried, and one whole module at most.
    assert _interference.least_shift(ToothGeometry(20, 6.0), ToothGeometry(30, 6.0)) == 0.01
    assert _interference.least_shift(WHEEL, replace(ToothGeometry(30, 6.0), profile_shift=0.99)) == 1.0
    assert _interference.least_shift(WHEEL, replace(ToothGeometry(30, 6.0), profile_shift=1.0)) is None


def test_the_distance_that_ends_an_interference() -> None:
    root = replace(HUB, profile_shift=0.6)
    tight = tight_centre_distance_mm(WHEEL, root)
    mesh: Any = named(centre_distance_mm=tight - 4.0)
    assert past_mm(WHEEL, root, tight) < 0.0 < past_mm(WHEEL, root, tight - 4.0)
    found = _interference.least_distance_mm(mesh, WHEEL, root)
    assert found is not None and tight - 4.0 < found < tight
    assert past_mm(WHEEL, root, found) == pytest.approx(0.0, abs=1e-6)
    geometry = mesh_geometry(WHEEL, root, found)
    assert geometry is not None and max(geometry.interference_mm) <= 0.0
    # A hundredth of shift decides whether it does at its own distance.
    enough = _interference.least_shift(WHEEL, HUB)
    assert enough is not None
    near, short = (replace(HUB, profile_shift=shift) for shift in (enough, enough - 0.01))
    assert _interference.least_distance_mm(named(centre_distance_mm=80.0), WHEEL, near) is not None
    assert _interference.least_distance_mm(named(centre_distance_mm=80.0), WHEEL, short) is None
    # Without a shift it interferes at its own distance; farther out than that, the present distance does.
    assert _interference.least_distance_mm(named(centre_distance_mm=86.0), WHEEL, HUB) is None
    assert _interference.least_distance_mm(named(centre_distance_mm=tight + 1.0), WHEEL, root) == pytest.approx(tight + 1.0)


def test_pairs_that_interfere_alike() -> None:
    def mesh(a: str, b: str, past_a: float, past_b: float, stated: Any = None) -> Any:
        return named(a=a, b=b, interference_a_mm=past_a, interference_b_mm=past_b, mesh=named(centre_distance=stated))

    states = {name: named(id=name, geometry=HUB if name == "hub" else WHEEL) for name in ("hub", "west", "east")}
    meshes = (
        mesh("hub", "west", -1.0, 0.2), mesh("east", "hub", 0.2 + 4e-8, 1e-10), mesh("west", "east", 0.0, 0.0), mesh("hub", "west", 0.3, 0.2, "stated"),
    )  # fmt: skip
    train: Any = named(meshes=meshes, gear=states.__getitem__)
    found = list(_interference.interfering(named(train=train)))
    assert [(tip.id, root.id, past) for _, (_, tip, root, past) in found] == [
        ("west", "hub", 0.2), ("east", "hub", 0.2 + 4e-8), ("hub", "west", 0.3), ("west", "hub", 0.2),
    ]  # fmt: skip
    assert found[0][0] == found[1][0] and len({key for key, _ in found}) == 3


@pytest.mark.parametrize("blank", [ToothGeometry(28, 6.0), ToothGeometry(28, 6.0, pressure_angle_rad=math.radians(14.5))])
def test_shorter_tips_that_still_mesh(blank: ToothGeometry) -> None:
    def still(more: float, names: tuple[str, ...] = ("hub",), apart: float = 174.0) -> bool:
        """Hub and west of one form, far and back of another, far apart in that order of meshes."""
        forms = {"hub": "a", "west": "a", "far": "b", "back": "b"}
        states = {name: named(gear=named(tooth_form=Ref(form)), geometry=blank) for name, form in forms.items()}
        pairs = (("far", "back", 999.0), ("hub", "west", 168.0), ("west", "far", apart))
        meshes = tuple(named(a=a, b=b, centre_distance_most_mm=mm) for a, b, mm in pairs)
        return _teeth_changed.shortened_still_mesh(named(train=named(meshes=meshes, gear=states.__getitem__)), names, more)

    def fits(first: float, second: float, apart: float) -> bool:
        found = mesh_geometry(*(replace(blank, tip_shortening_mm=more) for more in (first, second)), apart)
        # 1.2 pairs of teeth, 1.2 modules of depth.
        return found is not None and found.contact_ratio >= 1.2 and found.working_depth_mm >= 7.2

    steps = [0.1 * k for k in range(60)]
    for apart in (168.0, 169.0, 170.0):
        told = [still(more, apart=apart) for more in steps]
        assert told == [fits(more, more, 168.0) and fits(more, 0.0, apart) for more in steps] and True in told and False in told
    assert not still(0.0, ("far",)) and not still(0.0, apart=999.0)


def test_the_largest_shift_is_none_too_many() -> None:
    teeth = ToothGeometry(12, 4.0, profile_shift=0.05)
    lands = [replace(teeth, profile_shift=shift / 100.0).tip_land_mm for shift in (-1, 0, 1, 2, 3, 4)]
    assert lands == sorted(lands, reverse=True)
    # Each hundredth is tried, down to none at all.
    assert [_teeth_changed.largest_shift(teeth, land) for land in lands] == [None, 0.0, 0.01, 0.02, 0.03, 0.04]
