"""A step at the bench, in words, and what the words are made from."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived, DriveState, FootState, GearState, PivotState
from trivet.solve.feature import Feature
from trivet.solve.level_gaps import level_gaps_mm
from trivet.tables.bench_words import bench_length
from trivet.tables.hardware_items import LAYER_DOWEL


@record
class BenchStep:
    """`kind`: of the assembly's step, or `zero`; `parts`: what it is about; `text` says what to do, `details` how and why."""

    kind: str
    parts: tuple[str, ...]
    text: str
    details: tuple[str, ...] = ()


@record
class Bench:
    """A fixture, its unit, and its parts by id; `feet` holds the idlers that climb too. `marked`: gears with assembly marks,
    `dowelled`: with dowels between their layers."""

    design: Design
    derived: Derived
    feet: dict[str, FootState]
    pivots: dict[str, PivotState]
    drives: dict[str, DriveState]
    gears: dict[str, GearState]
    marked: frozenset[str] = frozenset()
    dowelled: frozenset[str] = frozenset()

    @property
    def unit(self) -> str:
        """What is printed first: mm or in."""
        return self.design.units

    def length(self, mm: float) -> str:
        """A length as it is set or measured."""
        return bench_length(mm, self.unit)

    def board_z_mm(self, name: str) -> tuple[float, float]:
        """A board's underside and topside at its mean thickness."""
        level = next(level for level in self.derived.boards if level.board.name.text == name)
        return level.z_under_mm, level.z_under_mm + level.thickness.mean

    def gap(self, gear: str) -> str:
        """Thickness of the spacer between a board and the gear of a lower level; empty where none is needed."""
        return next((gap for gap, _ in self.gaps((gear,))), "")

    def gaps(self, gears: tuple[str, ...]) -> list[tuple[str, tuple[str, ...]]]:
        """Thicknesses of spacers, each with the gears over which they lie."""
        found: dict[str, list[str]] = {}
        for root, gap in level_gaps_mm(self.design, self.derived.train).items():
            if root in gears:
                found.setdefault(self.length(gap), []).append(root)
        return [(gap, tuple(group)) for gap, group in found.items()]

    def helper(self, kind: str) -> bool:
        """Whether a shop aid of that kind is cut with the parts."""
        return any(part.kind == "helper" and part.part.startswith(f"helper.{kind}") for part in self.derived.parts)


def _mark(item: Feature) -> bool:
    return item.title.startswith("assembly mark towards")


def _dowel(item: Feature) -> bool:
    return item.title.startswith(LAYER_DOWEL)


def bench(design: Design, derived: Derived) -> Bench:
    """The look-ups, made once."""
    return Bench(
        design,
        derived,
        {state.id: state for state in (*derived.feet, *derived.climbers)},
        {state.id: state for state in derived.pivots},
        {state.id: state for state in derived.drives},
        {state.id: state for state in derived.train.gears},
        frozenset(part.belongs_to or part.part for part in derived.parts if any(_mark(item) for item in part.features)),
        frozenset(part.belongs_to or part.part for part in derived.parts if any(_dowel(item) for item in part.features)),
    )
