"""What holds the keepers and joins the gears of a shaft, explained: stand-offs, screws, dowels, and where they stand."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from trivet.model.keeper import head_depth_mm
from trivet.solve.corner import MEAN
from trivet.solve.foot_case import KEEPER_PLAY_MM
from trivet.solve.keeper_holds import LEFT_OVER_MM, PASSES_MM, SUNK_MM
from trivet.solve.keeper_state import KeeperState
from trivet.solve.shaft_joints import ShaftJoint
from trivet.solve.stack_pivot import THREAD_IN_WOOD, TIP_BELOW_TOPSIDE_MM
from trivet.source import Origin
from trivet.tables.explanation import DERIVED, PRACTICE, Entry, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_levels import drop
from trivet.tables.hardware_lines import HardwareLine
from trivet.tables.keeper_items import SCREW, STAND_OFF

SAME = 1e-6


def keeper_entries(facts: Facts) -> Iterator[Entry]:
    """Of each keeper."""
    for index, held in enumerate(facts.derived.keepers):
        made: tuple[tuple[str, tuple[str, ...], Callable[..., Number]], ...] = (
            ("keeper_screw", ("screw", "length_mm"), _length),
            ("keeper_screw_least", ("screw", "length_at_least_mm"), _least),
            ("keeper_screw_most", ("screw", "length_at_most_mm"), _most),
            ("keeper_screw_recess", ("screw", "head_recessed_mm"), _recess),
            ("keeper_screw_in_wood", ("screw", "in_wood_mm"), _in_wood),
            ("keeper_screw_pilot", ("screw", "pilot_diameter_mm"), _pilot),
            ("keeper_screw_pilot_depth", ("screw", "pilot_depth_mm"), _pilot_depth),
            ("keeper_screw_hole", ("screw", "clearance_diameter_mm"), _hole),
            ("stand_off_diameter", ("stand_off", "diameter_mm"), _outside),
            ("stand_off_height", ("stand_off", "height_mm"), stand_off_height),
        )
        for quantity, path, explain in made:
            if held.length_mm is None and path[-1] in ("length_mm", "in_wood_mm"):
                continue
            yield Entry(quantity, (held.id,), ("keepers", index, *path), partial(explain, facts, held))
        for place, point in enumerate(held.places):
            for axis in (0, 1):
                path_of: tuple[str | int, ...] = ("keepers", index, "places", place, f"{'xy'[axis]}_mm")
                explain_place = partial(_place, held, axis, place, point[axis])
                yield Entry(f"stand_off_{'xy'[axis]}", (held.id, str(place + 1)), path_of, explain_place)


def joint_entries(facts: Facts) -> Iterator[Entry]:
    """Of the dowels that join the gears of a shaft."""
    for index, joint in enumerate(facts.derived.joints):
        if not joint.places:
            continue
        yield Entry("shaft_dowel", (joint.root,), ("shafts", index, "dowel_diameter_mm"), partial(_dowel, joint))
        for number, point in enumerate(joint.places):
            for axis in (0, 1):
                path: tuple[str | int, ...] = ("shafts", index, "dowels", number, f"from_axis_{'xy'[axis]}_mm")
                explain = partial(_dowel_place, joint, axis, number, point[axis])
                yield Entry(f"shaft_dowel_{'xy'[axis]}", (joint.root, str(number + 1)), path, explain)


def _dowel(joint: ShaftJoint) -> Number:
    source = "" if joint.stated and joint.origin is not None else f"`joined_by` is not stated: {PRACTICE}"
    return given("D_dowel", f"diameter of the dowels that join the gears of `{joint.root}`", joint.dowel_mm, origin=joint.origin, source=source)


def _dowel_place(joint: ShaftJoint, axis: int, number: int, value: float) -> Number:
    words = f"{'xy'[axis]} of dowel {number + 1} from the axis of `{joint.root}`"
    ring = given("ring", "width of the ring between bore or recess and the roots, 3 mm of wood and the rim left", joint.room_mm, source=PRACTICE)
    how = "1 mm inside and outside the middle of the ring, two fifths of a turn apart, farthest from the dowels between layers"
    return found(f"at_{'xy'[axis]}", words, value, how, f"{DERIVED}; {PRACTICE}", ring, _dowel(joint))


def keeper_of(facts: Facts, line: HardwareLine) -> KeeperState | None:
    """The first keeper that a line of the schedule serves; None for other lines."""
    if not line.item.rpartition("-")[2].isdigit() and line.item.rpartition("-")[2] not in (SCREW, STAND_OFF):
        return None
    return next((held for held in facts.derived.keepers if held.id == line.where[0]), None)


def keeper_length(facts: Facts, held: KeeperState, line: HardwareLine) -> Number:
    """The length of a keeper's screw, for the schedule."""
    return _length(facts, held)


def stand_off_height(facts: Facts, held: KeeperState) -> Number:
    """The thickest gears and their play, and what hangs above them."""
    play = given("play_keeper", "play over a keeper", KEEPER_PLAY_MM, source=PRACTICE)
    level = min(facts.states[name].level for name in held.gears)
    inputs = [*([drop(facts, MEAN, level)] if level else []), *(facts.gear_width(name, 1) for name in held.gears), play]
    formula, words = " + ".join(item.symbol for item in inputs), f"height of the stand-offs of `{held.id}`"
    number = computed(f"h_{held.id}", words, formula, f"{DERIVED}; the play is {PRACTICE}", *inputs)
    if abs(number.value - held.height_mm) < SAME:
        return number
    return found(f"z_{held.id}", words, held.height_mm, "from the keeper to the board that it is screwed to", DERIVED, *inputs)


def _under_head(facts: Facts, held: KeeperState, sign: int) -> tuple[str, list[Number]]:
    """Keeper under the head where its recess is shallowest (+1) or deepest (-1)."""
    sheet = facts.sheet(held.keeper.stock.text, sign)
    if held.seat_mm <= 0.0:
        return sheet.symbol, [sheet]
    seat = given("seat", "from the keeper's underside up to where the length begins", held.seat_mm, origin=_recess_origin(held),
                 source="" if held.screws.recessed is not None else PRACTICE)  # fmt: skip
    error = facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)
    if sign < 0:
        return f"{sheet.symbol} − ({seat.symbol} + {error.symbol})", [sheet, seat, error]
    return f"{sheet.symbol} − max({seat.symbol} − {error.symbol}, 0)", [sheet, seat, error]


def _least(facts: Facts, held: KeeperState) -> Number:
    text, inputs = _under_head(facts, held, 1)
    high = stand_off_height(facts, held)
    major = _major(held)
    times = given("k", "diameters of thread in the wood, at least", THREAD_IN_WOOD, "", source=PRACTICE)
    formula = f"{text} + {high.symbol} + {times.symbol} · {major.symbol}"
    return computed("L_least", f"least length of the screws of `{held.id}`", formula, DERIVED, *inputs, high, times, major)


def _most(facts: Facts, held: KeeperState) -> Number:
    text, inputs = _under_head(facts, held, -1)
    high, board = stand_off_height(facts, held), facts.board_thickness(held.board, -1)
    below = given("below", "a tip stays below the topside by", TIP_BELOW_TOPSIDE_MM, source=PRACTICE)
    formula = f"{text} + {high.symbol} + {board.symbol} − {below.symbol}"
    return computed("L_most", f"greatest length of the screws of `{held.id}`", formula, DERIVED, *inputs, high, board, below)


def _length(facts: Facts, held: KeeperState) -> Number:
    words, value = f"length of the screws of `{held.id}`", held.length_mm or 0.0
    if held.screws.length is not None:
        return given("L", f"{words}, stated", value, origin=held.screws.length.origin)
    screw = held.screw
    told = f"lengths of {screw.standard} {screw.thread.designation} that are sold: {', '.join(f'{mm:g}' for mm in screw.stock_mm)}"
    sold = given("sold", told, float(len(screw.stock_mm)), "lengths", screw.stock_origin)
    how = "the shortest length sold (the drawer's first) with twice the least thread in the wood, else the longest in this range"
    return found("L_buy", words, value, how, f"{DERIVED}; {PRACTICE}", _least(facts, held), _most(facts, held), sold)


def _in_wood(facts: Facts, held: KeeperState) -> Number:
    whole, least, major = _length(facts, held), _least(facts, held), _major(held)
    times = given("k", "diameters of thread in the wood, at least", THREAD_IN_WOOD, "", source=PRACTICE)
    formula = f"max(0, {whole.symbol} − {least.symbol} + {times.symbol} · {major.symbol})"
    return computed("in_wood", f"thread of `{held.id}` in the wood, at least", formula, DERIVED, whole, least, times, major)


def _recess(facts: Facts, held: KeeperState) -> Number:
    words, stated = f"how deep the heads of `{held.id}` lie in it", held.screws.recessed
    if stated is not None:
        return given("recess", f"{words}, stated", stated.mm, origin=stated.origin)
    head = given("head", "greatest height of the head", head_depth_mm(held.screw.head, held.screw.thread.major_mm), origin=held.screw.head.origin)
    more = given("sunk", "more than that", SUNK_MM if held.screw.head.form == "pan" else 0.0, source=PRACTICE)
    how = "the next half millimetre, or as deep as a length that is sold takes; a cone as deep as it is high"
    return found("L_recess", words, held.recess_mm, how, PRACTICE, head, more)


def _pilot(facts: Facts, held: KeeperState) -> Number:
    words, stated = f"pilot holes of `{held.id}`", held.screws.drill
    if stated is not None:
        return given("pilot", f"{words}, stated", stated.mm, origin=stated.origin)
    return found("D_pilot", words, held.pilot_mm, "three quarters of the screw's diameter, to a drill's size", PRACTICE, _major(held))


def _pilot_depth(facts: Facts, held: KeeperState) -> Number:
    rest = given("rest", "wood left over it, at least", LEFT_OVER_MM, source=PRACTICE)
    how = "as deep as the longest reach of the screw, up to the next half millimetre"
    board = facts.board_thickness(held.board)
    inputs = [_length(facts, held)] if held.length_mm is not None else [_least(facts, held)]
    return found("L_pilot", f"depth of the pilot holes of `{held.id}`", held.pilot_depth_mm, how, DERIVED, *inputs, _most(facts, held), board, rest)


def _hole(facts: Facts, held: KeeperState) -> Number:
    major, room = _major(held), given("room", "room of a screw that passes", PASSES_MM, source=PRACTICE)
    formula = f"{major.symbol} + {room.symbol}"
    return computed("hole", f"holes in `{held.id}` for its screws", formula, PRACTICE, major, room)


def _outside(facts: Facts, held: KeeperState) -> Number:
    made = held.stand_off.diameter
    source = "" if held.screws.stand_off_stated else f"`stand_offs` is not stated: {PRACTICE}"
    return given("D", f"outside diameter of the stand-offs of `{held.id}`", made.mm, origin=made.origin, source=source)


def _place(held: KeeperState, axis: int, place: int, value: float) -> Number:
    words = f"{'xy'[axis]} of the screw {place + 1} of `{held.id}`"
    if held.screws.places:
        return given("xy"[axis], f"{words}: a step from its gear's axis, stated", value, origin=held.screws.places[place].origin)
    tip = given("r", "radius over the teeth above the keeper", held.tip_mm, source=DERIVED)
    half = given("half", "half a stand-off", held.stand_off.diameter.mm / 2.0, source=PRACTICE)
    hole = given("hole", "half the widest hole in the keeper for a screw", held.recess_diameter_mm / 2.0, source=PRACTICE)
    how = "the place of its sector with most room to teeth (1 mm at least), keeper's edge (2 mm of wood) and all else, then farthest out"
    return found(f"at_{'xy'[axis]}", words, value, how, f"{DERIVED}; {PRACTICE}", tip, half, hole)


def _major(held: KeeperState) -> Number:
    thread = held.screw.thread
    return given("d", f"diameter of {thread.designation}", thread.major_mm, origin=thread.origin)


def _recess_origin(held: KeeperState) -> Origin | None:
    return held.screws.recessed.origin if held.screws.recessed is not None else None
