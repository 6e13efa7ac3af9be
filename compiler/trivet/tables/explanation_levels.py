"""Heights in the stack, explained at one combination of sheets: boards, levels of gears, shafts.

z counts up from the underside of the board that the feet act on.
"""

from __future__ import annotations

from trivet.model.base import Length
from trivet.solve.board_levels import reference_board
from trivet.solve.corner import Corner
from trivet.solve.derived import GearState
from trivet.tables.explanation import DERIVED, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_lever import levels_above

SAME = 1e-9


def underside(facts: Facts, corner: Corner, board: str) -> Number:
    """z of a board's underside."""
    value = facts.stroked.world(corner).boards.z[board].under_mm
    if board == reference_board(facts.design):
        return facts.once(
            ("under", board),
            lambda: given(f"z_{board}", f"underside of `{board}`: heights count from here", 0.0, source="by definition"),
        )
    return facts.once(("under", board, corner.board), lambda: _stacked(facts, corner, board, value))


def _stacked(facts: Facts, corner: Corner, board: str, value: float) -> Number:
    """Boards lie on one another with the gaps stated, upwards or downwards from the one that heights count from."""
    boards, start = facts.stroked.world(corner).boards, reference_board(facts.design) or board
    words, how = f"underside of `{board}`", "boards lie on one another with the gaps stated"
    up, down = boards.chain(start), boards.chain(board)
    between = up[: up.index(board)] if board in up else down[: down.index(start)] if start in down else ()
    inputs = []
    for name in between:
        inputs.append(facts.board_thickness(name, corner.board))
        clear = facts.parts.boards[name].clear
        if clear is not None:
            inputs.append(_gap(facts, name, clear))
    sign = "" if board in up else "−"
    text = " + ".join(item.symbol for item in inputs) or "0"
    number = computed(f"z_{board}", words, f"−({text})" if sign else text, f"{DERIVED}: {how}", *inputs)
    return number if abs(number.value - value) < SAME else found(f"z_{board}", words, value, how, DERIVED, *inputs)


def _gap(facts: Facts, name: str, clear: Length) -> Number:
    return facts.once(("gap", name), lambda: given(f"gap_{name}", f"gap over `{name}`", clear.mm, origin=clear.origin))


def work_surface(facts: Facts, corner: Corner, board: str) -> Number:
    """z of the topside of the uppermost board over one."""
    base = underside(facts, corner, board)
    chain = facts.stroked.world(corner).boards.chain(board)
    inputs = [base]
    for index, name in enumerate(chain):
        inputs.append(facts.board_thickness(name, corner.board))
        clear = facts.parts.boards[name].clear
        if index + 1 < len(chain) and clear is not None:
            inputs.append(_gap(facts, name, clear))
    words = f"topside of `{chain[-1]}`, the work surface"
    formula = " + ".join(item.symbol for item in inputs)
    return facts.once(("work", board, corner.board), lambda: computed("T", words, formula, DERIVED, *inputs))


def drop(facts: Facts, corner: Corner, level: int) -> Number:
    """How far a level hangs below its board."""
    value = facts.stroked.world(corner).drops.get(level, 0.0)
    suffix = {-1: "_thin", 0: "", 1: "_thick"}[corner.gear]
    return facts.once(("drop", level, corner.gear), lambda: levels_above(facts, level, corner.gear, value, f"h_{level}{suffix}"))


def stack_width(facts: Facts, corner: Corner, stack: tuple[GearState, ...]) -> tuple[str, list[Number]]:
    """Thickness of all gears of a shaft: what to write in a formula, and its inputs."""
    widths = [facts.gear_width(state.id, corner.gear) for state in stack]
    text = " + ".join(item.symbol for item in widths)
    return (text if len(widths) == 1 else f"({text})"), widths
