"""What would bring the teeth of a closed ring into phase."""

from __future__ import annotations

import math

from trivet.checks._train import named
from trivet.model.design import Design
from trivet.solve.derived import Derived, LoopState
from trivet.solve.mesh_phase import ring_closure
from trivet.units import length_text

# Step of the numerical slope, and how far a gear is looked at (common practice, no source).
STEP_MM = 1e-4
FURTHEST_MM = 10.0
# A mesh may lose this much of its centre distance, mm: far less than backlash.
NO_TIGHTER_MM = 0.02
# Teeth closer to their place than this are in it: far below what can be cut, far above rounding.
ROUNDING_MM = 0.001
Point = tuple[float, float]


def closes(loop: LoopState) -> bool:
    """Whether backlash takes up what is left over at the last mesh; what is left by rounding alone is nothing."""
    return loop.residual_mm <= loop.allowed_mm + ROUNDING_MM


def ring_remedy(design: Design, derived: Derived, loop: LoopState, unit: str) -> str:
    """The shortest move of one gear after which the ring closes and no mesh of it is tighter; tried before it is said.

    The gears of a `ring` cannot be moved by themselves: there teeth are to be alike.
    """
    if any({gear.text for gear in ring.gears} == set(loop.gears) for ring in design.rings):
        return _alike_teeth(derived, loop) + "; or open the ring by leaving out one mesh"
    states = [derived.train.gear(name) for name in loop.gears]
    teeth, module = [state.gear.z for state in states], states[0].geometry.module_mm
    centres = [(state.x_mm, state.y_mm) for state in states]
    best: tuple[float, str, Point] | None = None
    for index, state in enumerate(states):
        here = _residual(teeth, centres, index, (0.0, 0.0), module)
        slope = [(_residual(teeth, centres, index, step, module) - here) / STEP_MM for step in ((STEP_MM, 0.0), (0.0, STEP_MM))]
        steep = math.hypot(*slope)
        if steep == 0.0:
            continue
        move = (-here * slope[0] / steep**2, -here * slope[1] / steep**2)
        place_after = (state.x_mm + move[0], state.y_mm + move[1])
        after = abs(_residual(teeth, centres, index, move, module)) * math.pi * module
        mates = (centres[index - 1], centres[(index + 1) % len(centres)])
        tighter = any(math.dist(place_after, mate) < math.dist(centres[index], mate) - NO_TIGHTER_MM for mate in mates)
        if (
            math.hypot(*move) <= FURTHEST_MM
            and after <= loop.allowed_mm + ROUNDING_MM
            and not tighter
            and (best is None or math.hypot(*move) < best[0])
        ):
            best = (math.hypot(*move), state.id, place_after)
    if best is None:
        return "place one gear of the ring by its meshes alone, or open the ring by leaving out one mesh"
    gear = derived.train.gear(best[1]).gear
    board = next(item for item in design.boards if item.name == gear.under)
    x, y = (length_text(value, unit, 3).partition(" ")[0] for value in (best[2][0] - board.x_mm, best[2][1] - board.y_mm))
    instead = next((f" in place of its angle in `mesh {mesh.a}`," for mesh in design.meshes if mesh.b == gear.name and mesh.angle is not None), "")
    return (
        f"`at ({x}, {y}) {unit}` for `{gear.name}`,{instead} {length_text(best[0], unit)} from where it stands, closes the ring; or open the"
        " ring by leaving out one mesh"
    )


def _alike_teeth(derived: Derived, loop: LoopState) -> str:
    """Counts with which evenly spread gears close: every other gear alike. Each corner of n gears has (n - 2)/n of half a turn,
    so (n - 2)/4 times the difference of the two counts has to be whole; otherwise all are alike.
    """
    teeth = [derived.train.gear(name).gear.z for name in loop.gears]
    usual = [max(part, key=part.count) for part in (teeth[::2], teeth[1::2])]
    if (len(teeth) - 2) * (usual[0] - usual[1]) % 4:
        common = max(teeth, key=teeth.count)
        usual = [common, common]
    unlike: dict[int, list[str]] = {}
    for index, name in enumerate(loop.gears):
        if teeth[index] != usual[index % 2]:
            unlike.setdefault(usual[index % 2], []).append(name)
    if not unlike:
        return "give every other gear of it equal teeth"
    return " and ".join(f"{count} teeth on {named(names)}" for count, names in unlike.items()) + " close it"


def _residual(teeth: list[int], centres: list[Point], index: int, move: Point, module_mm: float) -> float:
    """What is left over, in pitches, with one gear moved."""
    moved = list(centres)
    moved[index] = (moved[index][0] + move[0], moved[index][1] + move[1])
    return ring_closure(teeth, moved, module_mm).residual_pitches
