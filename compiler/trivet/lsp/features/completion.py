"""What can be written at the cursor: headings, facts, words, names, hardware, units and rules, by context."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.lower.forms import Element, FactForm, Slot
from trivet.lower.vocabulary import FORMS
from trivet.lsp.answers import Choice
from trivet.lsp.cursor import Cursor, cursor
from trivet.lsp.features.completion_values import values
from trivet.lsp.lines import LIKE, OTHERS, block_form, fact_form, heading_form, nexts, shown
from trivet.lsp.view import View
from trivet.syntax.nodes import Bracket, Negative, Number, PlusMinus, Range


def completion(view: View, offset: int) -> tuple[Choice, ...]:
    """The choices at an offset, best first; the editor filters them by what is typed."""
    place = cursor(view.text, offset)
    if place.inside == "comment":
        return ()
    if not place.word:
        found = _facts(place) if place.indented else _headings(place)
    else:
        form = _form(place)
        found = values(view, place, form, _elements(place, form)) if form is not None else iter(())
    chosen: dict[tuple[str, str], Choice] = {}
    for choice in found:
        chosen.setdefault((choice.label, choice.kind), choice)
    return tuple(sorted(chosen.values(), key=lambda choice: choice.rank))


def _form(place: Cursor) -> FactForm | None:
    if not place.indented:
        return heading_form(place.word)
    return fact_form(place.block, place.word, place.default_for)


def _headings(place: Cursor) -> Iterator[Choice]:
    for kind, form in {**FORMS, **OTHERS}.items():
        bare = form.named == "none" and form.heads == ("",)
        about = f"```trivet\n{form.example or kind}\n```"
        if form.facts:
            about += "\n\nfacts: " + ", ".join(fact.word for fact in form.facts)
        yield Choice(kind, "heading", place.start, place.end, kind if bare else f"{kind} ", form.example, about)


def _facts(place: Cursor) -> Iterator[Choice]:
    kind = place.default_for or place.block
    form = block_form(kind)
    if form is None:
        return
    stated = set(place.stated)
    taken = {fact.sets for fact in form.facts if fact.word in stated and fact.sets}
    facts = (*form.facts, LIKE) if form.named in ("one", "many") and place.block in FORMS and form.facts else form.facts
    for index, fact in enumerate(facts):
        if (fact.word in stated and not fact.repeats) or (fact.sets and fact.sets in taken):
            continue
        takes = " or ".join(shown(head) for head in fact.heads)
        about = f"`{f'{fact.word} {takes}'.strip()}`"
        if fact.details:
            about += "\n\nthen " + ", ".join(f"`{shown(detail)}`" for detail in fact.details)
        about += f"\n\nfor example `{fact.example}`" if fact.example else ""
        bare = fact.heads == ("",)
        yield Choice(fact.word, "fact", place.start, place.end, fact.word if bare else f"{fact.word} ", takes, about, 10 + index)


def _elements(place: Cursor, form: FactForm | None) -> tuple[Element, ...]:
    """What the forms expect at the cursor; behind a bare number a unit is expected too."""
    if form is None or place.inside in ("text", "bracket", "operator") or place.before is None:
        return _enclosing(place, form)
    found: list[Element] = []
    for item in nexts(form, place.phrase, place.before):
        found.append(f"{item.words} " if item.words and item.more else item.words or item.element)
    if place.before and _wants_unit(place.before[-1]):
        filled = [item.element for item in nexts(form, place.phrase, place.before[:-1]) if isinstance(item.element, Slot)]
        found += [Slot("unit", element.kind) for element in filled]
    return tuple(found)


def _enclosing(place: Cursor, form: FactForm | None) -> tuple[Element, ...]:
    if place.inside == "text":
        return (Slot("inside", "text"),)
    if form is None or place.inside not in ("bracket", "operator"):
        return ()
    return (Slot("term", "length"),)


def _wants_unit(item: object) -> bool:
    match item:
        case Number() | Bracket():
            return item.unit is None
        case Negative():
            return _wants_unit(item.of)
        case Range():
            return _wants_unit(item.high)
        case PlusMinus():
            return _wants_unit(item.deviation)
    return False
