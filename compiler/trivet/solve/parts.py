"""All parts of a fixture as they are cut: boards, gears, keepers, spacers, shop aids."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.board_features import board_parts
from trivet.solve.derived import Derived
from trivet.solve.gear_features import gear_parts
from trivet.solve.helper_parts import helper_parts
from trivet.solve.keeper_cuts import stand_off_parts
from trivet.solve.part_context import part_context
from trivet.solve.part_features import PartFeatures
from trivet.solve.phase_marks import marked_mates
from trivet.solve.plate_features import keeper_part, spacer_part
from trivet.solve.tabs import with_tabs


def part_features(design: Design, derived: Derived) -> tuple[PartFeatures, ...]:
    """The parts of a fixture: those that `solve` kept, or worked out now where it kept none."""
    return derived.parts or work_out_parts(design, derived)


def work_out_parts(design: Design, derived: Derived) -> tuple[PartFeatures, ...]:
    """Every part once, laminated parts by their layers: boards, then gears, keepers, their stand-offs, spacers and shop aids, each in the order of the file.

    Total on valid designs: what finds no room is left out and named in the part's notes. Cost linear in gears and features.
    """
    context = part_context(design, derived)
    found: list[PartFeatures] = []
    for board in design.boards:
        found += board_parts(context, board)
    riding = frozenset(
        state.id
        for root, stack in context.stacks.items()
        for state in stack
        if (carries := context.states[root].gear.carries) is not None and context.parts.feet[carries.text].kind == "riding"
    )
    mates = marked_mates(derived.train, riding)
    placed = [context.states[gear.name.text] for gear in design.gears if gear.name.text in context.states]
    for state in placed:
        found += gear_parts(context, state, mates.get(state.id, ()))
    for state in placed:
        if state.gear.carries is not None:
            keeper = keeper_part(context, context.parts.feet[state.gear.carries.text], state)
            found += [keeper] if keeper is not None else []
    for held in derived.keepers:
        found += stand_off_parts(context, held)
    found += [spacer_part(context, spacer) for spacer in design.spacers]
    found += helper_parts(context, found)
    return tuple(with_tabs(design, part) for part in found)
