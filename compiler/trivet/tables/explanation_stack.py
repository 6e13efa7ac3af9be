"""The stack that a bolt or screw holds, explained: its items at the combination that counts, and the room for its end."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.base import Length
from trivet.model.train import Drive, DriveNut, Pivot
from trivet.solve.bolts import STOP_ITEM, STOP_ROOM_MM, drive_stands, pivot_stands
from trivet.solve.corner import Corner, sheet_corners
from trivet.solve.derived import BoltChoice, GearState
from trivet.solve.stack_drive import DriveStack
from trivet.solve.stack_pivot import TIP_BELOW_TOPSIDE_MM, PivotStack
from trivet.source import Origin
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_bore import sleeve
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_levels import SAME, drop, stack_width

Stand = DriveStack | PivotStack
# What holds the screw: the room for its end begins before it.
HOLDING = ("nut below the gear", "nut above the gear", "nut in the board", "thread in the wood", "thread in the tee nut")


def stack_limits(facts: Facts, bolt: BoltChoice) -> tuple[Number, Number, Number]:
    """(longest stack, most room, where the thread must have begun) of a drive's bolt or a pivot's screw."""
    stack = facts.stroked.stacks[bolt.part.rpartition(".")[2]]
    of = bolt.of
    long: Sequence[Stand]
    short: Sequence[Stand]
    if isinstance(of, Drive):
        _, long, short = drive_stands(facts.stroked.worlds, stack, of)
    else:
        assert isinstance(of, Pivot)
        _, long, short = pivot_stands(facts.stroked.worlds, stack, of)
    sheets = sheet_corners()
    worst = max(range(len(long)), key=lambda index: long[index].held_mm)
    tight = min(range(len(short)), key=lambda index: short[index].face_mm)
    first = min(range(len(short)), key=lambda index: short[index].thread_from_mm)
    terms = _items(facts, of, stack, long[worst], sheets[worst], -1)
    stop = next((band.mean for name, band in bolt.stack if name == STOP_ITEM), None)
    if stop is not None:
        turned = "turns for the travel times the bolt's lead, nut, washer, end nut and a thread that stands out: found with the travel left"
        terms.append(given("i_stop", STOP_ITEM, stop, source=f"{turned}; the thread that stands out is {PRACTICE}"))
    least = computed("L_least", f"longest stack of `{bolt.part}`: recesses shallow, washers thick", _sum(terms), DERIVED, *terms)
    if bolt.room_ends_at == "the bench at the lowest height":
        most = found("L_most", "longest that ends above the bench at the lowest height", bolt.most_mm,
                     "from under the head, recessed at its deepest, to the bench, everything against us", DERIVED)  # fmt: skip
    elif stop is not None:
        room = given("room", "what a stop's bolt may be longer", STOP_ROOM_MM, source=PRACTICE)
        most = computed("L_most", f"longest that ends at {bolt.room_ends_at}", "L_least + room", DERIVED, least, room)
    else:
        most = _most(facts, of, stack, short[tight], sheets[tight], bolt.room_ends_at)
    items = _items(facts, of, stack, short[first], sheets[first], 1, "_from")
    value = short[first].thread_from_mm
    words, how = "from under the head to where the thread must have begun", "what lies before the first nut, or the wood, at its thinnest"
    for count in range(len(items) + 1):
        held = items[:count]
        begins = computed("L_thread", words, _sum(held) or "0", f"{DERIVED}: {how}", *held)
        if abs(begins.value - value) < SAME:
            return least, most, begins
    begins = found("L_thread", words, value, how, DERIVED, *(item for item in items if not item.words.startswith(HOLDING)))
    return least, most, begins


def _sum(terms: Sequence[Number]) -> str:
    return " + ".join(item.symbol for item in terms)


def _most(facts: Facts, of: Drive | Pivot, stack: tuple[GearState, ...], stand: Stand, sheets: Corner, ends_at: str) -> Number:
    """The length whose end lies flush with the outermost place allowed."""
    words = f"longest that ends at {ends_at}: recesses deep, washers thin"
    terms = _items(facts, of, stack, stand, sheets, 1, "_room")
    if isinstance(of, Drive):
        text, widths = stack_width(facts, sheets, stack)
        before = [item for item in terms if not item.words.startswith(("nut below", "washer below", "gear between"))]
        if of.nut.side == "above" and ends_at.startswith("the underside"):
            number = computed("L_most", words, f"{_sum(before)} + {text}", DERIVED, *dict.fromkeys((*before, *widths)))
            if abs(number.value - stand.face_mm) < SAME:
                return number
    elif of.nut is None:
        before = [item for item in terms if not item.words.startswith(HOLDING)]
        wood = facts.board_thickness(stack[0].gear.under.text, sheets.board)
        below = given("r", "room over a blind screw's tip", TIP_BELOW_TOPSIDE_MM, source=PRACTICE)
        number = computed("L_most", words, f"{_sum(before)} + {wood.symbol} − {below.symbol}", DERIVED, *before, wood, below)
        if abs(number.value - stand.face_mm) < SAME:
            return number
    return found("L_most", words, stand.face_mm, "the stack that leaves least room", DERIVED, *terms)


def _items(
    facts: Facts, of: Drive | Pivot, stack: tuple[GearState, ...], stand: Stand, sheets: Corner, deep: int, suffix: str = ""
) -> list[Number]:
    """The items of a stack, with `deep` the sign of the recesses' error."""
    found_items = []
    for index, (what, mm) in enumerate(stand.items, start=1):
        made = _worked_out(facts, of, stack, what, f"i{index}{suffix}", sheets, deep)
        if made is None or abs(made.value - mm) > SAME:
            made = given(f"i{index}{suffix}", what, mm, origin=_item_origin(of, what), source=_item_source(of, what))
        found_items.append(made)
    return found_items


def _worked_out(
    facts: Facts, of: Drive | Pivot, stack: tuple[GearState, ...], what: str, symbol: str, sheets: Corner, deep: int
) -> Number | None:
    """Wood between a recess and the other face: thickness less the recess with its error; sleeves; the levels above."""
    if what == "sleeve" and isinstance(of, Pivot):
        long = sleeve(facts, of, stack)
        return computed(symbol, what, long.symbol, DERIVED, long)
    if what == "gears of higher levels":
        hangs = drop(facts, sheets, stack[0].level)
        return computed(symbol, what, hangs.symbol, DERIVED, hangs)
    if what == "boards under the head" and isinstance(of, Drive):
        board = stack[0].gear.under.text
        chain = facts.stroked.world(sheets).boards.chain(board)
        boards = [facts.board_thickness(name, sheets.board) for name in chain]
        return _less(facts, f"{symbol}", what, _sum(boards), boards, of.head_recessed, deep)
    if what == "gear above the head" and isinstance(of, Pivot):
        text, widths = stack_width(facts, sheets, stack)
        return _less(facts, symbol, what, text, widths, of.head_recessed, deep)
    if what == "gear between its nuts" and isinstance(of, Drive):
        text, widths = stack_width(facts, sheets, stack)
        nut: DriveNut | None = of.jam_nut if of.jam_nut is not None and of.jam_nut.side == "below" else None
        nut = of.nut if of.nut.side == "below" else nut
        return _less(facts, symbol, what, text, widths, nut.recessed if nut is not None else None, deep)
    return None


def _less(facts: Facts, symbol: str, what: str, text: str, terms: list[Number], recess: Length | None, deep: int) -> Number:
    if recess is None:
        return computed(symbol, what, text, DERIVED, *terms)
    depth = facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)
    cut = given(f"r_{symbol}", f"recess at the {what}", recess.mm, origin=recess.origin)
    formula = f"{text} − ({cut.symbol} {'+' if deep > 0 else '−'} {depth.symbol})"
    return computed(symbol, what, formula, DERIVED, *terms, cut, depth)


def _item_origin(of: Drive | Pivot, what: str) -> Origin | None:
    if what.startswith("washer") and of.washer is not None:
        return of.washer.origin
    if what == "play" and of.play is not None:
        return of.play.origin
    if what == "sleeve" and isinstance(of, Pivot) and of.sleeve_outside is not None:
        return of.sleeve_outside.origin
    if what == "nut above the gear" and isinstance(of, Drive):
        return of.nut.hardware.origin
    if what == "nut below the gear" and isinstance(of, Drive) and of.jam_nut is not None:
        return of.jam_nut.hardware.origin
    return of.thread.origin if what == "thread in the wood" else None


def _item_source(of: Drive | Pivot, what: str) -> str:
    if what == "play" and of.play is None:
        return f"not stated: {PRACTICE}"
    if what == "thread in the wood":
        return f"1.5 diameters, {PRACTICE}"
    return f"{DERIVED} at this combination" if _item_origin(of, what) is None or what == "sleeve" else ""
