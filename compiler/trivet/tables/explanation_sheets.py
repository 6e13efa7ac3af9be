"""The sheets, explained: their size and what is kept free, what share ends in parts, where each piece and index hole came to lie. Slow."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from trivet.solve.nest import nest
from trivet.solve.nest_job import BESIDE_CUTTER_MM
from trivet.solve.nest_records import Nest, NestedSheet
from trivet.source import Origin
from trivet.tables.explanation import DERIVED, PRACTICE, Entry, Number, computed, found, given
from trivet.tables.explanation_facts import Facts

SEARCH = (
    "a search: pieces are laid one by one where they cost least length, in orders by area, by length and by breadth, then with pieces"
    " exchanged by draws of a fixed seed; bounded by work, so the same file is laid alike. A placement that was kept (`--keep-placement`)"
    " or a thorough search replaces it"
)


def sheet_entries(facts: Facts) -> Iterator[Entry]:
    """Of each sheet by its id, of each piece by its part (and which copy), of each index hole by its number; of a kind of sheet."""
    laid = nest(facts.design, facts.derived)
    for index, sheet in enumerate(laid.sheets):
        path: tuple[str | int, ...] = ("sheets", index)
        name = (sheet.name,)
        yield Entry("sheet_width", name, (*path, "width_mm"), partial(_size, facts, sheet, 0))
        yield Entry("sheet_height", name, (*path, "height_mm"), partial(_size, facts, sheet, 1))
        yield Entry("sheet_spacing", name, (*path, "spacing_mm"), partial(_spacing, facts, sheet))
        yield Entry("sheet_margin", name, (*path, "edge_margin_mm"), partial(_margin, facts, sheet))
        yield Entry("sheet_share", name, (*path, "share_used"), partial(_share, facts, sheet))
        yield Entry("sheet_used_share", name, (*path, "share_of_used_length"), partial(_used_share, facts, sheet))
        for side in (0, 1) if sheet.cut_from_mm is not None else ():
            explain = partial(_cut_from, facts, sheet, side)
            yield Entry(f"cut_from_{('width', 'height')[side]}", name, (*path, "cut_from_mm", side), explain)
        for number, lying in enumerate(sheet.lying):
            part = (lying.part,) if lying.copy == 1 else (lying.part, str(lying.copy))
            at: tuple[str | int, ...] = (*path, "pieces", number)
            for quantity, key, value, unit in (
                ("lies_x", "x_mm", lying.x_mm, "mm"), ("lies_y", "y_mm", lying.y_mm, "mm"), ("lies_turn", "turn_deg", lying.turn_deg, "deg")
            ):  # fmt: skip
                words = f"{key.partition('_')[0]} of `{' '.join(part)}` on {sheet.name}, seen from the face that is cut first"
                yield Entry(quantity, part, (*at, key), partial(_lies, facts, sheet, words, value, unit))
            yield Entry("copy", part, (*at, "copy"), partial(given, "copy", "which of several equal pieces", float(lying.copy), "", source="counted"))
        for number, hole in enumerate(sheet.holes):
            at = (*path, "registration", number)
            part = (sheet.name, str(number + 1))
            where = "in the waste of a sheet that is turned over, so that it fits in one way only"
            for quantity, key, value in (("index_hole_x", "x_mm", hole.x_mm), ("index_hole_y", "y_mm", hole.y_mm)):
                words = f"{key[0]} of an index hole of {sheet.name}, {where}"
                yield Entry(quantity, part, (*at, key), partial(_lies, facts, sheet, words, value, "mm"))
            explain = partial(_index_hole, facts, sheet, hole.diameter_mm, hole.guard)
            yield Entry("index_hole", part, (*at, "diameter_mm"), explain)
    for kind in dict.fromkeys(sheet.sheet for sheet in laid.sheets):
        mine = [sheet for sheet in laid.sheets if sheet.sheet == kind]
        yield Entry("sheet_fill", (kind,), (), partial(_fill, facts, kind, mine), elsewhere="cut_list.md and the summary: percent that parts fill")
    for index, (kind, count) in enumerate(laid.least_sheets):
        yield Entry("least_sheets", (kind,), ("nest", "least_sheets_by_area", index, "sheets"), partial(_least, facts, laid, kind, count))


def _stock(facts: Facts, sheet: NestedSheet, axis: int) -> Number:
    stated = facts.parts.sheets[sheet.sheet]
    value = (sheet.width_mm, sheet.height_mm)[axis]
    sizes = [*stated.off_cuts, *([(stated.width, stated.height)] if stated.width is not None and stated.height is not None else [])]
    origin = next((size[axis].origin for size in sizes if size[0] and size[1] and (size[0].mm, size[1].mm) == (sheet.width_mm, sheet.height_mm)), None)
    return given("WH"[axis], f"{('width', 'height')[axis]} of {sheet.name}", value, origin=origin or stated.name.origin)


def _size(facts: Facts, sheet: NestedSheet, axis: int) -> Number:
    return facts.once(("stock", sheet.name, axis), lambda: _stock(facts, sheet, axis))


def _spacing(facts: Facts, sheet: NestedSheet) -> Number:
    stated = facts.parts.sheets[sheet.sheet].spacing
    words = f"room between parts on {sheet.name}"
    if stated is not None:
        return given("apart", words, sheet.spacing_mm, origin=stated.origin)
    beside = given("beside", "wood beside the cutter's path", BESIDE_CUTTER_MM, source=PRACTICE)
    cutter = given("D", "the widest cutter that runs round a part of it", sheet.spacing_mm - BESIDE_CUTTER_MM,
                   origin=_cutter_origin(facts, sheet.spacing_mm - BESIDE_CUTTER_MM))  # fmt: skip
    return computed("apart", words, "D + beside", DERIVED, cutter, beside)


def _cutter_origin(facts: Facts, diameter_mm: float) -> Origin | None:
    return next((item.diameter.origin for item in facts.design.cutters if item.diameter and abs(item.diameter.mm - diameter_mm) < 1e-9), None)


def _margin(facts: Facts, sheet: NestedSheet) -> Number:
    stated = facts.parts.sheets[sheet.sheet].edge_margin
    return facts.once(
        ("margin", sheet.name),
        lambda: given("margin", f"kept free along the edges of {sheet.name}", sheet.margin_mm, origin=stated.origin if stated else None,
                      source="" if stated else f"not stated: the edge is bruised and seldom straight; {PRACTICE}"),
    )  # fmt: skip


def _area(facts: Facts, sheet: NestedSheet) -> Number:
    how = "the areas inside the outlines of its pieces, added up"
    return facts.once(("pieces", sheet.name), lambda: found("pieces", f"area of the pieces on {sheet.name}", sheet.area_mm2, how, DERIVED, unit="mm2"))


def _share(facts: Facts, sheet: NestedSheet) -> Number:
    area, width, height = _area(facts, sheet), _size(facts, sheet, 0), _size(facts, sheet, 1)
    words = f"share of {sheet.name} that ends in parts, to four decimals"
    return computed("share", words, _rounded(f"{area.symbol} / ({width.symbol} · {height.symbol})"), DERIVED, area, width, height, unit="")


def _used_share(facts: Facts, sheet: NestedSheet) -> Number:
    area, width, height, margin = _area(facts, sheet), _size(facts, sheet, 0), _size(facts, sheet, 1), _margin(facts, sheet)
    along = 2 if sheet.width_mm >= sheet.height_mm else 3
    far = found("far", "how far along the sheet its pieces reach", sheet.used_mm[along], SEARCH, DERIVED)
    long, broad = (width, height) if along == 2 else (height, width)
    text = f"{area.symbol} / (min({far.symbol} + {margin.symbol}, {long.symbol}) · {broad.symbol})"
    words = f"share of the length in use of {sheet.name}, over its whole breadth, that ends in parts, to four decimals"
    return computed("used_share", words, _rounded(text), DERIVED, area, far, margin, long, broad, unit="")


def _cut_from(facts: Facts, sheet: NestedSheet, axis: int) -> Number:
    assert sheet.cut_from_mm is not None
    stated = facts.parts.sheets[sheet.sheet]
    size = stated.height if axis else stated.width
    words = f"{('width', 'height')[axis]} of the sheet that {sheet.name} is cut from, for its machine takes no more at once"
    same = size is not None and abs(size.mm - sheet.cut_from_mm[axis]) < 1e-9
    return given("whole", words, sheet.cut_from_mm[axis], origin=size.origin if size is not None and same else stated.name.origin)


def _fill(facts: Facts, kind: str, sheets: list[NestedSheet]) -> Number:
    areas: list[str] = []
    boxes: list[str] = []
    inputs: list[Number] = []
    for number, sheet in enumerate(sheets, start=1):
        area = found(f"pieces_{number}", f"area of the pieces on {sheet.name}", sheet.area_mm2, "the areas inside the outlines of its pieces, added up",
                     DERIVED, unit="mm2")  # fmt: skip
        sides = [given(f"{'WH'[axis]}_{number}", f"{('width', 'height')[axis]} of {sheet.name}", mm, origin=_size(facts, sheet, axis).origin)
                 for axis, mm in enumerate((sheet.width_mm, sheet.height_mm))]  # fmt: skip
        areas.append(area.symbol)
        boxes.append(f"{sides[0].symbol} · {sides[1].symbol}")
        inputs += [area, *sides]
    formula = f"100 · ({' + '.join(areas)}) / ({' + '.join(boxes)})"
    return computed("fill", f"percent of the sheets of `{kind}` that ends in parts", formula, DERIVED, *inputs, unit="percent")


def _rounded(formula: str) -> str:
    """To four decimals, as the report has shares."""
    return f"floor(({formula}) · 10000 + 1 / 2) / 10000"


def _lies(facts: Facts, sheet: NestedSheet, words: str, value: float, unit: str) -> Number:
    inputs = (_size(facts, sheet, 0), _size(facts, sheet, 1), _spacing(facts, sheet), _margin(facts, sheet))
    return found("place", words, value, SEARCH, DERIVED, *inputs, unit=unit)


def _index_hole(facts: Facts, sheet: NestedSheet, diameter_mm: float, guard: bool) -> Number:
    stated = facts.parts.sheets[sheet.sheet].registration
    dowel = given("dowel", "diameter of the index dowels", sheet.dowel_mm, origin=stated.origin if stated else None,
                  source="" if stated else f"the thinnest usual one that the cutter can bore; {PRACTICE}")  # fmt: skip
    room = given("room", "room in this hole", diameter_mm - sheet.dowel_mm, source=PRACTICE)
    words = "diameter of an index hole" + (", the third one, which keeps a wrong flip off" if guard else "")
    return computed("hole", words, "dowel + room", DERIVED, dowel, room)


def _least(facts: Facts, laid: Nest, kind: str, count: int) -> Number:
    how = (
        "the areas inside the outlines of all its pieces, less the off-cuts, over that of a whole sheet, rounded up; margins and room"
        " between left out"
    )
    stated = facts.parts.sheets[kind]
    sizes = [
        given(symbol, f"{word} of a whole sheet", mm.mm, origin=mm.origin)
        for symbol, word, mm in (("W", "width", stated.width), ("H", "height", stated.height))
        if mm is not None
    ]
    areas = [
        found(f"pieces_{number}", f"area of the pieces on {sheet.name}", sheet.area_mm2, "added up", DERIVED, unit="mm2")
        for number, sheet in enumerate((item for item in laid.sheets if item.sheet == kind), start=1)
    ]
    return found("least", f"sheets of `{kind}` that the area alone asks for", float(count), how, DERIVED, *sizes, *areas, unit="")
