"""How the train's numbers came about."""

from __future__ import annotations

from fractions import Fraction

from trivet.model.train import Gear, Mesh
from trivet.solve.derived import Because
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import MeshGeometry
from trivet.solve.train_graph import TrainGraph
from trivet.source import Origin
from trivet.units import length_text

TRAIN_VALUE_SOURCE = "Wentzell, Machine Elements, example 11.2, p. 219 (published copy); an idler cancels"
BACKLASH_SOURCE = "exact form, derived; its first term 2 ΔA tan a is eq. 14-3a of a gear catalogue's section on backlash, p. 388"
THICKNESS_SOURCE = "basic rack of ISO 53; shifted thickness: SDP/SI, Elements of Metric Gear Technology, Table 10-1"
DISTANCE_SOURCE = "SDP/SI, Elements of Metric Gear Technology, Table 4-3 (from memory)"


def speed_because(graph: TrainGraph, name: str, signed: dict[str, Fraction], path: tuple[str, ...]) -> Because:
    """A gear's signed speed by the gear before it on the path from the drive."""
    if len(path) < 2:
        return Because("speed", "1", "turns with the drive", (), TRAIN_VALUE_SOURCE)
    before = path[-2]
    inputs = ((f"speed of {before}", str(signed[before]), None), _teeth(graph.gears[before]), _teeth(graph.gears[name]))
    if before in graph.shafted[name] and signed[before] == signed[name]:
        return Because("speed", str(signed[name]), f"on one shaft with {before}", inputs[:1], TRAIN_VALUE_SOURCE)
    return Because("speed", str(signed[name]), f"−(speed of {before}) × z of {before}/z of {name}", inputs, TRAIN_VALUE_SOURCE)


def thickness_because(graph: TrainGraph, name: str, teeth: ToothGeometry, unit: str) -> Because:
    """A gear's tooth thickness on its reference circle."""
    gear = graph.gears[name]
    form = graph.forms[gear.tooth_form.text]
    shift = gear.profile_shift
    inputs = (
        ("module", length_text(teeth.module_mm, unit, 4), form.module_origin),
        ("profile shift", f"{teeth.profile_shift:g}", shift.origin if shift is not None else None),
        ("pressure angle", f"{form.pressure_angle_deg:g} deg", form.name.origin),
        ("backlash", length_text(form.backlash.mm, unit, 3), form.backlash.origin),
        ("thinning", length_text(teeth.thinning_mm, unit, 3), None),
    )
    return Because(
        "tooth thickness",
        length_text(teeth.thickness_mm, unit, 3),
        "m (π/2 + 2 x tan a) − thinning; the thinning is the most that half of one of its meshes asks for its backlash",
        inputs,
        THICKNESS_SOURCE,
    )


def distance_because(graph: TrainGraph, mesh: Mesh, geometry: MeshGeometry, derived: bool, unit: str) -> Because:
    """The actual centre distance of a mesh."""
    a, b = graph.gears[mesh.a.text], graph.gears[mesh.b.text]
    value = length_text(geometry.centre_distance_mm, unit, 3)
    stated = mesh.centre_distance
    if stated is not None:
        return Because("centre distance", value, "stated", (("centre distance", str(stated), stated.origin),), "")
    if not derived:
        inputs = tuple((gear.name.text, "place", gear.at.origin if gear.at is not None else gear.name.origin) for gear in (a, b))
        return Because("centre distance", value, "between the gears' places", inputs, "")
    form = graph.forms[a.tooth_form.text]
    inputs = (("module", length_text(form.module_mm, unit, 4), form.module_origin), _teeth(a), _teeth(b))
    formula = "m (z1 + z2)/2"
    if a.profile_shift is not None or b.profile_shift is not None:
        formula += " × cos a/cos aw, inv aw = inv a + 2 tan a (x1 + x2)/(z1 + z2)"
    return Because("centre distance", value, formula, inputs, DISTANCE_SOURCE)


def backlash_because(mesh: Mesh, geometry: MeshGeometry, a: ToothGeometry, b: ToothGeometry, unit: str) -> Because:
    """The nominal backlash of a mesh."""
    inputs = (
        ("A", length_text(geometry.centre_distance_mm, unit, 3), mesh.origin),
        ("s1", length_text(a.thickness_mm, unit, 3), mesh.a.origin),
        ("s2", length_text(b.thickness_mm, unit, 3), mesh.b.origin),
    )
    return Because(
        "backlash",
        length_text(geometry.backlash_mm, unit, 3),
        "(2A/(z1 + z2)) (π − (s1 + s2)/m + (z1 + z2)(inv aw − inv a))",
        inputs,
        BACKLASH_SOURCE,
    )


def _teeth(gear: Gear) -> tuple[str, str, Origin | None]:
    return f"z of {gear.name}", str(gear.z), gear.teeth.origin
