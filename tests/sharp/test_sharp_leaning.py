"""What is said of inserts that lean soon and of gears that share little height: each sum is written out. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.sharp.check_samples import Length, at, form, gear, mesh, of, ref, run, world

from trivet.checks import insert_not_square, low_face_overlap
from trivet.diagnostics import Diagnostic

TILT = "insert tilt of `b`"


def test_tilt_that_takes_all_backlash() -> None:
    # 0.5² = 0.3² + 0.4²: twice the tangent of the tilt that takes 0.2.
    shares = ((TILT, 1.0, 0.2), ("centres", 1.0, 0.3))
    backlash = mesh("a b", 0.5, shares=shares).backlash
    assert insert_not_square.tolerated_deg(backlash, 0.5) == pytest.approx(math.degrees(math.atan(2.0 * math.tan(math.radians(0.5)))))
    assert insert_not_square.tolerated_deg(mesh("a b", 0.2, shares=shares).backlash, 0.5) == 0.0
    assert insert_not_square.tolerated_deg(mesh("a b", -0.5, shares=shares).backlash, 0.5) == 0.0
    assert insert_not_square.tolerated_deg(backlash, 0.0) is None
    assert insert_not_square.tolerated_deg(mesh("a b", 0.5, shares=shares[1:]).backlash, 0.5) is None
    both = (*shares[:1], ("insert tilt of `a`", 1.0, 0.2), shares[1])  # 0.4² / (2 · 0.2²) = 2
    assert insert_not_square.tolerated_deg(mesh("a b", 0.5, shares=both).backlash, 0.5) == pytest.approx(
        math.degrees(math.atan(math.sqrt(2.0) * math.tan(math.radians(0.5))))
    )
    assert insert_not_square.tolerated_deg(mesh("a b", 0.4, shares=shares[:1]).backlash, 0.01) == pytest.approx(0.02, rel=1e-6)


def leaning(names: str, nominal: float, tilt: float = 0.4, start: int = 30) -> Any:
    """A mesh whose only error is the tilt: at 0.25 deg it takes 0.4, so all is taken at nominal / 0.4 times that."""
    return mesh(names, nominal, 0.39, shares=((TILT, 1.0, tilt),), start=start)


def foot(name: str, gear_name: str, guide: Any = None, insert: Any = True) -> Any:
    return of(id=f"{name}.{gear_name}", gear=gear_name, foot=of(name=ref(name), insert=insert, guide=guide))


def test_inserts_that_lean_soon() -> None:
    shop = of(inserts="guide_block", insert_tilt_deg=0.25)
    sets = tuple(of(name=ref(name, start)) for name, start in (("corner", 10), ("side", 12)))

    def with_sets(*meshes: Any, feet: Any, **facts: Any) -> list[Diagnostic]:
        made, derived = world(meshes, feet=feet, shop=shop, **facts)
        made.feet = sets
        return run(insert_not_square, (made, derived))

    one = (foot("corner", "b"),)
    (item,) = with_sets(leaning("a b", 0.62), feet=one)
    assert item.message == (
        "an insert of `corner` may tilt by 0.39 deg before `a` and `b` have no backlash left; 0.5 deg is soon reached"
    )  # 0.25 · 0.62 / 0.4: the tangent of so small an angle is its arc
    # At 0.5 deg it takes 0.8: 0.18 more than 0.62, over the 0.5 stated.
    assert item.remedy == "`backlash 0.7 mm` in the tooth form, or a guide bore over the insert"
    assert (item.span, [label.span for label in item.related], item.parts) == (at(10), [at(30)], ("corner.b",))
    assert with_sets(leaning("a b", 0.79), feet=one) and not with_sets(leaning("a b", 0.81), feet=one)
    assert not with_sets(leaning("a b", 0.39), feet=one)  # binds
    assert not with_sets(leaning("a b", 0.6), feet=(foot("corner", "c"),)) and not with_sets(leaning("a b", 0.6), feet=())
    assert not with_sets(leaning("a b", 0.6), feet=(foot("corner", "b", insert=None),))
    assert not with_sets(leaning("a b", 0.6), feet=(foot("corner", "b", guide=True),))
    assert not with_sets(mesh("a b", 0.6), feet=one)  # nothing leans
    # What else is there: 0.3² + 0.8² = 0.854²; 0.854 + 0.5 - 0.6 = 0.754.
    more = mesh("a b", 0.6, 0.39, shares=((TILT, 1.0, 0.4), ("centres", 1.0, 0.3)))
    assert "`backlash 0.8 mm`" in with_sets(more, feet=one)[0].remedy
    # Told of 0.1 deg, which takes 0.16, it takes five times as much, 0.8 again; in inches 0.3 + 0.8 - 0.62 = 0.48 = 0.0189 in, in steps of 0.002.
    made, derived = world((leaning("a b", 0.62, 0.16),), feet=one, shop=of(inserts="guide_block", insert_tilt_deg=0.1), forms=(form(backlash=0.3),))
    made.feet = sets
    assert "`backlash 0.5 mm`" in run(insert_not_square, (made, derived))[0].remedy
    made.units = "in"
    assert "`backlash 0.02 in`" in run(insert_not_square, (made, derived))[0].remedy
    two = with_sets(leaning("a b", 0.62), feet=one, forms=(form("fine", 0.3), form()))
    assert two[0].remedy.startswith("`backlash 0.7 mm` in the tooth form `coarse`,")


def test_one_finding_for_each_set_at_its_worst_mesh() -> None:
    feet = (foot("corner", "b"), foot("corner", "c"), foot("side", "d"), foot("side", "e", insert=None))
    meshes = (
        leaning("b x", 0.9), leaning("x b", 0.6, start=40), leaning("c b", 0.5, start=50), leaning("x c", 0.7, start=60),
        mesh("x c", 0.6), leaning("x c", 0.1, start=64), leaning("x d", 0.7, start=70), leaning("e x", 0.45),
    )  # fmt: skip
    made, derived = world(meshes, feet=feet, shop=of(inserts="guide_block", insert_tilt_deg=0.25))
    made.feet = tuple(of(name=ref(name)) for name in ("side", "corner"))
    corner, side = run(insert_not_square, (made, derived))
    assert "`corner` may tilt by 0.31 deg before `c` and `b`" in corner.message and corner.parts == ("corner.b", "corner.c")
    assert "`side` may tilt by 0.44 deg before `x` and `d`" in side.message and side.parts == ("side.d",)


def test_face_overlap_that_is_advised(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[float, float]] = []

    def wanted(one: float, other: float, stated: Any) -> float:
        asked.append((one, other))
        assert stated is None
        return min(one, other) / 2.0

    monkeypatch.setattr(low_face_overlap, "wanted_overlap_mm", wanted)
    slides: dict[str, Any] = {"slides": 10.0}
    gears = (gear("a"), gear("b", face=12.0), gear("c", face=16.0), gear("d", "fine"), gear("e", "fine", face=30.0))
    meshes = (
        mesh("a b", 0.5, **slides), mesh("a c", 0.5, start=40, **slides), mesh("a e", 0.5, slides=0.0), mesh("b c", 0.5, **slides),
        mesh("d e", 0.5, start=50, **slides),
    )  # fmt: skip

    def told(*stated: float | None) -> list[Diagnostic]:
        forms = tuple(
            form(name, face_overlap=None if mm is None else Length(mm=mm, origin=at(80 + index)))
            for index, (name, mm) in enumerate(zip(("unused", "coarse", "fine"), (1.0, *stated), strict=True))
        )
        return run(low_face_overlap, world(meshes, *gears, forms=forms))

    one, two = told(7.5, 8.996)
    assert one.message == "the least face overlap stated is 7.5 mm; at least 8 mm is advised" and one.span == at(81)
    assert [(label.message, label.span) for label in one.related] == [("`a` and `c` mesh here, and one slides along the other", at(41))]
    assert two.message == "the least face overlap stated is 8.996 mm; at least 9 mm is advised" and two.parts == ("fine",)
    assert two.remedy == "`face_overlap 9 mm`, or none stated; the travel becomes shorter"
    assert not told(8.0, 9.0) and [item.parts for item in told(None, 8.0)] == [("fine",)] and told(7.99, None)
    assert (18.0, 12.0) in asked and (18.0, 30.0) in asked
