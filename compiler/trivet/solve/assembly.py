"""An order of assembly in which no part is held captive, or what holds which.

First what is done to loose boards and gears (glue, inserts, nuts pressed in), then what is put to the board.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trivet.model.design import Design
from trivet.record import replace
from trivet.solve.assembly_order import Blockers, blockers_of, in_rings, take_off
from trivet.solve.assembly_preparation import preparations
from trivet.solve.assembly_step import Assembly, AssemblyStep, Captive
from trivet.solve.assembly_units import PAD, Unit, fixed_board, units_of
from trivet.solve.board_holes import board_plan
from trivet.solve.derived import Derived

__all__ = ["Assembly", "AssemblyStep", "Captive", "assembly"]


def assembly(design: Design, derived: Derived) -> Assembly:
    """All steps in order. Total: gears without a place and feet without their facts are left out. Cost linear in gears.

    Judged at mean sheets. Every part moves straight up or down; gears in mesh slide past each other along their axes.
    """
    fixed = fixed_board(design, derived)
    if fixed is None or not derived.solids:
        return Assembly("", ())
    units = units_of(design, derived, derived.solids[0], fixed)
    meshes = frozenset(frozenset((mesh.a, mesh.b)) for mesh in derived.train.meshes)
    plans = {unit.id: board_plan(design, derived, unit.board) for unit in units if unit.board is not None}
    blockers = blockers_of(units, meshes, derived.solids[0].travel_mm, plans)
    order, stuck = take_off(units, blockers)
    by_id = {unit.id: unit for unit in units}
    # What is stuck stands first, in the order that it would have if nothing were in its way.
    first, _ = take_off([by_id[name] for name in stuck], _held_by_makeup(blockers, stuck))
    late = _late_pads(derived, units, blockers)
    put_on = [by_id[name] for name in (*first, *order) if by_id[name].kind != "fit_pad" or name.removesuffix(PAD) in late]
    steps = (*preparations(design, derived, late), *_put_on(design, derived, put_on, meshes))
    return Assembly(fixed.board.name.text, tuple(_together(steps)), _captives(by_id, stuck, blockers))


def _held_by_makeup(blockers: Blockers, names: Sequence[str]) -> Blockers:
    """Only what must come later by its make, as a keeper after its gear."""
    return {name: {other: "" for other, words in blockers[name].items() if not words and other in names} for name in names}


def _captives(by_id: dict[str, Unit], stuck: Sequence[str], blockers: Blockers) -> tuple[Captive, ...]:
    ring = in_rings(stuck, blockers)
    found = []
    for name in ring:
        held = {other: words for other, words in blockers[name].items() if other in ring}
        if any(held.values()):
            found.append(Captive(by_id[name].kind, name, tuple(held), tuple(words for words in held.values() if words)))
    return tuple(found)


def _late_pads(derived: Derived, units: Sequence[Unit], blockers: Blockers) -> frozenset[str]:
    """Feet whose pads are put on when all is in its place: on rods, which come from above with their pins, and where one would hide a part."""
    rods = {foot.id for foot in derived.feet if foot.foot.kind == "captured_nut"}
    hiding = {other for unit in units for other in blockers[unit.id] if other.endswith(PAD) and other != unit.id + PAD}
    return frozenset(rods | {name.removesuffix(PAD) for name in hiding})


def _put_on(design: Design, derived: Derived, units: Sequence[Unit], meshes: frozenset[frozenset[str]]) -> Iterator[AssemblyStep]:
    mates: dict[str, list[str]] = {}
    for pair in meshes:
        for gear in pair:
            mates.setdefault(gear, []).extend(pair - {gear})
    under = {state.id: state.gear.under.text for state in derived.train.gears}
    feet = {foot.gear: foot for foot in derived.feet}
    there: set[str] = set()
    for unit in units:
        boards = {under[gear] for gear in unit.gears if gear in under}
        if unit.shaft in feet:
            boards.add(feet[unit.shaft].foot.into.text)
        arrives = unit.kind in ("hang_idler", "thread_feet", "fit_drive", "place_gear")
        exact = arrives and any(mate in there for gear in unit.gears for mate in mates.get(gear, ()))
        named = tuple(board.name.text for board in design.boards if board.name.text in boards)
        if unit.board is not None:
            named = (unit.id,)
        if unit.kind == "fit_pad":
            named = ()
        yield AssemblyStep(unit.kind, (unit.id.removesuffix(PAD),), unit.gears, named, unit.side, exact=exact)
        if arrives:
            there.update(unit.gears)


def _together(steps: Sequence[AssemblyStep]) -> Iterator[AssemblyStep]:
    """Alike steps that follow one another as one."""
    held: AssemblyStep | None = None
    for step in steps:
        if held is not None and _alike(held, step):
            held = replace(
                held,
                parts=tuple(dict.fromkeys((*held.parts, *step.parts))),
                gears=tuple(dict.fromkeys((*held.gears, *step.gears))),
                boards=tuple(dict.fromkeys((*held.boards, *step.boards))),
            )
            continue
        if held is not None:
            yield held
        held = step
    if held is not None:
        yield held


def _alike(one: AssemblyStep, other: AssemblyStep) -> bool:
    same = replace(other, parts=one.parts, gears=one.gears, boards=one.boards) == one
    return same and bool(one.gears) == bool(other.gears) and bool(one.boards) == bool(other.boards)
