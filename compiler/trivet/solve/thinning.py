"""How much each gear's teeth are thinned so that its meshes have the backlash stated."""

from __future__ import annotations

from trivet.solve.mesh_geometry import thinning_for_backlash_mm
from trivet.solve.train_graph import Pair, TrainGraph


def solve_thinning(graph: TrainGraph, distances_mm: dict[Pair, float]) -> dict[str, float]:
    """Thinning of the reference tooth thickness (both flanks together, mm) by gear.

    `backlash` is that on the working circles at the nominal centres, whether these are stated or derived. Each mesh
    asks both its gears for half of t1 + t2 = j A0/A − (z1 + z2) m (inv aw − inv a) + 2 m Σx tan a, with j the mean of
    the two gears' tooth forms; on derived centres without shift that is j/2 each. A gear in several meshes takes the
    most that one of them asks, so that no mesh has less than the backlash stated. Teeth are never left thicker than
    standard: centres spread by more than the backlash keep what the spread gives. A gear without mesh takes j/2.
    `distances_mm` holds the meshes that can work.
    """
    wanted: dict[str, float] = {}
    for (a, b), distance in distances_mm.items():
        j = (backlash_of(graph, a) + backlash_of(graph, b)) / 2.0
        both = thinning_for_backlash_mm(graph.teeth[a], graph.teeth[b], distance, j)
        assert both is not None, (a, b, distance)
        for name in (a, b):
            wanted[name] = max(wanted.get(name, 0.0), both / 2.0)
    return {name: wanted.get(name, backlash_of(graph, name) / 2.0) for name in graph.gears}


def backlash_of(graph: TrainGraph, gear: str) -> float:
    """The backlash that a gear's tooth form states, mm."""
    return graph.forms[graph.gears[gear].tooth_form.text].backlash.mm
