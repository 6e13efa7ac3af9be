"""The cut list, explained: what is cut, how large, of which sheet, and the area of each sheet that its boxes take."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from trivet.model.outline import Outline
from trivet.source import Origin
from trivet.tables.cut_list import CutPart, cut_parts
from trivet.tables.explanation import DERIVED, Entry, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_mesh import tip

_ENDS = (("mean", 0), ("least", -1), ("most", 1))


def cut_list_entries(facts: Facts) -> Iterator[Entry]:
    """Of each line of the cut list, by any of its parts; of each sheet that is used."""
    parts = cut_parts(facts.design, facts.derived)
    for index, part in enumerate(parts):
        path: tuple[str | int, ...] = ("cut_list", index)
        first, also = (part.ids[0],), part.ids[1:]
        yield Entry("cut_quantity", first, (*path, "quantity"), partial(_quantity, facts, part), also)
        yield Entry("cut_width", first, (*path, "width_mm"), partial(_side, facts, part, 0), also)
        yield Entry("cut_height", first, (*path, "height_mm"), partial(_side, facts, part, 1), also)
        yield Entry("cut_thickness", first, (*path, "thickness_mm"), partial(_thickness, facts, part), also)
        yield Entry("cut_layers", first, (*path, "layers"), partial(_layers, facts, part), also)
        for end, sign in _ENDS:
            explain = partial(facts.sheet, part.sheet, sign)
            yield Entry(f"sheet_thickness_{end}", first, (*path, "sheet_thickness_mm", end), explain, also)
    for name in dict.fromkeys(part.sheet for part in parts):
        mine = [part for part in parts if part.sheet == name]
        yield Entry("sheet_area", (name,), (), partial(_area, facts, name, mine), elsewhere="hardware.md: sheets")


def _quantity(facts: Facts, part: CutPart) -> Number:
    return facts.once(("cut quantity", part.ids), lambda: _quantity_now(facts, part))


def _quantity_now(facts: Facts, part: CutPart) -> Number:
    words = f"how many of `{part.ids[0]}` are cut"
    symbol = f"Q_{_symbol(part.ids[0])}"
    origin = _origin(facts, part)
    if part.kind == "spacer":
        return given(symbol, words, float(part.quantity), "", origin)
    if part.kind == "stand_off":
        return given(symbol, words, float(part.quantity), "", source="one for each layer of each gear over the keeper, for each screw")
    if part.kind == "helper":
        return given(symbol, words, float(part.quantity), "", origin, "as many as its use asks for")
    same = "" if len(part.ids) == 1 else "; equal teeth, sheet, layers, cutter, holes and web, and one set of hardware serves them"
    ones = [given(f"one_{_symbol(name)}", f"`{name}`", 1.0, "", _of_gear(facts, name) or origin) for name in part.ids]
    formula = " + ".join(item.symbol for item in ones)
    return computed(symbol, words, formula, f"counted from the model{same}", *ones, unit="")


def _of_gear(facts: Facts, name: str) -> Origin | None:
    gear = facts.graph.gears.get(name.removesuffix(".keeper").rpartition(".")[2])
    return gear.name.origin if gear is not None else None


def _outline(facts: Facts, part: CutPart) -> Outline | None:
    """What states the shape of a part."""
    name = part.ids[0]
    if part.kind == "board":
        return facts.parts.boards[name].outline
    if part.kind == "spacer":
        return next((item.outline for item in facts.design.spacers if item.name.text == name), None)
    if part.kind == "keeper":
        foot = next((state.foot for state in facts.derived.feet if f"{state.id}.keeper" == name), None)
        return foot.keeper.outline if foot is not None and foot.keeper is not None else None
    return None


def _origin(facts: Facts, part: CutPart) -> Origin | None:
    """The block that the part is from."""
    name = part.ids[0]
    if part.kind == "board":
        return facts.parts.boards[name].name.origin
    if part.kind == "spacer":
        return next((item.name.origin for item in facts.design.spacers if item.name.text == name), None)
    if part.kind == "helper":
        return next((item.origin for item in facts.design.helpers if name.startswith(f"helper.{item.kind.removesuffix('s')}")), None)
    outline = _outline(facts, part)
    return outline.origin if outline is not None else _of_gear(facts, name)


def _side(facts: Facts, part: CutPart, axis: int) -> Number:
    return facts.once(("cut side", part.ids, axis), lambda: _side_now(facts, part, axis))


def _side_now(facts: Facts, part: CutPart, axis: int) -> Number:
    name, value = part.ids[0], (part.width_mm, part.height_mm)[axis]
    symbol, words = f"{'wh'[axis]}_{_symbol(name)}", f"{('width', 'height')[axis]} of the box that `{name}` fills"
    if part.kind == "gear":
        da = tip(facts, name)
        return computed(symbol, f"{words}: its tip diameter", da.symbol, DERIVED, da)
    outline = _outline(facts, part)
    if outline is None:
        how = "the box round its outline, which is drawn for what it holds"
        origin = _origin(facts, part)
        stated = [given("helper", "the statement that asks for it", 1.0, "", origin)] if origin is not None else []
        return found(symbol, words, value, how, DERIVED, *stated)
    if outline.shape == "polygon" and outline.vertices and all(item.bulge == 0.0 for item in outline.vertices):
        corners = [(item.x, item.y)[axis] for item in outline.vertices]
        ends = [
            given(f"{end}_{name}", f"the {'farthest' if end == 'far' else 'nearest'} corner along {'xy'[axis]}", at, origin=outline.origin)
            for end, at in (("far", max(corners)), ("near", min(corners)))
        ]
        formula = f"{ends[0].symbol} − {ends[1].symbol}"
        if abs(ends[0].value - ends[1].value - value) < 1e-9:
            return computed(symbol, words, formula, DERIVED, *ends)
    return given(symbol, f"{words}: {outline.shape}", value, origin=outline.origin)


def _thickness(facts: Facts, part: CutPart) -> Number:
    sheet, layers = facts.sheet(part.sheet), _layers(facts, part)
    words = f"thickness of `{part.ids[0]}`, mean"
    return computed("thick", words, f"{layers.symbol} · {sheet.symbol}", "layers, glue lines neglected", layers, sheet)


def _layers(facts: Facts, part: CutPart) -> Number:
    name = part.ids[0]
    source = "one layer, where none are stated" if part.layers == 1 else "as stated"
    return facts.once(
        ("cut layers", part.ids),
        lambda: given(f"layers_{_symbol(name)}", f"layers of `{name}`", float(part.layers), "", _origin(facts, part), source),
    )


def _symbol(name: str) -> str:
    """A part's name within a symbol, where a hyphen would be a minus."""
    return name.replace("-", "_")


def _area(facts: Facts, sheet: str, parts: list[CutPart]) -> Number:
    terms: list[str] = []
    inputs: list[Number] = []
    for part in parts:
        numbers = (_quantity(facts, part), _layers(facts, part), _side(facts, part, 0), _side(facts, part, 1))
        terms.append(" · ".join(item.symbol for item in numbers))
        inputs += numbers
    words = f"boxes of all pieces of `{sheet}`, without room between them or waste"
    return computed("area", words, f"({' + '.join(terms)}) / 1000000", DERIVED, *dict.fromkeys(inputs), unit="m2")

