"""The order of assembly against trying every order, on small trains of gears in levels. Shares no code with the solver.

Four shafts in a crooked row, the first the drive's and the others idlers; under some gears one or two more are fixed. A shaft comes
straight up from below. It can not where a gear that is there already lies at a lower level than one of its own gears and overlaps
it seen from above, unless the two are in mesh. Module 6: tip radius 3 z + 6 mm, centres 3 (z + z') mm apart.
"""

from __future__ import annotations

import itertools
import math
import random

import pytest
from tests.quick_solve import solved

from trivet.checks._examples import BASE
from trivet.solve.assembly import assembly

Shaft = tuple[tuple[float, float], tuple[int, ...]]
NAMES = ("a", "b", "c", "d")
CASES = 60


def train(seed: int) -> tuple[list[Shaft], list[float]]:
    """Shafts as (place, teeth by level), and the angles at which each stands from the one before."""
    draw = random.Random(seed)
    teeth = [draw.choice((14, 18, 20, 24)) for _ in NAMES]
    lower = [tuple(draw.choice((10, 14, 17, 20, 23)) for _ in range(draw.choice((0, 1, 1, 2)))) for _ in NAMES]
    angles = [draw.uniform(-70.0, 70.0) for _ in NAMES[1:]]
    place = (400.0, 400.0)
    shafts: list[Shaft] = [(place, (teeth[0], *lower[0]))]
    for index, angle in enumerate(angles, 1):
        apart = 3.0 * (teeth[index - 1] + teeth[index])
        place = (place[0] + apart * math.cos(math.radians(angle)), place[1] + apart * math.sin(math.radians(angle)))
        shafts.append((place, (teeth[index], *lower[index])))
    return shafts, angles


def text_of(shafts: list[Shaft], angles: list[float]) -> str:
    lines = BASE[: BASE.index("board deck")].splitlines()
    lines += ["board deck", "  stock ply18", "  cutter straight6", "  outline rectangle 1210 by 600 mm", ""]
    for name, (place, teeth) in zip(NAMES, shafts, strict=True):
        at = [f"  at ({place[0]} , {place[1]}) mm".replace(" ,", ",")] if name == "a" else []
        lines += [f"gear {name}", f"  teeth {teeth[0]}", *at, f"  turn{'ed_by crank' if name == 'a' else 's_on pin'}", ""]
        for level, count in enumerate(teeth[1:], 1):
            over = name if level == 1 else f"{name}{level - 1}"
            lines += [f"gear {name}{level}", f"  teeth {count}", f"  on_shaft_with {over}, below", ""]
    for one, other, angle in zip(NAMES, NAMES[1:], angles, strict=False):
        lines += [f"mesh {one}", f"  with {other} at {angle!r} deg", ""]
    rest = BASE[BASE.index("drive crank") : BASE.index("foot corner")]
    return "\n".join(lines) + "\n" + rest


def hides(lower: Shaft, upper: Shaft, mates: bool) -> bool:
    """Whether a gear of `lower` lies under one of `upper` that it overlaps. Gears at level 0 of neighbours are in mesh."""
    (x, y), (u, v) = lower[0], upper[0]
    apart = math.hypot(x - u, y - v)
    return any(
        deep > high and 3.0 * (z + w) + 12.0 > apart + 0.01
        for deep, z in enumerate(lower[1])
        for high, w in enumerate(upper[1])
        if not (mates and deep == high == 0)
    )


def orders(shafts: list[Shaft]) -> list[tuple[int, ...]]:
    """Every order in which each shaft finds its way free."""
    found = []
    for order in itertools.permutations(range(len(shafts))):
        if all(not hides(shafts[there], shafts[new], True) for k, new in enumerate(order) for there in order[:k]):
            found.append(order)
    return found


@pytest.mark.parametrize("seed", range(CASES))
def test_an_order_is_found_exactly_where_there_is_one(seed: int) -> None:
    shafts, angles = train(seed)
    design, derived = solved(text_of(shafts, angles))
    found = assembly(design, derived)
    possible = orders(shafts)
    assert (found.blocked == ()) == bool(possible), found.blocked
    put_on = [part.rpartition(".")[2] for step in found.steps if step.kind in ("hang_idler", "fit_drive") for part in step.parts]
    assert sorted(put_on) == list(NAMES)
    if possible:
        assert tuple(NAMES.index(name) for name in put_on) in possible


def test_the_cases_are_of_both_kinds() -> None:
    made = [bool(orders(train(seed)[0])) for seed in range(CASES)]
    assert 10 <= sum(made) <= CASES - 10
    few = [len(orders(train(seed)[0])) for seed in range(CASES)]
    assert sum(0 < count < 12 for count in few) >= 10, few


@pytest.mark.parametrize("seed", range(CASES))
def test_what_is_named_captive_is_captive(seed: int) -> None:
    """Each named part is hidden by all that hold it; where two gears of one level run into each other, a nut may be what is hidden."""
    shafts, angles = train(seed)
    found = assembly(*solved(text_of(shafts, angles)))
    for captive in found.blocked:
        part = NAMES.index(captive.part.rpartition(".")[2])
        held_by = [NAMES.index(name.rpartition(".")[2]) for name in captive.held_by]
        assert held_by
        assert all(hides(shafts[other], shafts[part], True) or collide(shafts[other], shafts[part]) for other in held_by)


def collide(one: Shaft, other: Shaft) -> bool:
    apart = math.dist(one[0], other[0])
    return any(3.0 * (z + w) + 12.0 > apart + 0.01 for z, w in zip(one[1], other[1], strict=False))
