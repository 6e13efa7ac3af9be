"""`python -m tests.benchmarks.builds`: virtual builds of a fixture against the chance of binding that the compiler predicts."""

from __future__ import annotations

import argparse
import math
import sys
import time
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

import numpy as np
from tests.benchmarks.polygon_builds import Sample, sampled
from tests.benchmarks.virtual_builds import Builds, Meshing, Teeth, plays_mm, thrown
from tests.oracles.recompute_facts import FIXTURES, Fixture

from trivet.files import DiskFiles
from trivet.model.design import Design
from trivet.pipeline import check
from trivet.solve.binding import binding
from trivet.solve.derived import Derived
from trivet.solve.solve import solve
from trivet.source import SourceFile
from trivet.units import Quantity

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
BUILDS, SEED = 10_000, 2024
# Example and backlash (mm): tight enough for some to bind.
CASES = (("outfeed_riser", 0.40), ("outfeed_riser", 0.45), ("small_riser", 0.36))


# So many places of the last mesh are turned as polygons too.
PLACES = 60


@dataclass(frozen=True)
class Result:
    """Shares that bind: of the virtual builds and as predicted; `band`: three standard errors of both together; a sample as polygons."""

    case: str
    builds: int
    seed: int
    bound: float
    predicted: float
    band: float
    sample: Sample

    @property
    def agrees(self) -> bool:
        """Whether the difference lies within the band, and the sample has no place that differs."""
        alike = self.sample.worst_mm <= 0.01 and self.sample.overlap == self.sample.tight
        return alike and abs(self.bound - self.predicted) <= self.band


def tight(name: str, backlash_mm: float) -> tuple[Design, Derived, Fixture]:
    """An example with another backlash, solved, and the same as typed facts."""
    files = DiskFiles()
    source = files.read(str(EXAMPLES / f"{name}.trivet"))
    assert isinstance(source, SourceFile)
    design = check(source, files).design
    assert design is not None
    forms = [form.model_copy(update={"backlash": Quantity(Fraction(str(backlash_mm)), "mm")}) for form in design.tooth_forms]
    changed = design.model_copy(update={"tooth_forms": tuple(forms)})
    return changed, solve(changed), replace(FIXTURES[name], backlash=backlash_mm)


def meshings(derived: Derived, f: Fixture) -> tuple[Meshing, ...]:
    """Places and teeth as derived, reaches from the typed facts: an insert flush with the underside, gears right below it."""
    states = {state.id: state for state in derived.train.gears}
    made = {key: Teeth.of(*key) for key in {(state.geometry, state.cutter_diameter_mm) for state in states.values()}}
    found = []
    for a, b in f.meshes:
        one, two = states[a], states[b]
        overlap = f.sheet[0]
        reaches = [overlap + f.foot.insert[0] / 2.0 if f.held[f.root(name)] == "foot" else 0.0 for name in (a, b)]
        teeth = [made[state.geometry, state.cutter_diameter_mm] for state in (one, two)]
        along = (two.x_mm - one.x_mm, two.y_mm - one.y_mm)
        found.append(Meshing((a, b), along, (teeth[0], teeth[1]), (reaches[0], reaches[1]), overlap))
    return tuple(found)


def compare(name: str, backlash_mm: float, count: int = BUILDS, seed: int = SEED, places: int = PLACES) -> Result:
    """One case, thrown and turned."""
    design, derived, f = tight(name, backlash_mm)
    builds: Builds = thrown(f, count, seed)
    meshes = meshings(derived, f)
    plays = plays_mm(f, meshes, builds)
    least = np.minimum.reduce(list(plays.values()))
    found = binding(design, derived)
    predicted, share = found.chance or 0.0, float(np.mean(least <= 0.0))
    spread = predicted * (1.0 - predicted)
    states = {state.id: state for state in derived.train.gears}
    one, two = (states[gear] for gear in meshes[-1].names)
    shapes = ((one.geometry, one.cutter_diameter_mm), (two.geometry, two.cutter_diameter_mm))
    return Result(
        f"{name}, backlash {backlash_mm:g} mm",
        count,
        seed,
        share,
        predicted,
        3.0 * math.sqrt(spread / count + spread / found.draws),
        sampled(f, meshes[-1], shapes, builds, plays[meshes[-1].names], places, seed),
    )


def main(arguments: list[str]) -> int:
    """Print one line a case; 1 where a difference is outside its band."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.builds", description="Virtual builds against the predicted chance.")
    parser.add_argument("--builds", type=int, default=BUILDS)
    parser.add_argument("--seed", type=int, default=SEED)
    chosen = parser.parse_args(arguments)
    agree = True
    for name, backlash in CASES:
        begun = time.perf_counter()
        found = compare(name, backlash, chosen.builds, chosen.seed)
        agree &= found.agrees
        print(
            f"{found.case}: {found.bound:.2%} of {found.builds} builds (seed {found.seed}) bind; {found.predicted:.2%} predicted;"
            f" band {found.band:.2%}; {found.sample.free} places by polygons differ by {found.sample.worst_mm:.4f} mm at most,"
            f" {found.sample.overlap} of {found.sample.tight} tight ones overlap:"
            f" {'agrees' if found.agrees else 'differs'} ({time.perf_counter() - begun:.0f} s)"
        )
    return 0 if agree else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
