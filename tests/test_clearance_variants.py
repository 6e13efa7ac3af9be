"""Rules of clearance and assembly: each finds every one of many violating variants, and is silent on the sound ones beside them.

Where the border lies is worked out by hand in each entry; variants keep a little away from it on either side.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from itertools import product

import pytest
from tests.quick_solve import findings_alone

from trivet.checks._examples import example_text
from trivet.checks.keeper_overlaps import KEPT
from trivet.checks.strikes_board_below import SKIRT

Variant = Callable[..., str]


def _steps(low: float, high: float, count: int) -> list[tuple[float]]:
    return [(round(low + (high - low) * k / (count - 1), 3),) for k in range(count)]


def compound(one: int, other: int) -> str:
    """`west` and `nw` stand 120 mm apart and have 66 mm tips; a gear of module 6 has a tip of 3 z + 6 under each."""
    return (
        f"- gear west, east\n+ gear low_w\n+   teeth {one}\n+   on_shaft_with west, below\n+ \n"
        f"+ gear low_nw\n+   teeth {other}\n+   on_shaft_with nw, below\n+ \n+ gear west, east\n"
    )


def foot_under_gear(diameter: float) -> str:
    """A gear of 25 teeth (tip 81 mm) under `west`, 120 mm from a foot: 1 mm is left of a pad of 76 mm."""
    return (
        "- gear west, east\n+ gear low_w\n+   teeth 25\n+   on_shaft_with west, below\n+ \n+ gear west, east\n"
        "- screw ISO 4017, length 30 mm, pocket 5.8 mm\n+   screw ISO 4017, length 30 mm, pocket 1 mm\n"
        f"- pad dome, drop 3 mm\n+   pad disc diameter {diameter} mm, drop 14 mm\n"
    )


def keepers(width: float, height: float) -> str:
    """Feet of one side stand 240 sin(62°) = 211.9 mm apart; the teeth of each are 132 mm over all."""
    return KEPT.format(f"{width} by {height}")


def jam_nut(diameter: float) -> str:
    """M8 nuts are 13 mm across flats: 1.35 · 13 + 1.5 = 19.05 mm of socket."""
    old = "jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm"
    return f"- {old}\n+   {old.replace('round 24', f'round {diameter}')}\n"


def zone(width: float, depth: float = 8) -> str:
    """The western feet stand at x = 240 − 108 − 120 cos 62° = 75.66 mm; an insert of 16.1 mm begins at 67.61 mm, 2.6 mm deep."""
    return f"+ \n+ cut_zone kerf\n+   edge left, width {width} mm, depth {depth} mm\n"


def web(count: int, diameter: float) -> str:
    """25 mm between hub and rim, 27 to 44 mm or so from the axis: six holes 6 mm apart can have 29 mm by pitch, so the room decides."""
    return f"- gear west, east\n+ gear west, east\n+   web holes {count}, diameter {diameter} mm\n"


def skirt(depth: float) -> str:
    """Gears hang down to 20 mm, the skirt begins at 2 mm: no pocket of 17.8 mm of wood holds them."""
    return SKIRT.format(f"depth {depth} mm")


def opening(width: float) -> str:
    """The western tips reach from x = 9.66 mm to 470.34 mm: 1 mm is left by an opening of 462.7 mm in the middle."""
    return SKIRT.format("through").replace("470 by 350", f"{width} by 350")


def drained(x: float) -> str:
    """The same pocket as in `skirt`, with a hole through its floor."""
    hole = f"+ \n+ hole drain\n+   into skirt\n+   diameter 10 mm\n+   at skirt ({x}, 190) mm\n"
    return hole + SKIRT.format("depth 14 mm")


def topside_insert(length: float) -> str:
    """Flush with the topside of 17.6 mm at the thinnest, over 0.3 mm of play."""
    return KEPT.format("170 by 70") + (
        "- insert my_insert, driven_from topside, flush underside\n+   insert my_insert, driven_from topside, flush topside\n"
        f"- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row M8, 16.0 +/- 0.1, {length}, 4, 15, 13.5\n"
    )


def sunk(depth: float) -> str:
    """17.8 mm of board over a 15 mm insert from the underside: 2.8 mm to its end, and 0.5 mm are allowed."""
    return (
        "- at deck.centre\n+   at (240, 175) mm\n- foot corner\n+ hole sunk\n+   into deck\n+   diameter 20 mm\n"
        f"+   blind {depth} mm\n+   at (75.66341246569309, 280.9537111430713) mm\n+ \n+ foot corner\n"
    )


# slug: what makes a fixture, values that violate, values that do not.
RULES: dict[str, tuple[Variant, Iterable[tuple[float, ...]], Iterable[tuple[float, ...]]]] = {
    "assembly-blocked": (compound, list(product(range(17, 22), repeat=2)), [(16, 16), (16, 20), (20, 16), (8, 21), (12, 12)]),
    "gear-hits-hardware": (foot_under_gear, _steps(76.5, 108, 22), _steps(20, 75.5, 8)),
    "keeper-overlaps": (keepers, [(60, h) for h in range(213, 235)], [(60, h) for h in range(160, 211, 8)]),
    "keeper-hangs-free": (keepers, [(w, 10) for w in range(130, 152)], [(w, 10) for w in range(153, 180, 4)]),
    "no-room-for-spanner": (jam_nut, _steps(13, 19, 22), _steps(19.1, 26, 8)),
    "metal-in-cut-zone": (zone, _steps(67.8, 110, 22), [*_steps(5, 67.4, 8), (110, 0.4)]),
    "web-finds-no-room": (web, [(n, d) for n in (4, 6) for d in range(26, 37)], [(6, 8), (6, 15), (6, 20), (4, 20), (3, 20)]),
    "strikes-board-below": (skirt, _steps(4, 17, 22), []),
    "dust-packs-in-pocket": (skirt, _steps(4, 17, 22), []),
    "insert-presses-gear": (topside_insert, _steps(17.95, 22, 20), _steps(15.5, 17.8, 8)),
    "insert-end-in-air": (sunk, _steps(3.4, 14, 22), _steps(0.5, 3.2, 6)),
}
MORE: dict[str, tuple[Variant, Iterable[tuple[float, ...]], Iterable[tuple[float, ...]]]] = {
    "strikes-board-below": (opening, _steps(440, 462, 5), _steps(463.5, 490, 5)),
    "dust-packs-in-pocket": (drained, [], [(60,), (150,), (250,), (400,)]),
}
CASES = [(slug, *entry) for table in (RULES, MORE) for slug, entry in table.items()]


@pytest.mark.parametrize(("slug", "make", "bad"), [(s, m, v) for s, m, bad, _ in CASES for v in bad])
def test_violation_is_found(slug: str, make: Variant, bad: tuple[float, ...]) -> None:
    assert findings_alone(example_text(make(*bad)), slug), bad


@pytest.mark.parametrize(("slug", "make", "good"), [(s, m, v) for s, m, _, good in CASES for v in good])
def test_sound_variant_is_silent(slug: str, make: Variant, good: tuple[float, ...]) -> None:
    assert [item.message for item in findings_alone(example_text(make(*good)), slug)] == []


def test_there_are_enough() -> None:
    for slug, (_, bad, _) in RULES.items():
        assert len(list(bad)) >= 20, slug


# slug: what makes a fixture, a value that violates, and where its remedy holds the numbers that would work.
REMEDIES: list[tuple[str, Variant, tuple[float, ...], str]] = [
    ("web-finds-no-room", web, (6, 30), r"`web holes (\d+), diameter ([\d.]+) mm`"),
    ("web-finds-no-room", web, (12, 24), r"`web holes (\d+), diameter ([\d.]+) mm`"),
    ("no-room-for-spanner", jam_nut, (17,), r"a recess ([\d.]+) mm wide or more"),
    ("insert-presses-gear", topside_insert, (19,), r"no longer than ([\d.]+) mm"),
    ("insert-end-in-air", sunk, (6,), r"a depth of ([\d.]+) mm or less"),
]


@pytest.mark.parametrize(("slug", "make", "bad", "numbers"), REMEDIES)
def test_the_remedys_number_works(slug: str, make: Variant, bad: tuple[float, ...], numbers: str) -> None:
    (item,) = findings_alone(example_text(make(*bad)), slug)
    found = re.search(numbers, item.remedy)
    assert found is not None, item.remedy
    assert (
        findings_alone(example_text(make(*(float(group) if "." in group else int(group) for group in found.groups()))), slug) == []
    )


def test_remedies_of_zones_and_keepers() -> None:
    """A zone as much narrower, or no deeper than said; a keeper as wide as said."""
    (item,) = findings_alone(example_text(zone(80)), "metal-in-cut-zone")
    narrower, shallower = re.search(r"([\d.]+) mm narrower", item.remedy), re.search(r"no deeper than ([\d.]+) mm", item.remedy)
    assert narrower is not None and shallower is not None
    assert findings_alone(example_text(zone(80 - float(narrower[1]))), "metal-in-cut-zone") == []
    assert findings_alone(example_text(zone(80, float(shallower[1]))), "metal-in-cut-zone") == []
    (item,) = findings_alone(example_text(keepers(140, 10)), "keeper-hangs-free")
    wide = re.search(r"an outline of ([\d.]+) mm or more", item.remedy)
    assert wide is not None
    assert findings_alone(example_text(keepers(float(wide[1]), 10)), "keeper-hangs-free") == []
