"""What gears turn on, explained: their bores, the sleeves in them, and the play that is left."""

from __future__ import annotations

from trivet.model.hardware import TeeNut
from trivet.model.train import Drive, Pivot
from trivet.solve.bore import SHANK_ROOM_MM
from trivet.solve.derived import GearState
from trivet.solve.stack_pivot import DEFAULT_PLAY_MM
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_facts import Facts

SAME = 1e-9


def bore(facts: Facts, gear: str) -> Number:
    """Diameter of a gear's bore as cut."""
    return facts.once(("bore", gear), lambda: _bore(facts, gear))


def _bore(facts: Facts, gear: str) -> Number:
    state = facts.states[gear]
    stated, symbol, words = state.gear.bore, f"bore_{gear}", f"bore of `{gear}`"
    if stated is not None:
        return given(symbol, f"{words}, stated", stated.mm, origin=stated.origin)
    made = _worked_out(facts, gear, symbol, f"{words}: {state.hole_because}")
    if made is not None and abs(made.value - state.hole_mm) < SAME:
        return made
    return found(symbol, words, state.hole_mm, state.hole_because, f"{DERIVED}; clearances stated by the shop or {PRACTICE}")


def _worked_out(facts: Facts, gear: str, symbol: str, words: str) -> Number | None:
    holder = facts.graph.gears[facts.graph.shaft_of[gear]]
    if holder.turned_by is not None:
        drive = facts.parts.drives[holder.turned_by.text]
        nut = drive.nut.hardware
        if gear == holder.name.text and isinstance(nut, TeeNut):
            return given(symbol, words, nut.hole_mm, origin=nut.origin)
        hole = drive_hole(facts, drive)
        return computed(symbol, words, hole.symbol, DERIVED, hole)
    if holder.turns_on is not None:
        outside, room = shaft(facts, gear), clearance(facts)
        return computed(symbol, words, f"{outside.symbol} + {room.symbol}", DERIVED, outside, room)
    if holder.carries is not None:
        outside = shaft(facts, gear)
        if facts.parts.feet[holder.carries.text].kind == "riding":
            room = given("shank_room", "room round a screw's shank that its head holds", SHANK_ROOM_MM, source=PRACTICE)
        else:
            room = clearance(facts)
        return computed(symbol, words, f"{outside.symbol} + {room.symbol}", DERIVED, outside, room)
    return None


def clearance(facts: Facts) -> Number:
    """The shop's clearance of bores, diametral."""
    return facts.shop("bore_clearance", "c", "bore clearance, diametral", facts.design.shop.bore_clearance_mm)


def shaft(facts: Facts, gear: str) -> Number:
    """Diameter of what stands in a gear's bore."""
    return facts.once(("shaft", facts.graph.shaft_of[gear]), lambda: _shaft(facts, gear))


def _shaft(facts: Facts, gear: str) -> Number:
    root = facts.graph.shaft_of[gear]
    holder, symbol = facts.graph.gears[root], f"d_in_{root}"
    if holder.turned_by is not None:
        thread = facts.parts.drives[holder.turned_by.text].thread
        return given(symbol, f"diameter of {thread.designation}", thread.major_mm, origin=thread.origin)
    if holder.turns_on is not None:
        pivot = facts.parts.pivots[holder.turns_on.text]
        stated = pivot.sleeve_outside or pivot.shoulder
        if stated is not None:
            what = "sleeve" if pivot.sleeve_outside is not None else "shoulder"
            return given(symbol, f"outside of the {what} of `{pivot.name}`", stated.mm, origin=stated.origin)
        value = facts.parts.pivot_outside_mm(holder)
        return given(symbol, f"outside of the {pivot.thread.designation} thread of `{pivot.name}`", value, origin=pivot.thread.origin)
    assert holder.carries is not None, gear
    thread = facts.parts.feet[holder.carries.text].thread
    return given(symbol, f"diameter of {thread.designation}", thread.major_mm, origin=thread.origin)


def drive_hole(facts: Facts, drive: Drive) -> Number:
    """The hole of a drive's bolt in the board."""
    words = f"hole for the bolt of `{drive.name}`, fit {drive.fit} (clearance holes of its thread)"
    return facts.once(("drive hole", drive.name.text), lambda: given(f"hole_{drive.name}_bolt", words, drive.hole_mm, origin=drive.origin))


def play(facts: Facts, gear: str, what: str, mm: float, symbol: str) -> Number:
    """Half a diametral clearance: how far it lets the axis of a gear go either way."""
    holder = facts.graph.gears[facts.graph.shaft_of[gear]]
    words = f"{what} of `{gear}`, radial, either way"
    if what == "clearance of the socket":
        room = clearance(facts)
        return computed(symbol, words, f"{room.symbol} / 2", DERIVED, room)
    if what == "clearance of the bolt's hole" and holder.turned_by is not None:
        hole = drive_hole(facts, facts.parts.drives[holder.turned_by.text])
    else:
        hole = bore(facts, holder.name.text)
    inside = shaft(facts, gear)
    number = computed(symbol, words, f"({hole.symbol} − {inside.symbol}) / 2", DERIVED, hole, inside)
    if abs(number.value - mm) < SAME:
        return number
    how = "half the difference of the hole's and the shaft's diameter"
    return found(symbol, words, mm, how, DERIVED, hole, inside)


def sleeve(facts: Facts, pivot: Pivot, stack: tuple[GearState, ...]) -> Number:
    """As long as the thickest gear above the shallowest recess, its play, and the washers that it passes through."""
    terms = [facts.gear_width(item.id, 1) for item in stack]
    text = " + ".join(item.symbol for item in terms)
    if pivot.head_recessed is not None:
        recess = given(f"recess_{pivot.name}", f"recess of the head of `{pivot.name}`", pivot.head_recessed.mm, origin=pivot.head_recessed.origin)
        error = facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)
        text += f" − max({recess.symbol} − {error.symbol}, 0)"
        terms += [recess, error]
    room = given(f"play_{pivot.name}", f"play of `{pivot.name}`", pivot.play.mm if pivot.play is not None else DEFAULT_PLAY_MM,
                 origin=pivot.play.origin if pivot.play is not None else None, source="" if pivot.play is not None else PRACTICE)  # fmt: skip
    text += f" + {room.symbol}"
    terms.append(room)
    outside = pivot.sleeve_outside or pivot.shoulder
    if pivot.washer is not None and outside is not None and pivot.washer.inside_mm >= outside.mm:
        washer = given(f"w_{pivot.name}_thick", f"washer of `{pivot.name}`, at its thickest", pivot.washer.thickness_max_mm, origin=pivot.washer.origin)
        text += f" + {len(set(pivot.washer_places))} · {washer.symbol}"
        terms.append(washer)
    what = "sleeve" if pivot.sleeve_outside is not None else "shoulder"
    return computed(f"L_{what}_{stack[0].id}", f"length of the {what} of `{pivot.name}` at `{stack[0].id}`", text, DERIVED, *terms)
