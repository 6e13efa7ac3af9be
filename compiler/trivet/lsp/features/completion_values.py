"""Choices for what a fact's form expects: its words, names of the right kinds, hardware with its rows, units and rules."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.lower.context import PARTS
from trivet.lower.forms import Element, FactForm, Slot
from trivet.lsp.answers import Choice
from trivet.lsp.cursor import Cursor
from trivet.lsp.hardware import (
    TABLES_FOR,
    Offer,
    catalog,
    find_thread,
    inserts,
    lengths,
    materials,
    standards,
    threads,
    whole_standard,
)
from trivet.lsp.lines import wanted_kinds
from trivet.lsp.view import View
from trivet.syntax.nodes import Block, Designation, Number, RuleName, Standard
from trivet.units import UNITS, made_text, number_text

_DIMENSIONS = {"length": "length", "spread": "length", "deviation": "length", "place": "length", "angle": "angle", "force": "force",
               "torque": "torque", "mass": "mass", "per_length": "per length", "range": "", "value": "", "number": ""}  # fmt: skip
NOT_FITTING = 90
_COUNTED = {"count": ("gear",), "angle": (), "ratio": ()}


def values(view: View, place: Cursor, form: FactForm, elements: tuple[Element, ...]) -> Iterator[Choice]:
    """A choice for each thing that fits one of the elements."""
    for element in elements:
        if isinstance(element, str):
            yield _choice(place, element, "word", rank=1)
        elif "|" in element.kind:
            for word in element.kind.split("|"):
                yield _choice(place, word, "word", rank=1)
        elif element.name == "unit":
            yield from _units(view, place, element.kind, form.example)
        elif element.kind in ("name", "path"):
            if element.kind == "path":
                yield from _accepted_parts(view, place)
            yield from _names(view, place, element)
        elif element.kind == "rule":
            yield from _rules(view, place)
        elif element.kind == "text":
            yield from _texts(view, place)
        elif element.kind == "comparator":
            for sign in (">=", "<="):
                yield _choice(place, sign, "word", rank=1)
        elif element.kind in ("standard", "thread", "cell"):
            yield from _hardware(view, place, form, element)
        else:
            yield from _numbers(view, place, form, element)


def _choice(place: Cursor, text: str, kind: str, detail: str = "", about: str = "", rank: int = 5) -> Choice:
    return Choice(text.rstrip(), kind, place.start, place.end, text, detail, about, rank)


def _names(view: View, place: Cursor, slot: Slot) -> Iterator[Choice]:
    kinds = wanted_kinds(place.default_for or place.block or place.word, place.word, slot)
    if slot.name == "name" and not place.indented:
        return  # A heading declares a name that is not there yet.
    own = {word.rstrip(",") for word in place.heading_line.split()[1:]}
    own |= _already(view, place) if slot.name == "gear" else set()
    for name, held in view.declared.items():
        if (not kinds and held.kind not in ("fixture", "table")) or held.kind in kinds:
            if kinds == ("table",) and held.block.heading.span.text.split()[-1] != "insert":
                continue
            if name not in own or not kinds:
                yield _choice(place, name, "name", f"{held.kind}", f"```trivet\n{held.block.heading.span.text}\n```", 2)
    if "table" in kinds:
        tables = catalog(view)
        offers = inserts(tables, find_thread(tables, _thread(view, place)))
        yield from _offers(place, [offer for offer in offers if offer.text not in view.declared], 4)
    if "material" in kinds:
        yield from _offers(place, materials(catalog(view)), 2)


def _already(view: View, place: Cursor) -> set[str]:
    """The gears that other lines of the block name already."""
    block = _block(view, place)
    found = set()
    for line in block.facts if block is not None else ():
        if line.word.text == place.word and not line.span.start <= place.start <= line.span.end:
            found |= {phrase.items[0].span.text for phrase in line.phrases if phrase.items}
    return found


def _offers(place: Cursor, offers: list[Offer], rank: int) -> Iterator[Choice]:
    for offer in offers:
        yield _choice(place, offer.text, "hardware", offer.detail, offer.about, rank if offer.fits else NOT_FITTING)


def _rules(view: View, place: Cursor) -> Iterator[Choice]:
    """Rules of checks, which alone can be accepted; those that something in the fixture breaks first."""
    from trivet.checks._check import all_checks

    broken = {item.rule for item in view.reported}
    for check in all_checks():
        for rule in (check.rule, *check.more_rules):
            found = rule.slug in broken
            detail = f"{rule.severity}, reported now" if found else rule.severity
            yield _choice(place, rule.slug, "rule", detail, f"{rule.what}\n\n{rule.why}", 1 if found else 20)


def _accepted_parts(view: View, place: Cursor) -> Iterator[Choice]:
    """What the findings of the rule before the cursor are about."""
    rule = next((item.text for item in place.before or () if isinstance(item, RuleName)), "")
    for item in view.reported:
        if item.rule == rule:
            for part in item.parts:
                yield _choice(place, part, "name", "reported now", item.message, 0)


def _texts(view: View, place: Cursor) -> Iterator[Choice]:
    """Files to read: those that are open or read already."""
    if place.word != "read" or place.inside != "text":
        return
    folder = view.file.name.rpartition("/")[0]
    for document in view.documents:
        path = document.file.name
        if path != view.file.name and folder and path.startswith(f"{folder}/"):
            yield _choice(place, path.removeprefix(f"{folder}/"), "value", "", "", 3)


def _hardware(view: View, place: Cursor, form: FactForm, slot: Slot) -> Iterator[Choice]:
    tables = catalog(view)
    inch = _inch(view)
    if slot.kind == "standard":
        word = form.word if form.word in TABLES_FOR else "have" if place.block == "table" else form.word
        offers = standards(tables, word, find_thread(tables, _thread(view, place)), "in" if inch else "mm")
        yield from _offers(place, offers, 2)
    elif slot.kind == "thread" or (place.word == "row" and place.phrase == 0):
        yield from _offers(place, threads(tables, inch), 2)
        for name, held in view.declared.items():
            if held.kind == "parameter" and slot.kind == "thread" and _is_thread(held.block):
                yield _choice(place, name, "name", "parameter", "", 1)


def _numbers(view: View, place: Cursor, form: FactForm, slot: Slot) -> Iterator[Choice]:
    if slot.name == "length" and form.word in TABLES_FOR:
        yield from _lengths(view, place, form)
    if slot.kind == "column":
        from trivet.catalog import COLUMNS

        for columns in COLUMNS.values():
            for column in columns.removeprefix("columns ").split(", "):
                yield _choice(place, column, "word", "", "", 2)
        return
    kinds = _COUNTED.get(slot.kind, ("board", "sheet", "cutter", "tooth_form"))
    for name, held in view.declared.items():
        if held.kind == "parameter" and _of_dimension(held.block, slot.kind):
            yield _choice(place, name, "name", held.block.heading.span.text, "", 3)
        for part in _parts(held.kind) if held.kind in kinds or slot.kind == "value" else ():
            if slot.kind != "place" or part == "centre":
                yield _choice(place, f"{name}.{part}", "name", f"{part} of the {held.kind}", "", 4)


def _parts(kind: str) -> tuple[str, ...]:
    """What may follow the point after a name of a kind; a thickness has limits."""
    held = PARTS.get(kind, ())
    return (*held, "thickness.least", "thickness.most") if "thickness" in held else held


def _is_thread(block: Block) -> bool:
    items = block.heading.phrases[0].items
    return len(items) > 1 and (isinstance(items[1], Designation) or items[1].span.text == "one_of")


def _of_dimension(block: Block, kind: str) -> bool:
    """Whether a parameter's value can stand in a slot; a sum's dimension is not worked out here."""
    items = block.heading.phrases[0].items
    value = items[1] if len(items) == 2 else None
    wanted = "ratio" if kind in ("count", "ratio") else _DIMENSIONS.get(kind, "")
    if kind == "place" or not isinstance(value, Number):
        return kind != "place"
    return not wanted or UNITS[value.unit.text if value.unit is not None else ""][0] == wanted


def _lengths(view: View, place: Cursor, form: FactForm) -> Iterator[Choice]:
    """The lengths in which the line's screw is sold."""
    line = _line(view, place)
    standard = next((whole_standard(line, item) for item in line if isinstance(item, Standard)), "")
    tables = catalog(view)
    unit = "in" if _inch(view) else "mm"
    for mm in lengths(tables, standard, find_thread(tables, _thread(view, place))):
        yield _choice(place, made_text(mm, unit), "hardware", f"a length sold of {standard}", "", 1)


def _line(view: View, place: Cursor) -> tuple[object, ...]:
    """The items of the line's first phrase, read from the text before the cursor."""
    from trivet.source import SourceFile
    from trivet.syntax.parse import parse

    start = view.text.rfind("\n", 0, place.start) + 1
    document, _ = parse(SourceFile("", view.text[start : place.start].split(",")[0].strip()))
    return tuple(document.blocks[0].heading.phrases[0].items) if document.blocks else ()


def _units(view: View, place: Cursor, kind: str, example: str) -> Iterator[Choice]:
    """Units of the slot's dimension; where that is open, of what the form's example has."""
    dimension = "ratio" if kind == "ratio" else _DIMENSIONS.get(kind)
    if dimension is None:
        return
    if not dimension:
        dimension = next((UNITS[word][0] for word in example.replace(",", " ").split() if word in UNITS), "")
    usual = "in" if _inch(view) else "mm"
    for unit, (of, factor) in UNITS.items():
        if unit and unit != "mm2" and dimension in ("", of):
            worth = f"{number_text(factor)} mm" if of == "length" and unit != "mm" else of
            yield _choice(place, unit, "unit", worth, "", 0 if unit == usual else 1)


def _thread(view: View, place: Cursor) -> str:
    """What the `thread` fact of the cursor's block says."""
    block = _block(view, place)
    return next((line.phrases[0].span.text for line in block.facts if line.word.text == "thread"), "") if block is not None else ""


def _block(view: View, place: Cursor) -> Block | None:
    """The block that the cursor is in."""
    start = view.text.rfind("\n", 0, place.start) + 1
    before = [block for block in view.document.blocks if block.heading.span.start <= start]
    return before[-1] if before else None


def _inch(view: View) -> bool:
    return any(
        line.word.text == "hardware" and line.phrases[0].span.text == "inch"
        for document in view.documents
        for block in document.blocks
        if block.heading.word.text == "fixture"
        for line in block.facts
    )
