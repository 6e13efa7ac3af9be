"""Which gears collide, and how pairs alike become one finding: each sum is written out. Lengths mm.

Gears are discs of 10 mm radius, 10 mm thick, hung at 0 unless said: two of them want 21 mm between their axes.
"""

from __future__ import annotations

from itertools import pairwise
from types import SimpleNamespace
from typing import Any

import pytest

from trivet.checks import gears_collide
from trivet.diagnostics import Diagnostic
from trivet.model.base import Band
from trivet.solve.train_graph import pair
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)


def of(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


def disc(
    name: str, x: float, y: float = 0.0, radius: float = 10.0, level: int = 0, top: float = 0.0, thick: float = 10.0, shaft: str = ""
) -> Any:
    """A gear whose place in the file is its name's first letter."""
    declared = of(name=of(text=name, origin=at(ord(name[0]) - 97)))
    bands = {"z_top": Band(top, top - 1.0, top + 2.0), "face_width": Band(thick, thick - 3.0, thick + 4.0)}
    return of(id=name, x_mm=x, y_mm=y, tip_radius_mm=radius, level=level, shaft=shaft or name, gear=declared, **bands)


def found(
    monkeypatch: pytest.MonkeyPatch,
    *gears: Any,
    meshes: tuple[tuple[str, str], ...] = (),
    feet: tuple[tuple[str, str], ...] = (),
    travel: float | None = None,
    turned: str = "",
    units: str = "mm",
) -> list[Diagnostic]:
    """The findings; `feet` are gears with the kind of their foot."""
    monkeypatch.setattr(gears_collide, "train_graph", lambda design: of(meshes={pair(*names): None for names in meshes}))

    def away(design: Any, derived: Any, one: Any, other: Any, gap: float) -> str:
        assert gap == 1.0 and one.id != other.id
        return turned

    monkeypatch.setattr(gears_collide, "turned_away", away)
    lift = None if travel is None else of(travel_mm=travel)
    states = tuple(of(gear=name, foot=of(kind=kind)) for name, kind in feet)
    return list(gears_collide.check(of(units=units), of(train=of(gears=gears), feet=states, lift=lift)))


@pytest.mark.parametrize(
    ("x", "words"),
    [
        (21.0, ""),
        (20.99, "stand 20.99 mm apart and are not in mesh; at least 21 mm is required, their tips pass with 0.99 mm"),
        (20.0, "stand 20 mm apart and are not in mesh; at least 21 mm is required, their tips pass with 0 mm"),
        (19.5, "stand 19.5 mm apart and are not in mesh; at least 21 mm is required, their tips overlap by 0.5 mm"),
        (-18.0, "stand 18 mm apart and are not in mesh; at least 21 mm is required, their tips overlap by 2 mm"),
    ],
)
def test_tips_keep_a_millimetre(monkeypatch: pytest.MonkeyPatch, x: float, words: str) -> None:
    items = found(monkeypatch, disc("a", 0.0), disc("b", x))
    assert [item.message for item in items] == ([f"`a` and `b` {words}"] if words else [])
    for item in items:
        more = f"{21.0 - abs(x):g} mm"
        assert item.remedy == f"move them {more} further apart, or join them by a mesh if they are meant to"
        assert (item.span, [label.span for label in item.related], item.parts) == (at(1), [at(0)], ("a", "b"))


def test_distance_is_measured_across_and_both_radii_count(monkeypatch: pytest.MonkeyPatch) -> None:
    # 12 and 16 are 20 apart; 10 + 14 + 1 are wanted, either gear the larger, whichever is declared first.
    for gears in ((disc("a", 3.0, 5.0), disc("b", 15.0, 21.0, 14.0)), (disc("b", 3.0, 5.0, 14.0), disc("a", 15.0, -11.0))):
        (item,) = found(monkeypatch, *gears)
        assert "stand 20 mm apart" in item.message and "at least 25 mm" in item.message and "overlap by 4 mm" in item.message
        assert item.message.startswith(f"`{gears[0].id}` and `{gears[1].id}`") and item.remedy.startswith("move them 5 mm")


@pytest.mark.parametrize(
    ("top", "level", "words"),
    [
        (-9.5, 0, None),  # half a millimetre is shared
        (-9.4, 0, ""),
        (9.4, 0, ""),
        (9.5, 0, None),
        (-7.0, 1, None),  # three, between levels
        (-6.9, 1, ", over 3.1 mm of height"),
        (6.9, 1, ", over 3.1 mm of height"),
        (7.0, 1, None),
        (12.0, 0, None),
    ],
)
def test_height_that_two_gears_share(monkeypatch: pytest.MonkeyPatch, top: float, level: int, words: str | None) -> None:
    items = found(monkeypatch, disc("a", 0.0), disc("b", 18.0, top=top, level=level))
    assert [item.message.partition("overlap by 2 mm")[2] for item in items] == ([words] if words is not None else [])


def test_gear_of_a_riding_foot_goes_down_over_the_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    foot, low = disc("a", 0.0), disc("b", 18.0, top=-12.0)
    assert not found(monkeypatch, foot, low, feet=(("a", "riding"),))
    assert not found(monkeypatch, foot, low, feet=(("a", "riding"),), travel=2.5)  # 0 to -12.5: half a millimetre
    assert found(monkeypatch, foot, low, feet=(("a", "riding"),), travel=2.6)
    assert not found(monkeypatch, foot, low, feet=(("a", "sliding_hex"),), travel=20.0)
    assert not found(monkeypatch, foot, low, feet=(("b", "riding"),), travel=20.0)
    # Without a lift nothing goes down: it ends at -10.
    assert not found(monkeypatch, foot, disc("b", 18.0, top=-10.4), feet=(("a", "riding"),))
    assert found(monkeypatch, foot, disc("b", 18.0, top=-9.4), feet=(("a", "riding"),))
    # What is fixed on its shaft goes with it.
    assert found(monkeypatch, disc("c", 0.0, shaft="a"), low, disc("a", 500.0), feet=(("a", "riding"),), travel=2.6)


def test_meshes_and_shafts_are_meant_to_touch(monkeypatch: pytest.MonkeyPatch) -> None:
    gears = (disc("a", 0.0), disc("b", 18.0))
    assert not found(monkeypatch, *gears, meshes=(("b", "a"),))
    assert found(monkeypatch, *gears, meshes=(("b", "c"),))
    assert not found(monkeypatch, disc("a", 0.0, shaft="b"), disc("b", 0.0))


@pytest.mark.parametrize("first", [0, 1])
def test_neighbours_in_every_direction(monkeypatch: pytest.MonkeyPatch, first: int) -> None:
    """Squares are as wide as two of the largest gears and the gap: 21. Near each border, corner and middle one pair is found once."""
    ways = [
        ((20.0, 10.0), (22.0, 10.0)), ((10.0, 20.0), (10.0, 22.0)), ((20.0, 20.0), (22.0, 22.0)), ((20.0, 1.0), (22.0, -1.0)),
        ((1.0, 1.0), (-1.0, -1.0)), ((10.0, 10.0), (11.0, 10.0)), ((10.9, 1.0), (31.0, 1.0)), ((1.0, 18.9), (1.0, 39.4)),
    ]  # fmt: skip
    for one, two in ways:
        if first:
            one, two = two, one
        (item,) = found(monkeypatch, disc("a", *one), disc("b", *two))
        assert item.parts == ("a", "b") and "alike" not in item.message
    # A large gear makes squares large: 30 + 10 + 1 over a border of 61.
    assert found(monkeypatch, disc("c", 300.0, 0.0, 30.0), disc("a", 60.0), disc("b", 62.0))


def test_pairs_alike_are_one_finding(monkeypatch: pytest.MonkeyPatch) -> None:
    row = [disc(name, 100.0 * index) for index, name in enumerate("ace")]
    near = [disc(name, 100.0 * index + 18.0 + step) for index, (name, step) in enumerate(zip("bdf", (0.0, 0.004, 0.004), strict=True))]
    turned = "turning `b`"
    (item,) = found(monkeypatch, *row, *near, turned=turned)
    assert item.message.startswith("`a` and `b` stand 18 mm") and item.message.endswith("; 2 other pairs are alike")
    assert item.parts == ("a", "b", "c", "d", "e", "f") and item.remedy.startswith("move them 3 mm further")
    assert [(label.message, label.span) for label in item.related] == [
        ("`a` is declared here", at(0)), ("the same holds for `c` and `d`", at(3)), ("the same holds for `e` and `f`", at(5)),
    ]  # fmt: skip
    (item,) = found(monkeypatch, *row[:2], *near[:2], turned=turned)
    assert item.message.endswith("; 1 other pair is alike") and turned not in item.remedy
    (item,) = found(monkeypatch, row[0], near[0], turned=turned)
    assert item.remedy.startswith("turning `b` clears them, or move them 3 mm further apart")


def test_pairs_alike_stand_in_order_of_their_names(monkeypatch: pytest.MonkeyPatch) -> None:
    (item,) = found(monkeypatch, disc("c", 100.0), disc("d", 118.0), disc("a", 0.0), disc("b", 18.0))
    assert item.parts == ("a", "b", "c", "d") and item.span == at(1)
    # Of two pairs with one first gear the second's name decides: `a` touches `c` west and `b` east of it.
    (item,) = found(monkeypatch, disc("a", 0.0), disc("c", -18.0), disc("b", 18.0))
    assert item.message.startswith("`a` and `b`") and item.parts == ("a", "b", "c")
    (item,) = found(monkeypatch, disc("b", 0.0), disc("c", 18.0), disc("d", 36.0))
    assert item.parts == ("b", "c", "d")
    # As does the first's where the second's is one: `b` and `c`, then `d`, each before the gear that both touch.
    (item,) = found(monkeypatch, disc("d", -18.0), disc("b", 18.0), disc("c", 0.0))
    assert item.message.startswith("`b` and `c`") and item.parts == ("b", "c", "d")


@pytest.mark.parametrize(
    "other",
    [
        disc("d", 118.02),  # 0.02 more between the axes
        disc("d", 118.0, radius=10.02),
        disc("d", 118.0, level=1),
    ],
)
def test_pairs_that_differ_are_findings_of_their_own(monkeypatch: pytest.MonkeyPatch, other: Any) -> None:
    items = found(monkeypatch, disc("a", 0.0), disc("b", 18.0), disc("c", 100.0), other)
    assert [item.parts for item in items] == [("a", "b"), ("c", "d")]


def test_pairs_of_one_distance_between_levels_either_way_are_alike(monkeypatch: pytest.MonkeyPatch) -> None:
    levels = (("a", 1, 0.0), ("b", 2, 18.0), ("c", 2, 100.0), ("d", 1, 118.0))
    (item,) = found(monkeypatch, *(disc(name, x, level=level) for name, level, x in levels))
    assert item.parts == ("a", "b", "c", "d") and "over 10 mm of height; 1 other pair is alike" in item.message


def test_a_row_of_gears_touches_pair_by_pair(monkeypatch: pytest.MonkeyPatch) -> None:
    names = "abcdefg"
    items = found(monkeypatch, *(disc(name, 18.0 * index + 0.1 * index * index) for index, name in enumerate(names)))
    assert [item.parts for item in items] == list(pairwise(names))
    inch = found(monkeypatch, disc("a", 0.0), disc("b", 18.0), units="in")[0]
    assert "stand 0.709 in apart" in inch.message and "at least 0.827 in" in inch.message  # 18/25.4, 21/25.4
