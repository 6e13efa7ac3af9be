"""The train as a graph, what its numbers say they come from, and the chance to bind: each function alone, figures by hand. Lengths mm."""

from __future__ import annotations

import math
from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import HEX_NUT, design, drive, gear, mesh, mm, pivot, q, ring, tooth_form

from trivet.model.base import Band, Ref
from trivet.model.shop import Cutter
from trivet.solve.binding import Binding
from trivet.solve.binding_errors import Axis, Cut, Shift, TrainErrors
from trivet.solve.binding_rings import ErrorMesh, MeshedRing, error_ring, meshed_rings
from trivet.solve.binding_words import chance_words, eased_words, part_words, remedies_words, risk_words
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry
from trivet.solve.train_because import backlash_because, distance_because, speed_because, thickness_because
from trivet.solve.train_graph import pair, teeth_of, train_graph
from trivet.solve.train_parts import train_parts

TOOTH = ToothGeometry(20, 4.0)


def test_a_graph_of_meshes_rings_and_shafts() -> None:
    gears = (
        gear("e", 20, shaft="d"), gear("d", 20, shaft="c"), gear("c", 20), gear("b", 30, profile_shift=q("0.5")), gear("hub", 16, drive=True),
        gear("a", 20, tooth_form=Ref("fine")),
    )  # fmt: skip
    meshes = (mesh("hub", "c", 90), mesh("c", "hub", distance="72.5"), mesh("hub", "hub"), mesh("b", "c"), mesh("b", "a"))
    graph = train_graph(design(gears, meshes, (ring("loop", ("c", "b", "e")),), tooth_forms=(tooth_form(), tooth_form("fine", 2.0))))
    assert list(graph.gears) == ["a", "b", "c", "d", "e", "hub"] and graph.drive_gear == "hub"
    assert list(graph.meshes) == [("a", "b"), ("b", "c"), ("b", "e"), ("c", "e"), ("c", "hub")]
    # Of one pair the statement with a distance comes first.
    assert [(item.a.text, item.b.text) for item in graph.statements] == [("b", "a"), ("b", "c"), ("c", "hub"), ("hub", "c")]
    assert graph.mesh("hub", "c").centre_distance is not None and graph.mesh("c", "hub") is graph.mesh("hub", "c")
    assert graph.meshed == {"a": ("b",), "b": ("a", "c", "e"), "c": ("b", "e", "hub"), "d": (), "e": ("b", "c"), "hub": ("c",)}
    assert graph.shafted == {"a": (), "b": (), "c": ("d",), "d": ("c", "e"), "e": ("d",), "hub": ()}
    assert graph.shaft_of == {"a": "a", "b": "b", "c": "c", "d": "c", "e": "c", "hub": "hub"}
    assert list(graph.neighbours("e")) == [("b", True), ("c", True), ("d", False)]
    assert list(graph.roots()) == ["hub", "a", "b", "c", "d", "e", "hub"]
    assert list(train_graph(design((gear("b", 9), gear("a", 9)))).roots()) == ["a", "b"]
    assert not graph.alike("a", "b") and graph.alike("b", "c")
    # Both statements of the pair take the stated distance; unlike teeth touch at their reference circles: 20 and 60.
    assert [graph.distance_mm(item) for item in graph.statements[2:]] == [72.5, 72.5] and graph.tight_mm("a", "b") == 80.0
    # x1 + x2 = 0.5 over 50 teeth: inv aw = inv 20° + 2 tan 20° · 0.5/50.
    found = graph.distance_mm(graph.statements[1])
    aw = math.acos(100 * math.cos(math.radians(20)) / found)
    assert math.tan(aw) - aw == pytest.approx(math.tan(math.radians(20)) - math.radians(20) + 2 * math.tan(math.radians(20)) * 0.01)
    assert pair("b", "a") == pair("a", "b") == ("a", "b")


def test_shafts_and_angles_in_a_graph() -> None:
    # Two gears that each stand on the other's shaft are a fault elsewhere; here they must only end.
    graph = train_graph(design((gear("a", 20, shaft="b"), gear("b", 20, shaft="a"), gear("c", 20, shaft="c"))))
    assert graph.shaft_of["a"] in "ab" and graph.shaft_of["c"] == "c" and graph.shafted["c"] == ()
    angles = train_graph(design((gear("a", 20), gear("b", 20)), (mesh("b", "a"), mesh("b", "a", 90.0), mesh("a", "b", 40.0), mesh("b", "a", 10.0))))
    assert [item.angle.value if item.angle else None for item in angles.statements] == [40.0, 10.0, 90.0, None]


def test_teeth_of_a_form() -> None:
    form = tooth_form(module=5.0, pressure_angle_deg=25.0, addendum=0.9, dedendum=1.1, tip_shortening_mm=0.2)
    found = teeth_of(gear("a", 17, profile_shift=q("0.3")), form, 0.4)
    assert found == ToothGeometry(17, 5.0, math.radians(25.0), 0.3, 0.4, 0.9, 1.1, 0.2)
    assert teeth_of(gear("a", 17), form) == ToothGeometry(17, 5.0, math.radians(25.0), 0.0, 0.0, 0.9, 1.1, 0.2)


def test_parts_by_name() -> None:
    pivots = (pivot(), pivot(name=Ref("shoulder"), sleeve_outside=None, shoulder=mm(9)), pivot(name=Ref("plain"), sleeve_outside=None))
    gears = (gear("hub", 20, drive=True, layers=2), gear("a", 20), gear("b", 20, turns_on=Ref("shoulder")), gear("c", 20, turns_on=Ref("plain")))
    parts = train_parts(design(gears, pivots=pivots, cutters=(Cutter(name=Ref("straight"), diameter=mm(4)), Cutter(name=Ref("vee")))))
    assert parts.face_width(gears[0]) == Band(35.6, 35.2, 36.0) and parts.face_width(gears[1]) == Band(17.8, 17.6, 18.0)
    assert parts.board_thickness("deck") == Band(17.8, 17.6, 18.0)
    assert parts.cutter_mm(gears[0]) == 4.0 and parts.cutter_mm(gear("v", 20, cutter=Ref("vee"))) == 0.0
    assert [parts.pivot_outside_mm(item) for item in gears[1:]] == [8.0, 9.0, 8.0]
    assert parts.has_tee_nut(gears[0]) and not parts.has_tee_nut(gears[1])
    assert not train_parts(design(gears, drives=(drive(nut=HEX_NUT),))).has_tee_nut(gears[0])


def test_where_speeds_come_from() -> None:
    made = design((gear("hub", 20, drive=True), gear("b", 40), gear("c", 10, shaft="b")), (mesh("hub", "b"),))
    graph = train_graph(made)
    signed = {"hub": Fraction(1), "b": Fraction(-1, 2), "c": Fraction(-1, 2)}
    found = speed_because(graph, "b", signed, ("hub", "b"))
    assert (found.quantity, found.value, found.formula) == ("speed", "-1/2", "−(speed of hub) × z of hub/z of b")
    assert [item[:2] for item in found.inputs] == [("speed of hub", "1"), ("z of hub", "20"), ("z of b", "40")]
    shaft = speed_because(graph, "c", signed, ("hub", "b", "c"))
    assert (shaft.value, shaft.formula, [item[:2] for item in shaft.inputs]) == ("-1/2", "on one shaft with b", [("speed of b", "-1/2")])
    first = speed_because(graph, "hub", signed, ("hub",))
    assert (first.value, first.formula, first.inputs) == ("1", "turns with the drive", ())


def test_where_a_mesh_comes_from() -> None:
    shifted = gear("b", 30, profile_shift=q("0.5"))
    graph = train_graph(design((gear("a", 20, at=(0, 0)), gear("c", 30), shifted), (mesh("a", "c"), mesh("a", "b"))))
    thin = ToothGeometry(30, 4.0, profile_shift=0.5, thinning_mm=0.2)
    # 4 (π/2 + 2 · 0.5 tan 20°) − 0.2.
    thick = thickness_because(graph, "b", thin, "mm")
    assert thick.value == f"{4 * (math.pi / 2 + math.tan(math.radians(20))) - 0.2:.3f} mm"
    assert [item[:2] for item in thick.inputs] == [
        ("module", "4 mm"), ("profile shift", "0.5"), ("pressure angle", "20 deg"), ("backlash", "0.4 mm"), ("thinning", "0.2 mm"),
    ]  # fmt: skip
    geometry = mesh_geometry(TOOTH, ToothGeometry(30, 4.0), 100.25)
    assert geometry is not None
    stated = distance_because(graph, mesh("a", "c", distance="100.25"), geometry, True, "mm")
    assert (stated.value, stated.formula, stated.inputs[0][:2]) == ("100.25 mm", "stated", ("centre distance", "100.25 mm"))
    placed = distance_because(graph, mesh("a", "c"), geometry, False, "mm")
    assert placed.formula == "between the gears' places" and [item[0] for item in placed.inputs] == ["a", "c"]
    derived = distance_because(graph, mesh("a", "c"), geometry, True, "mm")
    assert derived.formula == "m (z1 + z2)/2"
    assert [item[:2] for item in derived.inputs] == [("module", "4 mm"), ("z of a", "20"), ("z of c", "30")]
    for sides in (("a", "b"), ("b", "a")):
        assert "inv aw" in distance_because(graph, mesh(*sides), geometry, True, "mm").formula
    play = backlash_because(mesh("a", "c"), geometry, TOOTH, thin, "mm")
    assert play.value == f"{geometry.backlash_mm:.3f} mm"
    assert [item[:2] for item in play.inputs] == [("A", "100.25 mm"), ("s1", f"{2 * math.pi:.3f} mm"), ("s2", thick.value)]


# The chance to bind, in words.
def test_chances_in_words() -> None:
    for chance, words in (
        (0.00009, "less than 1 in 10000"), (0.0001, "about 1 in 10000"), (0.0123, "about 1 in 81"), (0.0081, "about 1 in 120"), (0.29, "about 1 in 3"),
        (0.3, "about 3 in 10"), (0.94, "about 9 in 10"), (0.96, "nearly every one"),
    ):  # fmt: skip
        assert chance_words(chance) == words
    parts = [
        "a tenth", "a fifth", "a quarter", "a third", "two fifths", "half", "three fifths", "two thirds", "three quarters", "four fifths",
        "nine tenths", "nearly all",
    ]  # fmt: skip
    for share, words in zip((0.1, 0.2, 0.25, 1 / 3, 0.4, 0.5, 0.6, 2 / 3, 0.75, 0.8, 0.9, 1.0), parts, strict=True):
        assert part_words(share - 0.01) == part_words(share + 0.01) == words
    assert part_words(0.049) == "a little" and part_words(0.05) == "a tenth"


def bound(chance: float | None = 0.1, left: tuple[float, ...] = (0.02, 0.03, 0.06, 0.08, 0.096), **facts: Any) -> Binding:
    kinds = tuple((f"error {index}", value) for index, value in enumerate(left))
    return Binding(chance, 1000, 1, (), kinds, **facts)


def test_what_carries_the_risk() -> None:
    found = bound()
    assert [found.share(left) for left in (0.02, 0.1, 0.2)] == pytest.approx([0.8, 0.0, 0.0]) and bound(0.0).share(0.0) == bound(None).share(0.0) == 0.0
    # At most three kinds, those of a twentieth or more.
    assert risk_words(found) == "without error 0 four fifths of the risk would be gone, without error 1 two thirds, without error 2 two fifths"
    assert risk_words(bound(left=(0.095, 0.0951))) == "without error 0 a tenth of the risk would be gone"
    assert risk_words(bound(left=(0.0951,))) == "" and risk_words(bound(left=())) == ""


def test_cures_in_words() -> None:
    cures = (("a guide", 0.03, ("error 0",)), ("more backlash", 0.001, ()), ("bores", 0.02, ("error 1",)), ("worse", 0.2, ()), ("nothing", 0.1, ()))
    found = bound(remedies=cures)
    assert remedies_words(found) == (
        "more backlash would leave about 1 in 1000", "bores would leave about 1 in 50", "a guide would leave about 1 in 33",
    )  # fmt: skip
    assert remedies_words(found, ("guide", "backlash")) == ("bores would leave about 1 in 50",)
    # 0.02 and 0.025 left are within a tenth of the risk: the one whose cure leaves least.
    assert eased_words(bound(left=(0.02, 0.025), remedies=cures)) == "three quarters would be gone without error 1; bores would leave about 1 in 50"
    assert eased_words(bound(left=(0.02, 0.031), remedies=cures)) == "four fifths would be gone without error 0; a guide would leave about 1 in 33"
    assert eased_words(bound(left=(0.02,), remedies=cures[1:])) == "four fifths would be gone without error 0; more backlash would leave about 1 in 1000"
    assert eased_words(bound(left=(0.02,), remedies=cures[4:])) == "four fifths would be gone without error 0"
    assert eased_words(bound(left=(0.0951,), remedies=cures)) == "" == eased_words(bound(left=(), remedies=cures))


def test_backlash_that_a_limit_asks_for() -> None:
    found = bound(with_more=(0.1, 0.05, 0.01, 0.0))
    assert [found.more_backlash_mm(limit) for limit in (0.1, 0.07, 0.05, 0.001)] == pytest.approx([0.0, 0.01, 0.01, 0.03])
    assert found.more_backlash_mm(-1.0) == pytest.approx(0.04)


# Rings of meshes.
def error_mesh(name: str, along: tuple[float, float], axes: tuple[int, int], closer: tuple[float, float] = (0.0, 0.0)) -> ErrorMesh:
    return ErrorMesh(name, TOOTH, TOOTH, along, axes, (0, 0), (0.0, 0.0), 18.0, closer)


def test_what_gears_off_centre_take_of_a_square_ring() -> None:
    """A gear at a right angle, off by (x, y): each mesh gives |tan a| x or y and is out of phase by the other; both bounds by its two meshes."""
    ring_ = MeshedRing(("a", "b", "c", "d"), ("ab", "bc", "cd", "da"), 0.7)
    meshes = (error_mesh("bc", (0, 80), (1, 2)), error_mesh("ab", (80, 0), (0, 1)), error_mesh("da", (0, -80), (3, 0)), error_mesh("cd", (-80, 0), (2, 3)))
    found = error_ring(ring_, meshes)
    assert (found.gears, found.meshes, found.signs, found.residual_mm) == (("a", "b", "c", "d"), (1, 0, 3, 2), (1, -1, 1, -1), 0.7)
    t = math.tan(math.radians(20.0))
    # a: mesh ab along +x, sign +: near (t, 0), side (0, −1); mesh da along −y, a second, sign −: near (0, t), side (−1, 0).
    assert [axis for axis, _, _ in found.off_centre] == [0, 1, 2, 3]
    by = {axis: sorted((one, other)) for axis, one, other in found.off_centre}
    for axis in range(4):
        assert by[axis] == pytest.approx(sorted((math.hypot(t - 1, t - 1), math.hypot(t + 1, t + 1))))


def test_rings_that_count() -> None:
    def state(name: str, x: float, y: float) -> Any:
        return Of(id=name, x_mm=x, y_mm=y, geometry=TOOTH)

    angle = math.radians(91.0)
    c, s = 80 * math.cos(angle), 80 * math.sin(angle)
    gears = (state("a", 0, 0), state("b", 80, 0), state("c", 80 + c, s), state("d", c, s))
    sides = [("a", "b"), ("b", "c"), ("c", "d"), ("a", "d")]
    meshes = tuple(Of(id="-".join(side), a=side[0], b=side[1]) for side in sides)
    loop = Of(gears=("a", "b", "c", "d"), odd=False)
    (found,) = meshed_rings(Of(train=Of(meshes=meshes, gears=gears, loops=(loop, Of(gears=("a", "b", "c"), odd=True), Of(gears=("a", "c"), odd=False)))))
    # 20 (91 − 90)/90 = 2/9 of a pitch of 4 π.
    assert (found.gears, found.meshes) == (loop.gears, ("a-b", "b-c", "c-d", "a-d")) and abs(found.residual_mm) == pytest.approx(8 * math.pi / 9)


def test_kinds_of_error_that_are_not_zero() -> None:
    axes = (Axis((Shift("hole position", 0.1, False),), 0.0), Axis((Shift("bore clearance", 0.1, True),), 0.01))
    meshes = (error_mesh("ab", (80, 0), (0, 1), (-0.1, 0.01)),)
    found = TrainErrors(axes, (Cut(0.05, 0.0), Cut(0.0, 0.02)), meshes, 6.0)
    assert found.kinds() == ("bore clearance", "hole position", "insert tilt", "moisture", "profile offset", "run-out")
    assert TrainErrors(axes[:1], (Cut(0.0, 0.0),), meshes, 0.0).kinds() == ("hole position",)
    assert TrainErrors((), (), (error_mesh("ab", (80, 0), (0, 1), (-0.1, 0.0)),), 6.0).kinds() == ()
