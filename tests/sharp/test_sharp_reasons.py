"""How the train's figures are written, digit by digit, and shifts that cancel or add up. Lengths mm."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from tests.designs import design, gear, mesh, q, tooth_form

from trivet.model.base import Ref
from trivet.model.train import Mesh
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry
from trivet.solve.train_because import backlash_because, distance_because, speed_because, thickness_because
from trivet.solve.train_graph import TrainGraph, train_graph

# Seven teeth to the inch of diameter: 25.4/7 = 3.628571…
MODULE = 25.4 / 7


def graph(*gears: Any, meshes: tuple[Any, ...] = ()) -> TrainGraph:
    return train_graph(design(gears or (gear("a", 20), gear("b", 30)), meshes, tooth_forms=(tooth_form(module=MODULE, backlash="0.12345"),)))


def inputs(found: Any) -> list[tuple[str, str]]:
    return [item[:2] for item in found.inputs]


def test_digits_of_a_tooths_thickness() -> None:
    """The module to four decimals, lengths to three; in inches the same digits of an inch."""
    teeth = ToothGeometry(20, MODULE, thinning_mm=0.06789)
    found = thickness_because(graph(), "a", teeth, "mm")
    assert inputs(found) == [
        ("module", "3.6286 mm"), ("profile shift", "0"), ("pressure angle", "20 deg"), ("backlash", "0.123 mm"), ("thinning", "0.068 mm"),
    ]  # fmt: skip
    assert found.value == f"{MODULE * math.pi / 2 - 0.06789:.3f} mm"


def test_digits_of_a_mesh() -> None:
    one, two = ToothGeometry(20, MODULE, thinning_mm=0.0123), ToothGeometry(30, MODULE, thinning_mm=0.0456)
    geometry = mesh_geometry(one, two, 91.23456)
    assert geometry is not None
    placed = distance_because(graph(), mesh("a", "b"), geometry, True, "mm")
    assert placed.value == "91.235 mm" and inputs(placed) == [("module", "3.6286 mm"), ("z of a", "20"), ("z of b", "30")]
    play = backlash_because(mesh("a", "b"), geometry, one, two, "mm")
    half = MODULE * math.pi / 2
    assert inputs(play) == [("A", "91.235 mm"), ("s1", f"{half - 0.0123:.3f} mm"), ("s2", f"{half - 0.0456:.3f} mm")]
    assert play.value == f"{geometry.backlash_mm:.3f} mm"


def test_places_that_reasons_point_to() -> None:
    """A stated distance to its own line; a distance between places to each gear's place, or to its name where it has none."""
    here: Any = [f"place {n}" for n in range(6)]
    stated = gear("a", 20, (0.0, 0.0)).model_copy(update={"name": Ref("a", here[0])})
    derived = gear("b", 30).model_copy(update={"name": Ref("b", here[1])})
    geometry = mesh_geometry(ToothGeometry(20, MODULE), ToothGeometry(30, MODULE), 91.0)
    assert geometry is not None
    made = Mesh(a=Ref("a", here[2]), b=Ref("b", here[3]), origin=here[4])
    found = distance_because(graph(stated, derived), made, geometry, False, "mm")
    assert [item[2] for item in found.inputs] == [stated.at.origin, here[1]]
    play = backlash_because(made, geometry, ToothGeometry(20, MODULE), ToothGeometry(30, MODULE), "mm")
    assert [item[2] for item in play.inputs] == [here[4], here[2], here[3]]


def test_of_two_on_a_shaft_and_in_mesh_the_speed_tells_which() -> None:
    """A gear that turns against its shaft's other gear got its speed over the mesh."""
    both = graph(gear("hub", 20, drive=True), gear("b", 40, shaft="hub"), meshes=(mesh("hub", "b"),))
    path = ("hub", "b")
    assert speed_because(both, "b", {"hub": Fraction(1), "b": Fraction(-1, 2)}, path).formula == "−(speed of hub) × z of hub/z of b"
    assert speed_because(both, "b", {"hub": Fraction(1), "b": Fraction(1)}, path).formula == "on one shaft with hub"


@pytest.mark.parametrize(("one", "other", "exact"), [("0.3", "-0.3", True), ("0", "0", True), ("0.3", "0.3", False), ("-0.2", "-0.2", False)])
def test_shifts_that_cancel_leave_the_reference_circles_touching(one: str, other: str, exact: bool) -> None:
    """Else inv aw = inv a + 2 tan a (x1 + x2)/(z1 + z2)."""
    a, b = gear("a", 20, profile_shift=q(one)), gear("b", 30, profile_shift=q(other))
    found = train_graph(design((a, b), (mesh("a", "b"),))).tight_mm("a", "b")
    if exact:
        assert found == 100.0
        return
    angle = math.radians(20.0)
    working = math.acos(100.0 * math.cos(angle) / found)
    asked = math.tan(angle) - angle + 2.0 * math.tan(angle) * (float(one) + float(other)) / 50.0
    assert math.tan(working) - working == pytest.approx(asked)
