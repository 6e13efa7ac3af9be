"""The gear train: places, speeds, levels, teeth, rings, errors, bores; each from a design built by hand."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from tests.designs import design, gear, mesh, ring, tooth_form

from trivet.model.base import Ref
from trivet.solve.derived import Train
from trivet.solve.train import solve_train

HUB = gear("hub", 16, (0, 0), drive=True)


def place(train: Train, name: str) -> tuple[float, float]:
    return train.gear(name).x_mm, train.gear(name).y_mm


def kinds(train: Train) -> list[tuple[str, str]]:
    return [(fault.kind, fault.gear) for fault in train.faults]


def tripod(**facts: object) -> Train:
    """A drive wheel, a shaft that a mesh places from its lower gear, three feet round a sun."""
    return solve_train(design(
        (gear("sun", 36, (180, 200)), gear("north", 18, foot=True), gear("sw", 18, foot=True), gear("se", 18, foot=True),
         gear("wheel", 42), gear("pinion", 16, shaft="wheel"), gear("first", 16, drive=True)),
        (mesh("sun", "north", 90), mesh("sun", "sw", 210), mesh("sun", "se", 330), mesh("sun", "pinion", 30),
         mesh("wheel", "first", 30))))


class TestPlaces:
    def test_a_mesh_places_at_the_sum_of_the_reference_radii(self) -> None:
        # m 4: sun and north 2 (36 + 18) = 108 mm apart, straight up.
        assert place(tripod(), "north") == pytest.approx((180.0, 308.0))

    def test_a_shaft_shares_its_place_and_carries_on(self) -> None:
        train = tripod()
        assert place(train, "wheel") == place(train, "pinion")
        # 2 (36 + 16) = 104 mm and 2 (42 + 16) = 116 mm, both at 30 deg.
        assert place(train, "first") == pytest.approx((180 + 220 * math.cos(math.pi / 6), 200 + 110.0))
        assert train.faults == ()

    def test_a_mesh_places_either_way_round(self) -> None:
        train = solve_train(design((gear("a", 20), gear("b", 30, (100, 0), drive=True)), (mesh("a", "b", 90),)))
        assert place(train, "a") == pytest.approx((100.0, -100.0))
        assert train.meshes[0].placed_by_it

    def test_a_stated_centre_distance_places(self) -> None:
        train = solve_train(design((HUB, gear("b", 20)), (mesh("hub", "b", 0, distance="72.3"),)))
        assert place(train, "b") == pytest.approx((72.3, 0.0))
        assert train.meshes[0].standard_centre_distance_mm == train.meshes[0].tight_centre_distance_mm == 72.0

    @pytest.mark.parametrize(("x", "agrees"), [(72.009, True), (72.011, False), (71.95, False)])
    def test_stated_and_derived_places_are_compared(self, x: float, agrees: bool) -> None:
        train = solve_train(design((HUB, gear("b", 20, (x, 0))), (mesh("hub", "b", 0),)))
        assert kinds(train) == ([] if agrees else [("two_places", "b")])
        assert agrees or train.faults[0].measured_mm == pytest.approx(abs(x - 72))
        assert place(train, "b") == (x, 0)

    def test_stated_places_are_compared_with_a_stated_centre_distance(self) -> None:
        train = solve_train(design((HUB, gear("b", 20, (72.5, 0))), (mesh("hub", "b", distance=72),)))
        assert kinds(train) == [("two_places", "b")]
        assert "72.5 mm" in train.faults[0].message

    def test_two_meshes_that_place_one_gear_differently(self) -> None:
        train = solve_train(design((HUB, gear("b", 20), gear("c", 20), gear("d", 20)),
                                   (mesh("hub", "b", 0), mesh("hub", "c", 90), mesh("b", "d", 90), mesh("c", "d", 10))))
        assert kinds(train) == [("two_places", "d")]

    def test_shaft_mates_stated_apart(self) -> None:
        train = solve_train(design((HUB, gear("b", 20, (72, 0)), gear("c", 20, (73, 0), shaft="b")), (mesh("hub", "b"),)))
        assert kinds(train) == [("two_places", "c")]

    def test_one_fault_for_a_group_without_a_place(self) -> None:
        train = solve_train(design((HUB, gear("b", 20), gear("c", 20), gear("alone", 20)), (mesh("hub", "b"), mesh("b", "c", 90))))
        assert kinds(train) == [("no_place", "alone"), ("no_place", "b")]
        assert "`hub` gives no angle" in train.faults[1].message and "`c`" in train.faults[1].message
        assert [g.id for g in train.gears] == ["hub"] and train.meshes == ()

    def test_gears_too_close_to_mesh(self) -> None:
        train = solve_train(design((HUB, gear("b", 20, (60, 0))), (mesh("hub", "b"),)))
        assert kinds(train) == [("mesh_distance", "b")]
        assert train.faults[0].allowed_mm == pytest.approx(72 * math.cos(math.radians(20)))
        assert train.meshes == () and len(train.gears) == 2

    def test_a_stated_centre_distance_too_short_to_mesh(self) -> None:
        train = solve_train(design((HUB, gear("b", 20)), (mesh("hub", "b", 0, distance=60),)))
        assert kinds(train) == [("mesh_distance", "b")]

    def test_of_two_statements_of_a_mesh_the_one_with_a_distance_counts(self) -> None:
        statements = (mesh("b", "hub", 180), mesh("hub", "b", distance="72.4"))
        for meshes in (statements, statements[::-1]):
            train = solve_train(design((HUB, gear("b", 20)), meshes))
            assert place(train, "b") == pytest.approx((72.4, 0.0))
            assert len(train.meshes) == 1 and train.loops == () and train.faults == ()

    def test_unlike_teeth_are_one_fault_and_still_place(self) -> None:
        train = solve_train(design((HUB, gear("b", 20, tooth_form=Ref("six"))), (mesh("hub", "b", 0),),
                                   tooth_forms=(tooth_form(), tooth_form("six", module=6))))
        assert kinds(train) == [("unlike_teeth", "b")]
        assert place(train, "b") == pytest.approx((32.0 + 60.0, 0.0))


class TestRingPlaces:
    def test_equal_gears_stand_on_a_regular_polygon(self) -> None:
        names = ("f1", "i1", "f2", "i2", "f3", "i3", "f4", "hub")
        train = solve_train(design(tuple(gear(n, 24, drive=n == "hub", foot=n[0] == "f") for n in names),
                                   rings=(ring("train", names, (210, 210), 90),)))
        radius = 96.0 / (2.0 * math.sin(math.pi / 8.0))
        assert place(train, "f1") == pytest.approx((210.0, 210.0 + radius))
        assert place(train, "f2") == pytest.approx((210.0 - radius, 210.0))
        assert [m.centre_distance_mm for m in train.meshes] == [96.0] * 8
        assert all(m.in_loop and m.placed_by_it for m in train.meshes)
        assert train.faults == () and len(train.loops) == 1 and not train.loops[0].odd

    def test_unequal_gears_are_all_in_mesh(self) -> None:
        # m 4: sides 120 and 160 by turns make a rectangle, whose circle has the diagonal 200 as its diameter.
        names = ("a", "b", "c", "d")
        train = solve_train(design((gear("a", 20, drive=True), gear("b", 40), gear("c", 40), gear("d", 20)),
                                   rings=(ring("r", names),)))
        for m in train.meshes:
            teeth = train.gear(m.a).geometry.teeth + train.gear(m.b).geometry.teeth
            assert math.dist(place(train, m.a), place(train, m.b)) == pytest.approx(2.0 * teeth, abs=1e-9)
        assert place(train, "a") == pytest.approx((train.gear("a").x_mm, 0.0))

    def test_a_side_too_long_for_the_others(self) -> None:
        train = solve_train(design((gear("a", 12, drive=True), gear("b", 12), gear("c", 90), gear("d", 90)),
                                   rings=(ring("r", ("a", "c", "d", "b")),)))
        assert ("no_place", "a") in kinds(train)

    def test_a_stated_place_is_compared_with_the_ring(self) -> None:
        names = ("a", "b", "c", "d")
        gears = tuple(gear(n, 24, (0, 0) if n == "c" else None, drive=n == "a") for n in names)
        assert ("two_places", "c") in kinds(solve_train(design(gears, rings=(ring("r", names),))))


class TestSpeeds:
    def test_compound(self) -> None:
        train = tripod()
        north = train.gear("north")
        assert (north.speed, north.direction) == (Fraction(16 * 16, 42 * 18), -1)
        assert north.path == ("first", "wheel", "pinion", "sun", "north")
        assert train.conflicts == () and train.unreached == () and train.drive_gear == "first"

    def test_gears_that_the_drive_does_not_reach(self) -> None:
        train = solve_train(design((HUB, gear("b", 20, (300, 0)), gear("c", 20)), (mesh("b", "c", 0),)))
        assert train.unreached == ("b", "c")
        assert (train.gear("c").speed, train.gear("c").direction, train.gear("c").path) == (None, 0, ())

    def test_no_drive(self) -> None:
        train = solve_train(design((gear("b", 20, (0, 0)),)))
        assert train.drive_gear is None and train.unreached == ("b",)

    def test_a_ring_of_three_locks(self) -> None:
        names = ("a", "b", "c")
        train = solve_train(design(tuple(gear(n, 20, drive=n == "a") for n in names), rings=(ring("r", names),)))
        assert [loop.odd for loop in train.loops] == [True]
        conflict, = train.conflicts
        assert conflict.speed_one == -conflict.speed_two

    def test_two_paths_with_different_ratios(self) -> None:
        # Gears a and c turn as one, b and d too; a to b gives −1/2, c to d −5/7: centres are equal, speeds are not.
        train = solve_train(design(
            (gear("a", 20, (0, 0), drive=True), gear("b", 40), gear("c", 25, shaft="a"), gear("d", 35, shaft="b")),
            (mesh("a", "b", 0), mesh("c", "d"))))
        conflict, = train.conflicts
        assert {conflict.speed_one, conflict.speed_two} == {Fraction(-1, 2), Fraction(-5, 7)}
        loop, = train.loops
        # Two meshes and two shafts: even. The clocking on the shafts is free, so nothing is left over.
        assert not loop.odd and loop.residual_mm == 0.0 and len(loop.gears) == 4

    def test_a_shaft_in_a_ring_is_not_a_mesh(self) -> None:
        # a–b, b–c in mesh, c on the shaft of a: two meshes. With one mesh more it locks, although four gears stand in the ring.
        gears = (gear("a", 20, (0, 0), drive=True), gear("b", 40), gear("c", 20, shaft="a"))
        assert [loop.odd for loop in solve_train(design(gears, (mesh("a", "b", 0), mesh("b", "c")))).loops] == [False]
        ring3 = solve_train(design((*gears, gear("d", 20)), (mesh("a", "b", 0), mesh("b", "d", 120), mesh("d", "c"))))
        assert [loop.odd for loop in ring3.loops] == [True]


class TestLevels:
    def test_mates_share_a_level_and_below_is_the_next_down(self) -> None:
        train = tripod()
        assert {g.id: g.level for g in train.gears} == {
            "first": 0, "wheel": 0, "pinion": 1, "sun": 1, "north": 1, "sw": 1, "se": 1}

    def test_above_lifts(self) -> None:
        train = solve_train(design((HUB, gear("b", 20), gear("top", 12, shaft="b", side="above")), (mesh("hub", "b", 0),)))
        assert [train.gear(n).level for n in ("hub", "b", "top")] == [1, 1, 0]
        assert (train.gear("top").shaft, train.gear("top").kind) == ("b", "idler")

    def test_meshes_and_shafts_that_ask_for_two_levels(self) -> None:
        train = solve_train(design(
            (gear("a", 20, (0, 0), drive=True), gear("b", 40), gear("c", 20, shaft="a"), gear("d", 40, shaft="b", side="above")),
            (mesh("a", "b", 0), mesh("c", "d"))))
        assert [kind for kind, _ in kinds(train)] == ["two_levels"]


class TestTeeth:
    @pytest.mark.parametrize("distance", [None, "72.2", "71.8"])
    def test_backlash_is_that_stated_at_the_nominal_centres(self, distance: str | None) -> None:
        train = solve_train(design((HUB, gear("b", 20)), (mesh("hub", "b", 0, distance=distance),)))
        assert train.meshes[0].backlash.nominal_mm == pytest.approx(0.4, abs=1e-9)
        assert train.gear("hub").geometry.thinning_mm == train.gear("b").geometry.thinning_mm
        if distance is None:
            assert train.gear("b").geometry.thinning_mm == pytest.approx(0.2)

    def test_teeth_are_never_thicker_than_standard(self) -> None:
        train = solve_train(design((HUB, gear("b", 20)), (mesh("hub", "b", 0, distance=74),)))
        assert train.gear("b").geometry.thinning_mm == 0.0
        # More than the first term 2 ΔA tan a of the backlash of spread centres.
        assert train.meshes[0].backlash.nominal_mm > 4.0 * math.tan(math.radians(20))

    def test_a_gear_in_two_meshes_takes_the_larger_thinning(self) -> None:
        train = solve_train(design((HUB, gear("b", 20), gear("c", 20)),
                                   (mesh("hub", "b", 0), mesh("hub", "c", 180, distance="72.3"))))
        standard, spread = train.meshes
        assert train.gear("hub").geometry.thinning_mm == pytest.approx(0.2)
        assert standard.backlash.nominal_mm == pytest.approx(0.4)
        assert 0.4 < spread.backlash.nominal_mm < 0.4 + 0.3 * 2 * math.tan(math.radians(20))

    def test_a_gear_without_mesh(self) -> None:
        hub = solve_train(design((HUB,))).gear("hub")
        assert hub.geometry.thinning_mm == pytest.approx(0.2)
        assert hub.largest_cutter_mm > 4.0 and "an equal gear" in hub.cutter_limit

    def test_the_mate_that_limits_the_cutter_is_named(self) -> None:
        train = solve_train(design((HUB, gear("b", 20), gear("c", 90)), (mesh("hub", "b", 0), mesh("hub", "c", 180))))
        pair_only = solve_train(design((HUB, gear("b", 20)), (mesh("hub", "b", 0),))).gear("hub").largest_cutter_mm
        assert train.gear("hub").largest_cutter_mm < pair_only and "`c`" in train.gear("hub").cutter_limit

    def test_every_tooth_meets_a_space(self) -> None:
        """On the line of centres both reference circles run the same way: arcs to the nearest teeth differ by half a pitch."""
        train = tripod()
        for m in train.meshes:
            a, b = train.gear(m.a), train.gear(m.b)
            beta = math.atan2(b.y_mm - a.y_mm, b.x_mm - a.x_mm)
            arc_a = a.geometry.pitch_radius_mm * (a.phase_rad - beta)
            arc_b = -b.geometry.pitch_radius_mm * (b.phase_rad - beta - math.pi)
            assert (arc_a - arc_b) / (math.pi * 4.0) % 1.0 == pytest.approx(0.5, abs=1e-9)
        assert train.gear("first").phase_rad == 0.0

    def test_on_a_shaft_a_tooth_stands_on_the_ray_of_the_mates_first(self) -> None:
        train = tripod()
        turn = train.gear("pinion").phase_rad - train.gear("wheel").phase_rad
        assert turn / (2.0 * math.pi / 16) == pytest.approx(round(turn / (2.0 * math.pi / 16)), abs=1e-9)


def test_gears_as_cut_do_not_overlap_where_they_stand() -> None:
    """Outlines laid over each other at the places and phases solved; half a tooth pitch out of phase they would overlap."""
    from shapely import Polygon

    from trivet.solve.gear_outline import gear_outline

    train = tripod()
    for out_of_phase in (False, True):
        for m in train.meshes:
            shapes = []
            for state, turn in ((train.gear(m.a), 0.0), (train.gear(m.b), 1.0 if out_of_phase else 0.0)):
                phase = state.phase_rad + turn * math.pi / state.geometry.teeth
                outline = gear_outline(state.geometry, state.cutter_diameter_mm / 2.0, phase).contour
                shapes.append(Polygon(outline.translated(state.x_mm, state.y_mm).points(0.001)))
            overlap = shapes[0].intersection(shapes[1]).area
            assert overlap > 5.0 if out_of_phase else overlap == 0.0
