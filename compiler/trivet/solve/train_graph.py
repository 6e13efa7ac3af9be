"""The gear train as a graph: gears by name, meshes once a pair, shafts; everything in the order of names."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.design import Design
from trivet.model.shop import ToothForm
from trivet.model.train import Gear, Mesh
from trivet.record import record
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import alike, tight_centre_distance_mm

Pair = tuple[str, str]


@record
class TrainGraph:
    """Gears, meshes and shafts of a design, independent of the order in which they were written.

    `meshes` holds one mesh a pair, those of rings included; `statements` every mesh as stated, for placing. `teeth`:
    the gears before thinning. `meshed` and `shafted` list neighbours in the order of names. `shaft_of` names the gear
    whose drive, pivot or foot holds the shaft. The dictionaries are filled once, by `train_graph`.
    """

    gears: dict[str, Gear]
    forms: dict[str, ToothForm]
    teeth: dict[str, ToothGeometry]
    meshes: dict[Pair, Mesh]
    statements: tuple[Mesh, ...]
    meshed: dict[str, tuple[str, ...]]
    shafted: dict[str, tuple[str, ...]]
    shaft_of: dict[str, str]
    drive_gear: str | None

    def mesh(self, a: str, b: str) -> Mesh:
        """The mesh of two neighbours, in either order."""
        return self.meshes[pair(a, b)]

    def alike(self, a: str, b: str) -> bool:
        """Whether two gears have one module and one pressure angle, without which they cannot mesh."""
        return alike(self.teeth[a], self.teeth[b])

    def distance_mm(self, mesh: Mesh) -> float:
        """Centre distance a mesh asks for: stated, or else the tight one, at which thinning alone gives the backlash."""
        stated = self.mesh(mesh.a.text, mesh.b.text).centre_distance or mesh.centre_distance
        if stated is not None:
            return stated.mm
        return self.tight_mm(mesh.a.text, mesh.b.text)

    def tight_mm(self, a: str, b: str) -> float:
        """Centre distance at which the unthinned teeth of two gears have no backlash, profile shifts included."""
        one, two = self.teeth[a], self.teeth[b]
        # Shifts that cancel leave the reference circles touching: no rounding. Unlike teeth are a fault of their own; touching
        # circles place the rest, so that no echo follows.
        if one.profile_shift + two.profile_shift == 0.0 or not self.alike(a, b):
            return one.pitch_radius_mm + two.pitch_radius_mm
        return tight_centre_distance_mm(one, two)

    def neighbours(self, gear: str) -> Iterator[tuple[str, bool]]:
        """(neighbour, whether by a mesh), meshes first."""
        yield from ((other, True) for other in self.meshed[gear])
        yield from ((other, False) for other in self.shafted[gear])

    def roots(self) -> Iterator[str]:
        """Where to start: the drive gear, then every gear by name."""
        if self.drive_gear is not None:
            yield self.drive_gear
        yield from self.gears


def pair(a: str, b: str) -> Pair:
    """Two names in order."""
    return (a, b) if a < b else (b, a)


def train_graph(design: Design) -> TrainGraph:
    """The graph of a design. A ring adds the meshes of its neighbours where they are not stated."""
    gears = {gear.name.text: gear for gear in sorted(design.gears, key=lambda g: g.name.text)}
    forms = {form.name.text: form for form in design.tooth_forms}
    stated = sorted((mesh for mesh in design.meshes if mesh.a.text != mesh.b.text), key=_mesh_order)
    meshes: dict[Pair, Mesh] = {}
    for mesh in stated:
        meshes.setdefault(pair(mesh.a.text, mesh.b.text), mesh)
    for ring in sorted(design.rings, key=lambda r: r.name.text):
        for a, b in zip(ring.gears, ring.gears[1:] + ring.gears[:1], strict=True):
            if a.text != b.text:
                meshes.setdefault(pair(a.text, b.text), Mesh(a=a, b=b, origin=ring.name.origin))
    meshes = dict(sorted(meshes.items()))
    meshed: dict[str, list[str]] = {name: [] for name in gears}
    for a_name, b_name in meshes:
        meshed[a_name].append(b_name)
        meshed[b_name].append(a_name)
    shafted: dict[str, set[str]] = {name: set() for name in gears}
    for name, gear in gears.items():
        if gear.on_shaft_with is not None and gear.on_shaft_with.text != name:
            shafted[name].add(gear.on_shaft_with.text)
            shafted[gear.on_shaft_with.text].add(name)
    return TrainGraph(
        gears=gears,
        forms=forms,
        teeth={name: teeth_of(gear, forms[gear.tooth_form.text]) for name, gear in gears.items()},
        meshes=meshes,
        statements=tuple(stated),
        meshed={name: tuple(sorted(others)) for name, others in meshed.items()},
        shafted={name: tuple(sorted(others)) for name, others in shafted.items()},
        shaft_of={name: _shaft(name, gears) for name in gears},
        drive_gear=next((name for name, gear in gears.items() if gear.turned_by is not None), None),
    )


def teeth_of(gear: Gear, form: ToothForm, thinning_mm: float = 0.0) -> ToothGeometry:
    """A gear's teeth by its tooth form."""
    return ToothGeometry(
        teeth=gear.z,
        module_mm=form.module_mm,
        pressure_angle_rad=math.radians(form.pressure_angle_deg),
        profile_shift=gear.profile_shift.value if gear.profile_shift is not None else 0.0,
        thinning_mm=thinning_mm,
        addendum_coefficient=form.addendum,
        dedendum_coefficient=form.dedendum,
        tip_shortening_mm=form.tip_shortening_mm,
    )


def _mesh_order(mesh: Mesh) -> tuple[Pair, bool, bool, str, float]:
    """By pair; of one pair, the statement with a centre distance and an angle first."""
    angle = mesh.angle.value if mesh.angle is not None else 0.0
    return pair(mesh.a.text, mesh.b.text), mesh.centre_distance is None, mesh.angle is None, mesh.a.text, angle


def _shaft(name: str, gears: dict[str, Gear]) -> str:
    seen: set[str] = set()
    while name not in seen and (mate := gears[name].on_shaft_with) is not None:
        seen.add(name)
        name = mate.text
    return name
