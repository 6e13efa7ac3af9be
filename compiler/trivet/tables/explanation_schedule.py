"""The hardware schedule, explained: how many, how many to buy, how much thread, and the measures that the model relies on."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from trivet.model.board import Dowel, MagnetPlace
from trivet.model.hardware import Insert, Magnet, Nut, Screw, TeeNut, Washer
from trivet.solve.derived import BoltChoice
from trivet.source import Origin
from trivet.tables.explanation import DERIVED, Entry, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import threaded
from trivet.tables.explanation_hardware import bought_length, cut_length
from trivet.tables.hardware_items import LAYER_DOWEL, HardwareItem, hardware_items
from trivet.tables.hardware_lines import SAME_MM, HardwareLine, Schedule, hardware_lines, serves

SCHEDULE = "hardware.md and hardware.csv"
# What holds a bolt in its stack: the thread wanted begins at the first of these.
_HOLDING = ("nut above the gear", "nut below the gear", "nut in the board", "thread in the wood")


def schedule_entries(facts: Facts) -> Iterator[Entry]:
    """Of each line of the schedule."""
    pieces = hardware_items(facts.design, facts.derived)
    counted = hardware_lines(pieces, facts.design.have)
    for index, line in enumerate(counted.lines):
        path: tuple[str | int, ...] = ("hardware", index)
        # `bolt crank` and `bolt crank.hub` ask for the piece that serves there.
        serving = line.where if line.piece.kind in ("bolt", "screw", "rod") else ()
        also = (*serving, *dict.fromkeys(place.partition(".")[0] for place in serving))
        if line.piece.length_mm is not None:
            yield Entry("length", (line.item,), (*path, "length_mm"), partial(bought_length, facts, line), also)
        if line.piece.cut_to_mm is not None:
            yield Entry("cut_to", (line.item,), (*path, "cut_to_mm"), partial(cut_length, facts, line), also)
        mine = tuple(piece for piece in pieces if _same(piece, line))
        yield Entry("quantity", (line.item,), (*path, "quantity"), partial(_quantity, facts, line, mine), also)
        yield Entry("to_buy", (line.item,), (*path, "to_buy"), partial(_to_buy, facts, line, mine, counted), also)
        wanted = line.piece.thread_wanted_mm
        if wanted is not None and line.piece.fitted_mm is not None and wanted < line.piece.fitted_mm - SAME_MM:
            explain = partial(_thread_wanted, facts, line)
            yield Entry("thread_wanted", (line.item,), (), explain, also, elsewhere=f"{SCHEDULE}: thread length wanted")
        for name, words, value, unit in _measures(line.piece):
            explain = partial(_measure, line, name, words, value, unit)
            yield Entry("measure", (line.item, name), (), explain, also, some=True, elsewhere=SCHEDULE)


def _same(piece: HardwareItem, line: HardwareLine) -> bool:
    """Whether a piece stands on a line: same set and kind, same lengths."""
    other = line.piece
    sizes = ((getattr(piece, name), getattr(other, name)) for name in ("length_mm", "cut_to_mm", "stated_mm", "size_mm", "height_mm"))
    return piece.item == other.item and all(
        (one is None) == (two is None) and round(one or 0.0, 3) == round(two or 0.0, 3) for one, two in sizes
    )


def _quantity(facts: Facts, line: HardwareLine, pieces: tuple[HardwareItem, ...]) -> Number:
    """Counted place by place."""
    return facts.once(("quantity", line.item), lambda: _quantity_now(facts, line, pieces))


def _quantity_now(facts: Facts, line: HardwareLine, pieces: tuple[HardwareItem, ...]) -> Number:
    terms = []
    for place in line.where:
        count = sum(piece.where == place for piece in pieces)
        what = f"{_noun(line.piece)} at `{place}`"
        if line.item.startswith("gear-layers-dowel"):
            how = f"as many as found room in the gear: its drawing shows each `{LAYER_DOWEL}`"
            terms.append(found(f"k_{place}", what, float(count), how, DERIVED, unit=""))
        else:
            origin = _place(facts, place)
            source = "counted from the model" if origin is None else ""
            terms.append(given(f"k_{place}", what, float(count), "", origin, source))
    formula = " + ".join(item.symbol for item in terms)
    return computed("quantity", f"how many `{line.item}` are used", formula, "counted from the model; no spares", *terms, unit="")


def _to_buy(facts: Facts, line: HardwareLine, pieces: tuple[HardwareItem, ...], counted: Schedule) -> Number:
    quantity, words = _quantity(facts, line, pieces), f"how many `{line.item}` to buy"
    if line.piece.kind == "spacer":
        return given("to_buy", words, 0.0, "", source="spacer rings are cut from off-cuts of their sheet, not bought")
    if not line.from_drawer:
        return computed("to_buy", words, quantity.symbol, "none of it is in the drawer", quantity, unit="")
    drawer = next((have for have in facts.design.have if serves(have, line.piece)), None)
    source = "what `have` states, less what lines before this one took"
    there = given("drawer", "of these lie in the drawer", float(line.from_drawer), "", drawer.origin if drawer else None, source)
    return computed("to_buy", words, f"{quantity.symbol} − drawer", DERIVED, quantity, there, unit="")


def _place(facts: Facts, place: str) -> Origin | None:
    """The statement that makes a place: a gear's `turned_by`, `turns_on` or `carries`; a dowel's or magnet's own."""
    gear = facts.graph.gears.get(place.rpartition(".")[2])
    if gear is not None:
        used = gear.turned_by or gear.turns_on or gear.carries
        return used.origin if used is not None else gear.name.origin
    name = place.partition(".")[0]
    made: tuple[Dowel | MagnetPlace, ...] = (*facts.design.dowels, *facts.design.magnets)
    return next((item.origin for item in made if item.name.text == name), None)


def _noun(piece: HardwareItem) -> str:
    return piece.kind.replace("_", " ")


def _thread_wanted(facts: Facts, line: HardwareLine) -> Number:
    """From the tip back to where the first nut, or the wood, begins."""
    words = f"thread that `{line.item}` must have, from its tip"
    # Lines are of one length, so the strictest place stands for all.
    bolts = [bolt for bolt in facts.derived.bolts if bolt.part in line.where]
    foot = next((bolt.part for bolt in bolts if bolt.part in facts.stroked.specs), None)
    if foot is not None:
        whole = threaded(facts, foot)
        return computed("wanted", words, whole.symbol, "the travel was computed with this thread", whole)
    fitted = line.piece.fitted_mm or 0.0
    bolt = min(bolts, key=_before, default=None)
    length = given("L_fit", "length as fitted", fitted, source=f"`trivet explain bolt {line.item}` says why")
    if bolt is None:
        return given("wanted", words, line.piece.thread_wanted_mm or 0.0, source="throughout")
    items = []
    for index, (name, band) in enumerate(bolt.stack, start=1):
        if name in _HOLDING:
            break
        items.append(given(f"i{index}", f"{name}, at its thinnest", band.least, source=f"the stack that `trivet explain bolt {line.item}` adds up"))
    formula = f"max(0, {' − '.join(item.symbol for item in (length, *items))})"
    return computed("wanted", words, formula, "derived: the first nut, or the wood, must find thread", length, *items)


def _before(bolt: BoltChoice) -> float:
    before = 0.0
    for name, band in bolt.stack:
        if name in _HOLDING:
            break
        before += band.least
    return before


def _measure(line: HardwareLine, name: str, words: str, value: float, unit: str) -> Number:
    piece, origin = line.piece, line.piece.origin
    if name == "pitch" and piece.thread is not None:
        origin = piece.thread.origin
    elif name.startswith("head_") and isinstance(piece.hardware, Screw):
        origin = piece.hardware.head.origin or origin
    source = "" if origin is not None else "as high as the gears of the levels above" if piece.kind == "spacer" else "as the model has it"
    return given(name, f"{words} of `{line.item}`", value, unit, origin, source)


def _measures(piece: HardwareItem) -> Iterator[tuple[str, str, float, str]]:
    """(name, words, value, unit) of what the schedule prints of a piece's size."""
    made = piece.hardware
    if piece.thread is not None:
        yield "pitch", f"pitch of {piece.thread.designation}", piece.thread.pitch_mm, "mm"
    if isinstance(made, Screw):
        yield from _of_head(made)
    elif isinstance(made, TeeNut):
        yield "flange_diameter", "diameter of the flange", made.flange_diameter_mm, "mm"
        yield "flange_thickness", "thickness of the flange", made.flange_thickness_mm, "mm"
        yield "barrel_diameter", "diameter of the barrel", made.barrel_diameter_mm, "mm"
        yield "barrel_length", "length of the barrel", made.barrel_length_mm, "mm"
        yield "hole_for_it", "hole", made.hole_mm, "mm"
    elif isinstance(made, Nut):
        yield "across_flats", "across flats", made.across_flats_mm, "mm"
        yield "height", "height", made.height_mm, "mm"
    elif isinstance(made, Washer):
        yield "inside", "inside diameter", made.inside_mm, "mm"
        yield "outside", "outside diameter", made.outside_mm, "mm"
        yield "thickness_least", "least thickness", made.thickness_min_mm, "mm"
        yield "thickness_most", "greatest thickness", made.thickness_max_mm, "mm"
    elif isinstance(made, Insert):
        yield "outside_least", "least outside diameter", made.outside.least, "mm"
        yield "outside_most", "greatest outside diameter", made.outside.most, "mm"
        yield "insert_length", "length", made.length_mm, "mm"
        yield "live_from", "where the live thread begins, from the driving end", made.live_from_mm, "mm"
        yield "live_to", "where the live thread ends, from the driving end", made.live_to_mm, "mm"
        yield "hole_for_it", "hole", made.hole_mm, "mm"
    elif isinstance(made, Magnet):
        yield "diameter", "diameter", made.diameter_mm, "mm"
        yield "thickness", "thickness", made.thickness_mm, "mm"
    if made is None and piece.size_mm is not None:
        yield "diameter", "diameter", piece.size_mm, "mm"
    if piece.inside_mm is not None:
        yield "bore", "least bore", piece.inside_mm, "mm"
    if piece.height_mm is not None:
        yield "height", "height", piece.height_mm, "mm"


def _of_head(screw: Screw) -> Iterator[tuple[str, str, float, str]]:
    head = screw.head
    if head.height_mm:
        yield "head_height", "height of the head", head.height_mm, "mm"
    yield "head_diameter", "diameter of the head", head.diameter_mm, "mm"
    if head.across_flats_mm is not None:
        yield "head_across_flats", "head across flats", head.across_flats_mm, "mm"
    if head.angle_deg is not None:
        yield "head_angle", "angle of the head", head.angle_deg, "deg"
