"""Every foot at every combination of sheets once more, for explanations: `solve` keeps only what the report needs."""

from __future__ import annotations

from collections.abc import Mapping

from trivet.model.design import Design
from trivet.record import record, replace
from trivet.solve.corner import MEAN, Corner, corners, sheet_corners
from trivet.solve.derived import Derived, GearState
from trivet.solve.foot_case import FootCase, FootSpec, World
from trivet.solve.shaft import shafts
from trivet.solve.solve import climber_specs, foot_specs
from trivet.solve.stroke import Stroke, cases_at, stroke_of
from trivet.solve.world import build_world, with_low_point


@record(eq=False)
class Stroked:
    """`worlds` by sheets (board, gear), mean under (0, 0); `cases` and `strokes` by combination, `MEAN` first. `lengths`: fitted, by gear."""

    specs: Mapping[str, FootSpec]
    stacks: Mapping[str, tuple[GearState, ...]]
    worlds: Mapping[tuple[int, int], World]
    cases: Mapping[Corner, Mapping[str, FootCase]]
    strokes: Mapping[Corner, Stroke | None]
    lengths: Mapping[str, float]

    def world(self, corner: Corner) -> World:
        """What is fixed at a combination."""
        return self.worlds[corner.board, corner.gear]


def strokes_again(design: Design, derived: Derived) -> Stroked:
    """The same worlds, cases and strokes that `solve` went through, with the lengths that it chose."""
    stacks = shafts(derived.train)
    chosen = {foot.id: foot.screw_length_mm or 0.0 for foot in derived.feet}
    specs = [replace(spec, length_mm=chosen.get(spec.id, spec.length_mm)) for spec in foot_specs(design, stacks)]
    climbing = climber_specs(design, stacks)
    screws = chosen.keys() | {foot.id for foot in derived.climbers}
    lengths: dict[str, float] = {}
    for bolt in derived.bolts:
        root = bolt.part.rpartition(".")[2]
        if root in stacks and bolt.part not in screws:
            fitted = next((mm for mm in (bolt.stated_mm, bolt.cut_to_mm, bolt.buy_mm) if mm is not None), bolt.least_mm)
            lengths[root] = fitted
    worlds = {
        (c.board, c.gear): replace(with_low_point(build_world(design, derived.train, stacks, c), stacks, lengths), climbers=climbing)
        for c in (MEAN, *sheet_corners())
    }
    cases = {c: cases_at(specs, worlds[c.board, c.gear], c) for c in (MEAN, *corners())}
    return Stroked(
        specs={spec.id: spec for spec in specs},
        stacks=stacks,
        worlds=worlds,
        cases=cases,
        strokes={corner: stroke_of(held) for corner, held in cases.items()},
        lengths=lengths,
    )
