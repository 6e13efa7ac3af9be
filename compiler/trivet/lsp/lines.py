"""What stands where in a line: each item with the part of the fact's form that it fills, found without evaluating anything."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import takewhile

from trivet.catalog_rows import KINDS
from trivet.lower.forms import BlockForm, Element, FactForm, Slot, alternatives
from trivet.lower.forms import shown as shown_of_fact
from trivet.lower.vocabulary import FORMS
from trivet.record import record
from trivet.syntax.nodes import (
    Comparator,
    Connective,
    Designation,
    Item,
    Line,
    Name,
    PlusMinus,
    Range,
    RuleName,
    Standard,
    Text,
    UnitWord,
)

_CELLS = {"column": "NAME UNIT", "cell": "CELL"}
_MOST_SHOWN = 6
_EXPRESSIONS = frozenset({"Number", "Name", "Negative", "Sum", "Product", "Bracket"})
LIKE = FactForm("like", ("{like:name}",), example="like near_n")
_WITH_FACTS = tuple(kind for kind, form in FORMS.items() if form.facts and kind != "fixture")
# Headings that are no nouns of the fixture, and the facts of a table.
OTHERS: dict[str, BlockForm] = {
    "read": BlockForm("read", ("{file:text}",), named="none", example='read "shared/shop.trivet"'),
    "default": BlockForm("default", (f"{{kind:{'|'.join(_WITH_FACTS)}}}",), named="none", example="default gear"),
    "table": BlockForm(
        "table",
        (f"{{name:name}} is {{kind:{'|'.join(KINDS)}}}",),
        (
            FactForm("source", ("{source:text}",), example='source "measured: five of a box of fifty"'),
            FactForm("standard", ("{standard:standard}",), example="standard ISO 4762", many=True),
            FactForm("columns", ("{column:column}",), example="columns thread, outside mm, hole mm", many=True),
            FactForm("row", ("{cell:cell}",), example="row M8, 16.0 +/- 0.1, 13.5", many=True, repeats=True),
            FactForm("note", ("{text:text}",), example='note "rows above M8 are rare"'),
        ),
        named="one",
        example="table my_insert is insert",
    ),
}  # fmt: skip


@record
class Piece:
    """An item of a line and what it fills: a word of the form, a slot, or nothing that is known."""

    item: Item
    element: Element | None
    declares: bool = False


@record
class Next:
    """What may follow the items of a phrase: one element of a form's pattern, and how many elements stand before it.

    `words`: the element and the words of the form that follow it, empty where it is a slot; `more`: the pattern goes on after them.
    """

    element: Element
    pattern: str
    position: int
    words: str
    more: bool


def block_form(kind: str) -> BlockForm | None:
    """The form of a heading's word."""
    return FORMS.get(kind) or OTHERS.get(kind)


def heading_form(kind: str) -> FactForm | None:
    """What a heading takes, as a fact's form."""
    form = block_form(kind)
    return None if form is None else FactForm(kind, form.heads, form.details, form.example, many=form.named == "many")


def fact_form(kind: str, word: str, default_for: str = "") -> FactForm | None:
    """The form of a fact in a block; in a `default` block of the kind that it is for."""
    form = block_form(default_for if kind == "default" else kind)
    if word == "like" and form is not None and form.kind in FORMS:
        return LIKE
    return form.fact(word) if form is not None else None


def shown(pattern: str) -> str:
    """A pattern as it is shown to the author: `head recessed LENGTH`; long lists of words are a KIND."""
    words = []
    for part in pattern.split():
        kind = part.strip("{}[]").partition(":")[2] if part.strip("[]").startswith("{") else ""
        long = "KIND" if kind.count("|") > _MOST_SHOWN else _CELLS.get(kind, "")
        words.append(re.sub(r"\{.*\}", long, part) if long else part)
    return " ".join(word if word.isupper() else shown_of_fact(word) for word in words)


def pieces(form: FactForm | None, line: Line, heading: bool) -> tuple[Piece, ...]:
    """The items of a line in order, each with what it fills; `heading`: its names are declared here."""
    found: list[Piece] = []
    for index, phrase in enumerate(line.phrases):
        patterns = () if form is None else form.heads if index == 0 or form.many else form.details
        placed = _best(patterns, phrase.items)
        for item, element in zip(phrase.items, placed, strict=True):
            declared = heading and isinstance(element, Slot) and element == Slot("name", "name")
            found.append(Piece(item, element, declared))
    return tuple(found)


def nexts(form: FactForm, index: int, before: Sequence[Item]) -> tuple[Next, ...]:
    """What may follow `before`, the items of phrase number `index` so far."""
    detail = index > 0 and not form.many
    found: dict[tuple[Element, int], Next] = {}
    for pattern in form.details if detail else form.heads:
        for elements in alternatives(pattern):
            count, taken = _fit(elements, before)
            if taken == len(before) and count < len(elements):
                words = list(takewhile(lambda element: isinstance(element, str), elements[count:]))
                more = count + len(words) < len(elements)
                item = Next(elements[count], pattern, count, " ".join(str(word) for word in words), more)
                found.setdefault((item.words or elements[count], count), item)
    return tuple(found.values())


def wanted_kinds(block: str, word: str, slot: Slot) -> tuple[str, ...]:
    """The kinds of things that a slot for a name asks for; empty: any."""
    if slot.name in _BY_SLOT:
        return _BY_SLOT[slot.name]
    if slot.name == "like":
        return (block,)
    return _BY_WORD.get(word, ())


_BY_SLOT: dict[str, tuple[str, ...]] = {"board": ("board",), "gear": ("gear",), "table": ("table",), "stock": ("sheet",)}
_BY_WORD: dict[str, tuple[str, ...]] = {
    "stock": ("sheet",), "cutter": ("cutter",), "tooth_form": ("tooth_form",), "machine": ("machine",), "turned_by": ("drive",),
    "turns_on": ("pivot",), "carries": ("foot",), "on_shaft_with": ("gear",), "material": ("material",),
}  # fmt: skip


def _best(patterns: Sequence[str], items: Sequence[Item]) -> tuple[Element | None, ...]:
    best: tuple[Element | None, ...] = (None,) * len(items)
    reached = -1
    for pattern in patterns:
        for elements in alternatives(pattern):
            count, taken = _fit(elements, items)
            whole = taken == len(items) and count == len(elements)
            if taken > reached or whole:
                best, reached = _spread(elements, items, count), taken
            if whole:
                return best
    return best


def _spread(elements: Sequence[Element], items: Sequence[Item], count: int) -> tuple[Element | None, ...]:
    placed: list[Element | None] = []
    for element in elements[:count]:
        placed += [element] * _takes(element, items, len(placed))
    return tuple([*placed, *[None] * (len(items) - len(placed))])


def _fit(elements: Sequence[Element], items: Sequence[Item]) -> tuple[int, int]:
    """How many elements the items fill one after the other, and how many items that takes."""
    position = 0
    for index, element in enumerate(elements):
        taken = _takes(element, items, position) if position < len(items) else 0
        if not taken:
            return index, position
        position += taken
    return len(elements), position


def _takes(element: Element, items: Sequence[Item], position: int) -> int:
    item = items[position]
    if isinstance(element, str):
        return int(isinstance(item, (Name, Connective, UnitWord)) and item.text == element)
    kind = element.kind
    if "|" in kind:
        return int(isinstance(item, (Name, Connective)) and item.text in kind.split("|"))
    if kind == "standard":
        return _standard(items, position)
    if kind in ("cell", "column"):
        return 1
    return int(_fills(kind, item))


def _fills(kind: str, item: Item) -> bool:
    plain: dict[str, tuple[type, ...]] = {
        "name": (Name,), "path": (Name,), "text": (Text,), "rule": (RuleName, Name), "comparator": (Comparator,),
        "thread": (Designation, Name), "range": (Range,),
    }  # fmt: skip
    if kind in plain:
        return isinstance(item, plain[kind]) and not (kind == "name" and isinstance(item, Name) and "." in item.text)
    if kind == "deviation":
        return isinstance(item, PlusMinus)
    if kind == "spread" and isinstance(item, (PlusMinus, Range)):
        return True
    return type(item).__name__ in _EXPRESSIONS or (kind == "value" and isinstance(item, Designation))


def _standard(items: Sequence[Item], position: int) -> int:
    if not isinstance(items[position], Standard):
        return 0
    taken, product, size = 1, False, False
    for follower in items[position + 1 :]:
        sized = isinstance(follower, Designation) or (isinstance(follower, Name) and follower.text.startswith("no_"))
        if sized and not size:
            size = True
        elif isinstance(follower, Name) and not product and not size:
            product = True
        else:
            break
        taken += 1
    return taken
