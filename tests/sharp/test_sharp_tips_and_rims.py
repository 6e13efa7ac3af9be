"""Tips, roots and rims of teeth: check by check, from records built by hand. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.sharp.stand_ins import MM, at, gear, mesh, named, start, starts, trained

from trivet.checks import teeth_part, teeth_slip, thin_gear_rim, thin_tooth_tip, tip_interference
from trivet.record import replace
from trivet.solve.contour import Contour, Vertex
from trivet.solve.feature import Label, Round
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry, tight_centre_distance_mm

HUB, IDLER = ToothGeometry(16, 6.0), ToothGeometry(20, 6.0)


def slipping(ratio: float, depth: float, stated: int | None = None, a: str = "hub", b: str = "west", place: int = 60) -> Any:
    return mesh(
        a, b, place, stated, contact_ratio_min=ratio, working_depth_min_mm=depth, centre_distance_mm=108.0, centre_distance_most_mm=109.0,
        tight_centre_distance_mm=108.0,
    )  # fmt: skip


def slips(*meshes: Any) -> list[Any]:
    gears = (gear("hub", HUB, 1), gear("west", IDLER, 3), gear("east", IDLER, 5))
    return list(teeth_slip.check(MM, trained(gears, meshes)))


def test_contact_ratio_comes_before_depth() -> None:
    # 1.2 modules of 6 are 7.2 of depth.
    assert not slips(slipping(1.2, 7.2))
    found = slips(slipping(1.3, 8.0), slipping(1.1986, 5.0), slipping(0.9994, 5.0), slipping(-0.3, 5.0), slipping(1.2, 7.1), slipping(1.0, 8.0))
    assert [(item.severity, item.message.partition("every error, ")[2]) for item in found] == [
        ("warning", "keep 1.198 pairs of teeth in touch on average, the contact ratio; at least 1.2 is wanted"),
        ("error", "keep 0.999 pairs of teeth in touch on average, the contact ratio; at least 1 is required"),
        ("error", "keep 0 pairs of teeth in touch on average, the contact ratio; at least 1 is required"),
        ("warning", "reach 7.1 mm into each other; at least 7.2 mm is wanted"),
        ("warning", "keep 1 pairs of teeth in touch on average, the contact ratio; at least 1.2 is wanted"),
    ]
    assert found[0].message.startswith("`hub` and `west`, 108 mm apart and up to 109 mm with every error, ")


def test_meshes_that_slip_alike_are_said_once() -> None:
    one, two, three = (slipping(1.1, 5.0, None, "hub", b, place) for b, place in (("west", 60), ("east", 61), ("east", 62)))
    (item,) = slips(one, two)
    assert item.message.endswith("; 1 other mesh is alike") and item.parts == ("hub", "west", "east") and starts(item) == (60, [1, 3, 61])
    assert item.related[2].message == "the same holds for `hub` and `east`"
    (item,) = slips(one, two, three)
    assert item.message.endswith("; 2 other meshes are alike")
    assert len(slips(one, slipping(1.1002, 5.0, None, "hub", "east", 61))) == 1  # the same as shown
    # A stated distance is another cause, and is where to look.
    found = slips(one, slipping(1.1, 5.0, 9, "hub", "east", 61), slipping(1.102, 5.0, None, "hub", "east", 62))
    assert [(start(item.span), len(item.parts)) for item in found] == [(60, 2), (9, 2), (62, 2)]


def test_widest_distance_at_which_teeth_still_mesh() -> None:
    """Halved for to what the file can say: at a hundredth more with its spread the pair still meshes, at three it does not."""
    figures = {"centre_distance_mm": 112.0, "centre_distance_most_mm": 113.5, "tight_centre_distance_mm": 108.0}
    found = teeth_slip._remedy(mesh("hub", "west", **figures), HUB, IDLER, "mm")
    widest = float(found.partition("a centre distance of ")[2].split()[0])
    assert found == f"a centre distance of {widest:g} mm or less keeps 1.2, and depth enough"

    def kept(distance: float) -> bool:
        geometry = mesh_geometry(HUB, IDLER, distance + 1.5)
        return geometry is not None and geometry.contact_ratio >= 1.2 and geometry.working_depth_mm >= 7.2

    assert kept(widest + 0.009) and not kept(widest + 0.021)
    assert teeth_slip._remedy(mesh("hub", "west", stated=9, **figures), HUB, IDLER, "mm").startswith(f"`centre_distance {widest:g} mm` or less")


@pytest.mark.parametrize(
    ("a", "b", "cures"),
    [
        ({"addendum_coefficient": 0.5}, {"addendum_coefficient": 0.5}, ""),
        ({"tip_shortening_mm": 3.0}, {"addendum_coefficient": 0.5}, "less `tip_shortening` in the tooth form, or "),
        ({"addendum_coefficient": 0.5, "tip_shortening_mm": 0.5}, {"addendum_coefficient": 0.5}, "less `tip_shortening` in the tooth form, or "),
        ({"addendum_coefficient": 0.5}, {"tip_shortening_mm": 3.0}, "less `tip_shortening` in the tooth form, or "),
        ({"addendum_coefficient": 0.2, "profile_shift": 0.3}, {"addendum_coefficient": 0.5, "profile_shift": -0.2}, "less `profile_shift`, or "),
        ({"addendum_coefficient": 0.2, "profile_shift": 0.2}, {"addendum_coefficient": 0.5, "profile_shift": -0.2}, ""),
        ({"addendum_coefficient": 0.2, "profile_shift": 0.2}, {"addendum_coefficient": 0.5, "profile_shift": -0.3}, ""),
    ],
)
def test_what_else_lets_teeth_reach_each_other(a: dict[str, Any], b: dict[str, Any], cures: str) -> None:
    for degrees, turned in ((20.0, ""), (25.0, "`pressure_angle 20 deg` in the tooth form, or "), (14.5, "")):
        one, other = (replace(teeth, pressure_angle_rad=math.radians(degrees), **facts) for teeth, facts in ((HUB, a), (IDLER, b)))
        tight = tight_centre_distance_mm(one, other)
        near = mesh("hub", "west", centre_distance_mm=tight, centre_distance_most_mm=tight + 1.0, tight_centre_distance_mm=tight)
        assert teeth_slip._remedy(near, one, other, "mm") == f"{cures}{turned}more teeth on the smaller gear"


def digging(pairs: int = 1, stated: int | None = None, shift: float | None = 0.3, apart: float | None = 109.013, still: bool = False) -> Any:
    tip, roots = gear("west", replace(IDLER, tip_shortening_mm=0.1), 3), [gear(f"r{k}", HUB, 10 * k + 10) for k in range(pairs)]
    items = [("alike", (mesh("west", root.id, 60 + k, stated), tip, root, 0.32)) for k, root in enumerate(roots)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tip_interference, "interfering", lambda derived: items)
        patch.setattr(tip_interference, "least_shift", lambda tip_, root: shift if (tip_.teeth, root.teeth) == (20, 16) else None)
        patch.setattr(tip_interference, "least_distance_mm", lambda mesh_, tip_, root: apart if (tip_.teeth, root.teeth) == (20, 16) else None)
        patch.setattr(tip_interference, "shortened_still_mesh", lambda derived, names, more: still and (list(names), more) == (["west"], 0.35))
        (item,) = tip_interference.check(MM, named())
    return item


def test_tips_that_dig_into_roots() -> None:
    # A tip of 60 + 6 − 0.1 that goes 0.32 too far; so 0.35 off it, to the next twentieth, beside the 0.1.
    item = digging()
    assert item.message == "the tips of `west` reach a radius of 65.9 mm; 65.58 mm is the most before they dig into the roots of `r0`"
    assert (item.remedy, item.parts, starts(item)) == ("`profile_shift 0.3` on `r0`", ("west", "r0"), (60, [11, 4]))
    assert [label.message for label in item.related] == ["`r0` has 16 teeth", "`west` has 20 teeth"]
    shorter = "`tip_shortening 0.45 mm` in the tooth form of `west`"
    assert digging(still=True).remedy == f"`profile_shift 0.3` on `r0`, or {shorter}"
    assert digging(shift=None).remedy == shorter == digging(stated=9, apart=None).remedy
    far = digging(stated=9)
    assert (far.remedy, start(far.span)) == ("`centre_distance 109.02 mm` or more", 9)
    two, three = digging(2), digging(3)
    assert two.message.endswith("of `r0`; 1 other mesh is alike") and three.message.endswith("; 2 other meshes are alike")
    assert starts(two) == (60, [11, 4, 61]) and two.related[2].message == "the same holds for `west` and `r1`"
    assert three.parts == ("west", "r0", "r1", "r2") and three.remedy == "`profile_shift 0.3` on `r0`, `r1` and `r2`"


def thinned(lacking: float, shift: float = 0.5) -> ToothGeometry:
    """Sixteen teeth whose tips lack so much of the 0.3 modules that they are to have: thinning counts at the tip by its radius."""
    plain = replace(HUB, profile_shift=shift)
    more = plain.tip_land_mm - (1.8 - lacking)
    return replace(plain, thinning_mm=more * plain.pitch_radius_mm / plain.tip_radius_mm)


def test_thin_tips_of_one_statement_are_said_once() -> None:
    thin, other = thinned(0.2), thinned(0.2, 0.4)
    gears = (gear("a", thinned(-0.01), 1), gear("b", thin, 3), gear("c", thin, 3), gear("d", thin, 5), gear("e", other, 3))
    found = list(thin_tooth_tip.check(MM, trained(gears)))
    assert [item.parts for item in found] == [("b", "c"), ("d",), ("e",)]
    assert found[0].message == "the teeth of `b` and `c` are 1.6 mm thick at the tip; at least 1.8 mm is wanted"
    assert [start(item.span) for item in found] == [4, 6, 4]
    pointed = list(thin_tooth_tip.check(MM, trained((gear("a", thinned(2.0), 1),))))
    assert "are 0 mm thick at the tip" in pointed[0].message


def test_least_land_in_modules_or_in_millimetres() -> None:
    assert [thin_tooth_tip.least_land_mm(ToothGeometry(20, module)) for module in (2.0, 10 / 3, 4.0, 6.0)] == pytest.approx([1.0, 1.0, 1.2, 1.8])


@pytest.mark.parametrize("lacking", [0.002, 0.2, 0.4])
def test_tips_are_shortened_by_as_little_as_will_do(lacking: float) -> None:
    teeth = thinned(lacking)
    shorter = thin_tooth_tip._shortening(teeth)
    assert teeth.thickness_at(teeth.tip_radius_mm - shorter) >= 1.8 and shorter / 0.05 == pytest.approx(round(shorter / 0.05))
    assert shorter == 0.05 or teeth.thickness_at(teeth.tip_radius_mm - shorter + 0.05) < 1.8
    assert (lacking == 0.002) == (shorter == 0.05)


def test_tips_are_not_shortened_past_their_whole_height() -> None:
    pointed: Any = named(tip_radius_mm=50.0, module_mm=6.0, thickness_at=lambda radius: 0.0)
    assert [thin_tooth_tip._shortening(named(**vars(pointed), addendum_mm=high)) for high in (0.17, 0.05, 1.0)] == [0.2, 0.05, 1.0]


@pytest.mark.parametrize(("shift", "still", "cure"), [(0.2, True, "both"), (None, True, "short"), (0.2, False, "shift"), (None, False, "")])
def test_cures_of_thin_tips(monkeypatch: pytest.MonkeyPatch, shift: float | None, still: bool, cure: str) -> None:
    monkeypatch.setattr(thin_tooth_tip, "largest_shift", lambda teeth, land: shift if land == pytest.approx(1.8) else None)
    monkeypatch.setattr(thin_tooth_tip, "shortened_still_mesh", lambda derived, names, more: still and (names, more) == (["a", "b"], 0.05))
    teeth = thinned(0.002)
    words = {"shift": "`profile_shift 0.2` on `a` and `b`", "short": "`tip_shortening 0.05 mm` in the tooth form"}
    words |= {"both": f"{words['shift']}, or {words['short']}", "": "more teeth, a larger module, or less backlash, for which tips are thinned"}
    assert thin_tooth_tip._remedy(named(), [gear("a", teeth), gear("b", teeth)], "mm") == words[cure]


def bored(name: str, shape: Any, place: int = 7, title: str = "bore", operation: str = "bore") -> Any:
    return named(whole=name, feature=named(shape=shape, operation=operation), title=f"{title} of pin.{name}", span=at(place))


def rims(*cuts: Any) -> list[Any]:
    # Roots at 60 − 7.5 = 52.5 with 12 of rim wanted, and at 20 − 2.5 = 17.5 with 6.
    gears = (*(gear(name, IDLER) for name in "abc"), gear("small", ToothGeometry(20, 2.0)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(thin_gear_rim, "cuts_of", lambda design, derived: cuts)
        return list(thin_gear_rim.check(MM, trained(gears)))


def test_rims_at_the_widest_cut() -> None:
    assert not rims(bored("a", Round(0.0, 0.0, 81.0)), bored("small", Round(0.0, 0.0, 23.0)))
    # 41 at the widest, 11.5 left: other cuts, openings of a web and boards count for nothing.
    cuts = (
        bored("a", Round(0.0, 0.0, 20.0)), bored("a", Round(6.0, 8.0, 62.0), 8, "recess"), bored("a", Round(0.0, 0.0, 30.0)),
        bored("a", Round(0.0, 0.0, 100.0), operation="opening"), bored("deck", Round(0.0, 0.0, 300.0)),
    )  # fmt: skip
    (item,) = rims(*cuts)
    assert (item.severity, item.message) == ("warning", "the rim between the recess of `pin.a` and the roots of `a` is 11.5 mm; at least 12 mm is wanted")
    assert (item.remedy, starts(item), item.parts) == ("a cut of 81 mm across or less, or more teeth", (8, []), ("a",))
    (item,) = rims(bored("small", Round(0.0, 0.0, 31.2)))
    assert (item.severity, item.message.partition("`small` is ")[2]) == ("error", "1.9 mm; at least 2 mm is required")
    assert item.remedy == "a cut of 23 mm across or less, or more teeth"
    (item,) = rims(bored("small", Round(0.0, 0.0, 31.0)))
    assert (item.severity, item.message.partition("`small` is ")[2]) == ("warning", "2 mm; at least 6 mm is wanted")
    assert [thin_gear_rim._wanted(ToothGeometry(20, module)) for module in (2.0, 3.0, 4.0)] == [6.0, 6.0, 8.0]


def test_rims_of_equal_gears_are_said_once() -> None:
    wide = Round(0.0, 0.0, 90.0)
    (item,) = rims(bored("a", wide, 7), bored("b", wide, 8), bored("c", wide, 9))
    assert item.message.endswith("is 7.5 mm; at least 12 mm is wanted; `b` and `c` too") and starts(item) == (7, [8, 9]) and item.parts == ("a", "b", "c")
    assert item.related[0].message == "the same holds for `b`"
    assert len(rims(bored("a", wide, 7), bored("b", wide, 7, "recess"), bored("c", Round(0.0, 0.0, 90.1), 7))) == 3


def test_reach_of_a_cut() -> None:
    square = Contour(tuple(Vertex(x, y) for x, y in ((1.0, 1.0), (-3.0, 4.0), (2.0, 0.0))))
    reaches = [thin_gear_rim._reach(named(feature=named(shape=shape))) for shape in (Round(3.0, -4.0, 3.0), square, Label(9.0, 9.0, "L", 5.0, 0.0))]
    assert reaches == pytest.approx([6.5, 5.0, 0.0])


def test_overlap_of_faces_that_is_eased_to_leave_a_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Any] = []

    def eased(design: Any, derived: Any, lacking: float, meets: Any, gives: str) -> str:
        asked.append((lacking, [meets(named(travel_mm=travel)) for travel in (-1.0, 0.0, 0.5)], gives))
        return str(design)

    monkeypatch.setattr(teeth_part, "less_overlap", eased)
    monkeypatch.setattr(teeth_part, "nothing_left", lambda rule, design, derived, otherwise: [otherwise])
    monkeypatch.setattr(teeth_part, "crossing", lambda derived: derived)
    closer = "both ends must come closer by more than {} in all: a smaller `face_overlap`, lower feet, or what hangs lowest higher"
    said: Any = teeth_part.check
    assert [*said("words", named(lacking_mm=2.5)), *said("", named(lacking_mm=2.5)), *said("words", None)] == ["words", closer, closer]
    # A millimetre of travel is to be left.
    assert asked == [(3.5, [False, False, True], "leaves a travel")] * 2
