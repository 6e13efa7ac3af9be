"""What is said of meshes that bind, may bind or are loose: each sum is written out. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.sharp.check_samples import Length, at, form, gear, mesh, of, run, world

from trivet.checks import loose_mesh, mesh_binds, mesh_may_bind


@pytest.fixture
def apart(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """What is asked for centre distances by backlash; the answer is the first of the list, then what was asked."""
    asked: list[Any] = [None]

    def wanted(a: Any, b: Any, backlash: float) -> float | None:
        asked.append(backlash)
        answer: float | None = asked[0]
        return answer

    for module in (mesh_binds, loose_mesh):
        monkeypatch.setattr(module, "centre_distance_for_backlash_mm", wanted)
    return asked


def test_a_mesh_binds_where_its_errors_take_all(apart: list[Any]) -> None:
    assert mesh_binds.binds(mesh("a b", 0.2)) and not mesh_binds.binds(mesh("a b", 0.201)) and not run(mesh_binds, world((mesh("a b", 0.201),)))
    (item,) = run(mesh_binds, world((mesh("a b", 0.12, 0.2, 0.05),)))
    assert item.message == "`a` and `b` mesh with 0.12 mm of backlash; their errors take 0.2 mm"
    # The next step over 0.2 is 0.25; 0.13 · cos 60 deg / 4 = 0.01625 a flank, rounded up to 0.017.
    assert item.remedy == "`backlash 0.25 mm` in the tooth form; gears already cut need 0.017 mm off each flank"
    assert item.parts == ("coarse", "a", "b") and item.span == at(30)
    assert [(label.message, label.span) for label in item.related] == [("the tooth form `coarse` states 0.5 mm", at(21))]
    assert apart[1:] == [0.25]


def test_what_a_binding_mesh_is_told_besides(apart: list[Any]) -> None:
    apart[0] = 120.304
    shares = (("centres", 0.1, 0.15), ("insert tilt of `b`", 0.1, 0.1))
    # With every error at its worst 0.12 + 0.3 are wanted: 0.45.
    tight = mesh("a b", 0.12, 0.2, -0.3, shares)
    other = form("fine")
    shop = of(inserts="by_hand", insert_tilt_deg=1.0)
    (item,) = run(mesh_binds, world((tight,), forms=(other, form()), shop=shop))
    assert item.message.endswith("their errors take 0.2 mm, the largest share being centres")
    assert item.remedy == (
        "`backlash 0.25 mm` in the tooth form `coarse` at least, 0.45 mm with every error at its worst; gears already cut need"
        " 0.017 mm off each flank or centres 0.31 mm further apart; inserts driven with a guide block tilt half as much (assumed)"
    )
    assert "tilt half" not in run(mesh_binds, world((tight,)))[0].remedy
    assert "tilt half" not in run(mesh_binds, world((mesh("a b", 0.12, shares=shares[:1]),), shop=shop))[0].remedy
    assert "at its worst" not in run(mesh_binds, world((mesh("a b", 0.12, 0.2, -0.12),)))[0].remedy  # 0.25 again
    # 0.01625 is 0.00064 in: up to a ten-thousandth.
    inch = run(mesh_binds, world((mesh("a b", 0.12),), units="in"))[0]
    assert "need 0.0007 in off each flank" in inch.remedy
    assert mesh_binds._flank(0.0254, "thou") == "0.001 in" and mesh_binds._flank(0.0254, "mm") == "0.026 mm"
    assert mesh_binds._flank(0.0101, "mm") == "0.011 mm" and mesh_binds._flank(0.01, "mm") == "0.01 mm"


def test_binding_meshes_with_the_same_figures_are_one_finding(apart: list[Any]) -> None:
    # 0.121 and 0.124 are shown alike, 0.13 is not; the one that lacks 0.0809 stands first, the others lack 0.079.
    meshes = (mesh("a b", 0.121, start=40), mesh("c d", 0.124, 0.2049, start=42), mesh("e f", 0.13), mesh("g h", 0.121, start=44), mesh("i j", 0.3))
    forms = (form(), form("fine"))
    items = run(mesh_binds, world(meshes, forms=forms))
    assert [item.parts for item in items] == [("coarse",), ("coarse", "e", "f")]
    assert items[0].message.startswith("`c` and `d` mesh") and items[0].message.endswith("; 2 other meshes with the same figures")
    assert [label.span for label in items[0].related] == [at(21), at(40), at(44)]
    assert items[0].related[1].message == "`a` and `b` mesh here"
    assert "0.016 mm off each flank" in items[0].remedy  # (0.25 - 0.124) / 8 is 0.01575
    assert run(mesh_binds, world(meshes[:2], forms=forms))[0].message.endswith("; 1 other mesh with the same figures")
    # The tooth form is that of the second gear.
    mixed = world(meshes[:2], gear("a", "fine"), gear("d", "fine"), forms=forms)
    assert [item.parts[0] for item in run(mesh_binds, mixed)] == ["coarse", "fine"]


def test_meshes_that_may_bind() -> None:
    binding, sound = mesh("a b", 0.1, 0.2, -0.9), mesh("c d", 0.5, 0.2, 0.0)
    assert not run(mesh_may_bind, world((binding, sound)))
    first, worst = mesh("e f", 0.5, 0.2, -0.1), mesh("g h", 0.42, 0.2, -0.12, start=50)
    (item,) = run(mesh_may_bind, world((binding, first, worst, sound)))
    assert item.message == "`g` and `h` mesh with 0.42 mm of backlash, and -0.12 mm with every error at its worst; 1 other mesh falls below zero too"
    # 0.42 + 0.12 = 0.54 to the next step.
    assert (item.remedy, item.span) == ("0.55 mm of backlash would be enough for all of it", at(50))
    assert item.parts == ("e", "f", "g", "h")
    (item,) = run(mesh_may_bind, world((first, worst, mesh("h f", 0.5, 0.2, -0.1))))
    assert "; 2 other meshes fall below zero too" in item.message and item.parts == ("e", "f", "g", "h")
    assert "other" not in run(mesh_may_bind, world((first,)))[0].message
    assert "and -0.004 mm with every error" in run(mesh_may_bind, world((mesh("a b", 0.5, 0.2, -0.004),)))[0].message


def test_loose_is_more_than_a_fifth_of_the_module(apart: list[Any]) -> None:
    assert not run(loose_mesh, world((mesh("a b", 1.2),))) and run(loose_mesh, world((mesh("a b", 1.21),)))
    slips: tuple[dict[str, Any], ...] = ({"contact_ratio_min": 1.19}, {"working_depth_min_mm": 7.1})
    for slip in slips:  # 1.2 pairs of teeth, 1.2 · 6 of depth
        assert not run(loose_mesh, world((mesh("a b", 1.5, **slip),)))
    feet = (of(lead_mm=1.25), of(lead_mm=math.pi), of(lead_mm=1.0))
    (item,) = run(loose_mesh, world((mesh("a b", 1.3), mesh("c b", 1.6, start=50)), feet=feet))
    # pi · 1.6 / (2 pi · 40) of height.
    assert item.message == (
        "`c` and `b` mesh with 1.6 mm of backlash; 1.2 mm is a fifth of the module, 1 other mesh also over it; it costs at most 0.02 mm of height"
    )
    assert item.parts == ("a", "b", "c") and item.span == at(50)
    assert item.remedy == "accept it, or `backlash 1.2 mm` in the tooth form `coarse`"
    assert [(label.message, label.span) for label in item.related] == [("the tooth form `coarse` states 0.5 mm", at(21))]
    (item,) = run(loose_mesh, world((mesh("a b", 1.6), mesh("c d", 1.3), mesh("e f", 1.3))))
    assert "2 other meshes also over it" in item.message and "height" not in item.message
    (item,) = run(loose_mesh, world((mesh("a b", 1.6),), feet=feet, units="in"))
    assert "it costs at most 0.0008 in of height" in item.message and "other" not in item.message  # 0.02 / 25.4
    # The module is the first gear's, the form the second's.
    two = (form("fine", module=4.0), form())
    assert not run(loose_mesh, world((mesh("a b", 1.0),), gear("b", "fine", 4.0), forms=two))
    (item,) = run(loose_mesh, world((mesh("a b", 1.0),), gear("a", "fine", 4.0), forms=two))
    assert item.remedy.endswith("in the tooth form `coarse`")


def test_distance_that_makes_a_mesh_loose(apart: list[Any]) -> None:
    stated = Length(mm=121.0, origin=at(70))
    wide = mesh("a b", 1.6, stated=stated, centre_distance_mm=121.0)
    (item,) = run(loose_mesh, world((wide,)))
    assert item.remedy.endswith("`backlash 1.2 mm` in the tooth form `coarse`") and item.span == at(70) and apart.pop() == pytest.approx(1.2)
    assert len(item.related) == 1
    for answer, words in ((120.456, "120.45"), (119.0, "120")):  # never nearer than without play
        apart[0] = answer
        assert run(loose_mesh, world((wide,)))[0].remedy == f"accept it, or `centre_distance {words} mm` or less"
    inch = run(loose_mesh, world((wide,), units="in"))[0].remedy
    assert inch == "accept it, or `centre_distance 4-23/32 in` (4.719 in) or less"  # 302/64 of 120 / 25.4 · 64 = 302.4
    # At the distance without play it is the tooth form that states too much.
    assert "`backlash" in run(loose_mesh, world((mesh("a b", 1.6, stated=stated),)))[0].remedy
    assert "`backlash" in run(loose_mesh, world((mesh("a b", 1.6, centre_distance_mm=121.0),)))[0].remedy


def test_distance_elsewhere_that_thins_a_gear(apart: list[Any]) -> None:
    stated = Length(mm=119.0, origin=at(70))
    loose = mesh("a b", 1.6)
    near = mesh("c b", 0.5, stated=stated, centre_distance_mm=119.4)
    nearer = mesh("a d", 0.5, stated=stated, centre_distance_mm=119.9, tight_centre_distance_mm=121.0)  # 1.1 against 0.6
    aside = mesh("e f", 0.5, stated=stated, centre_distance_mm=100.0)
    (item,) = run(loose_mesh, world((loose, near, nearer, aside)))
    assert item.remedy == "accept it, or a centre distance of `a` and `d` nearer to 121 mm, for which no tooth is thinned"
    assert [label.span for label in item.related] == [at(21), at(70)] and item.related[1].message == "`a` and `d` stand at a stated distance"
    assert item.span == at(30)
    assert "`c` and `b` nearer" in run(loose_mesh, world((loose, near)))[0].remedy
    assert "`backlash" in run(loose_mesh, world((loose, aside)))[0].remedy
    assert "nearer" in run(loose_mesh, world((loose, near), forms=(form(backlash=0.7),)))[0].remedy
    # No more play than the form states: its own.
    assert "`backlash" in run(loose_mesh, world((loose, near), forms=(form(backlash=1.6),)))[0].remedy
