"""How far a leaning insert carries its gear's teeth aside, explained: from the insert's middle to the far end of the overlap."""

from __future__ import annotations

from trivet.model.hardware import Insert
from trivet.solve.overlap_depth import levels_down_mm
from trivet.tables.explanation import DERIVED, Number, computed, found, given
from trivet.tables.explanation_facts import Facts

SAME = 1e-9


def lever(facts: Facts, gear: str, overlap: Number, value: float) -> Number:
    """Overlap and levels below the board's underside, and the insert's middle above it."""
    holder = facts.graph.gears[facts.graph.shaft_of[gear]]
    words = f"from the middle of the insert of `{gear}` to the far end of the overlap"
    use = facts.parts.feet[holder.carries.text].insert if holder.carries is not None else None
    if use is None:
        return found(f"l_{gear}", words, value, "insert's middle to the underside, the levels above and the overlap", DERIVED, overlap)
    hardware = use.hardware
    long = hardware.length_mm if isinstance(hardware, Insert) else hardware.barrel_length_mm
    length = given(f"insert_{gear}", f"length of the insert of `{gear}`", long, origin=hardware.origin)
    inputs, text = [overlap], overlap.symbol
    level = facts.states[gear].level
    if level:
        gears, levels = facts.graph.gears, {state.id: state.level for state in facts.derived.train.gears}
        down = levels_down_mm((facts.graph.shaft_of[item], levels[item], facts.parts.face_width(gears[item]).mean) for item in levels)
        hangs = facts.once(("down", level), lambda: levels_above(facts, level, 0, down[level], f"down_{level}"))
        inputs.append(hangs)
        text += f" + {hangs.symbol}"
    if use.flush == "topside":
        board = facts.board_thickness(facts.parts.feet[holder.carries.text].into.text if holder.carries else "")
        inputs.append(board)
        text += f" + {board.symbol} − {length.symbol} / 2"
    else:
        text += f" + {length.symbol} / 2"
    inputs.append(length)
    if use.proud is not None:
        proud = given(f"proud_{gear}", "how far the insert stands out", use.proud.mm, origin=use.proud.origin)
        inputs.append(proud)
        text += f" {'−' if use.flush == 'underside' else '+'} {proud.symbol}"
    number = computed(f"l_{gear}", words, text, DERIVED, *inputs)
    if abs(number.value - value) < SAME:
        return number
    return found(f"l_{gear}", words, value, "insert's middle to the underside, the levels above and the overlap", DERIVED, *inputs)


def levels_above(facts: Facts, level: int, sign: int, value: float, symbol: str) -> Number:
    """How far a level hangs below the board: the thickest gear of each level above that has a mate below; gears' sheets at `sign`."""
    levels = {state.id: state.level for state in facts.derived.train.gears}
    lowest: dict[str, int] = {}
    for name, at in levels.items():
        shaft = facts.graph.shaft_of[name]
        lowest[shaft] = max(at, lowest.get(shaft, at))
    terms: list[str] = []
    inputs: list[Number] = []
    for above in range(level):
        names = sorted(name for name, at in levels.items() if at == above and lowest[facts.graph.shaft_of[name]] > at)
        widths = [facts.gear_width(name, sign) for name in names]
        if widths:
            terms.append(f"max({', '.join(item.symbol for item in widths)})" if len(widths) > 1 else widths[0].symbol)
            inputs += widths
    words, how = f"gears of the levels above level {level}", "the thickest gear of each level above that has a mate below"
    number = computed(symbol, words, " + ".join(terms) or "0", f"{DERIVED}: {how}", *inputs)
    return number if abs(number.value - value) < SAME else found(symbol, words, value, how, DERIVED, *inputs)
