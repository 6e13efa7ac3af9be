"""Matches the phrases of a line against the patterns of its form and evaluates what stands in the slots."""

from __future__ import annotations

from typing import Any

from trivet.diagnostics import Edit
from trivet.lower.evaluate import Resolve, own_unit
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, Element, FactForm, alternatives, expected, shown
from trivet.lower.slots import MISSING, read_slot
from trivet.lower.spoken import spoken_unit
from trivet.lower.suggestions import joined, likely
from trivet.lower.thread_words import SERIES, thread_meant, thread_remedy
from trivet.record import record
from trivet.source import Span
from trivet.syntax.nodes import (
    Comparator,
    Connective,
    Designation,
    Item,
    Line,
    Name,
    Phrase,
    RuleName,
    Standard,
    Text,
    UnitWord,
)


@record
class Reading:
    """A line as read: which alternative of the first phrase matched, the slots by name, and each slot's place."""

    line: Line
    which: int
    slots: dict[str, Any]
    spans: dict[str, Span]
    repeated: tuple[dict[str, Any], ...] = ()

    def get(self, name: str, default: Any = None) -> Any:
        """The value in a slot, or `default`."""
        return self.slots.get(name, default)

    def span(self, name: str) -> Span:
        """Where a slot was written, or the line."""
        return self.spans.get(name, self.line.span)


def read_line(line: Line, form: FactForm, resolve: Resolve) -> Reading:
    """Match a whole line. Raises Fault at the first part that does not fit."""
    first, rest = line.phrases[0], line.phrases[1:]
    if form.many:
        repeated = []
        spans: dict[str, Span] = {}
        for phrase in line.phrases:
            _, slots, found = _first(phrase, form, resolve, line)
            repeated.append(slots)
            spans |= found
        return Reading(line, 0, repeated[0], spans, tuple(repeated))
    which, slots, spans = _first(first, form, resolve, line)
    for phrase in rest:
        _detail(phrase, form, resolve, line, slots, spans)
    return Reading(line, which, slots, spans)


def read_heading(line: Line, form: BlockForm, resolve: Resolve) -> Reading:
    """Match a heading against its block's form: the same rules as for a fact."""
    return read_line(line, FactForm(form.kind, form.heads, form.details, form.example), resolve)


def read_phrase(phrase: Phrase, patterns: tuple[str, ...], resolve: Resolve, word: str, example: str) -> dict[str, Any]:
    """Match one phrase against patterns; its slots by name."""
    line = Line(Name(word, phrase.span), (phrase,), phrase.span)
    return _first(phrase, FactForm(word, patterns, (), example), resolve, line)[1]


def _first(phrase: Phrase, form: FactForm, resolve: Resolve, line: Line) -> tuple[int, dict[str, Any], dict[str, Span]]:
    best: tuple[int, Fault] | None = None
    for which, pattern in enumerate(form.heads):
        for elements in alternatives(pattern):
            slots: dict[str, Any] = {}
            spans: dict[str, Span] = {}
            reached, fault = _try(elements, phrase.items, resolve, slots, spans, form, line)
            if fault is None:
                return which, slots, spans
            if best is None or reached > best[0]:
                best = (reached, fault)
    assert best is not None
    raise best[1]


def _detail(phrase: Phrase, form: FactForm, resolve: Resolve, line: Line, slots: dict[str, Any], spans: dict[str, Span]) -> None:
    best: tuple[int, Fault] | None = None
    for pattern in form.details:
        for elements in alternatives(pattern):
            found: dict[str, Any] = {}
            places: dict[str, Span] = {}
            reached, fault = _try(elements, phrase.items, resolve, found, places, form, line)
            if fault is None:
                literals = [part for part in elements if isinstance(part, str)]
                for name in [*found, *(["_".join(literals)] if not found else [])]:
                    if name in slots:
                        raise Fault("said-twice", f"`{phrase.span.text}` is said twice in one line", phrase.span)
                if not found:
                    found["_".join(literals)] = True
                    places["_".join(literals)] = phrase.span
                slots |= found
                spans |= places
                return
            if reached > 0 and (best is None or reached > best[0]):
                best = (reached, fault)
    if best is not None:
        raise best[1]
    lead = phrase.items[0]
    known = [str(alternatives(pattern)[0][0]) for pattern in form.details]
    glued = joined(phrase.span.text.split(), known)
    near = glued or likely(lead.span.text, known)
    edits = (Edit(lead.span, near),) if near and not glued else ()
    remedy = f"did you mean `{near}`?" if near else ""
    if not near and form.details:
        remedy = "it takes " + ", ".join(f"`{shown(pattern)}`" for pattern in form.details)
    elif not near:
        remedy = f"it takes no details: `{form.example}`" if form.example else ""
    message = f"`{line.word.text}` has no detail `{lead.span.text}`"
    raise Fault("unknown-detail", message, lead.span, remedy=remedy, edits=edits)


def _try(
    elements: tuple[Element, ...],
    items: tuple[Item, ...],
    resolve: Resolve,
    slots: dict[str, Any],
    spans: dict[str, Span],
    form: FactForm,
    line: Line,
) -> tuple[int, Fault | None]:
    position = 0
    for index, element in enumerate(elements):
        if position >= len(items):
            # Nothing more is written: a shorter alternative may still fit, so this counts as far as it got.
            return position, _missing(element, form, line, items)
        item = items[position]
        if isinstance(element, str):
            if not (isinstance(item, (Name, Connective, UnitWord)) and item.text == element):
                return position, _unexpected(item, element, form, line)
            position += 1
            continue
        if element.kind in ("spread", "range") and (worded := _range_in_words(items, position, line)):
            return position + 1, worded
        hint = ""
        if (
            element.kind != "count"
            and index + 1 < len(elements)
            and elements[index + 1] == "by"
            and position + 2 < len(items)
            and not isinstance(items[position + 2], (Text, Standard, Designation, RuleName, Comparator, Connective))
        ):
            hint = own_unit(items[position + 2])  # type: ignore[arg-type]  # the position is a quantity by the form
        try:
            value, taken = read_slot(element, items, position, resolve, hint, form.example)
        except Fault as fault:
            # A name that is not declared may be a misspelt word of another form, so it counts as far as the form got.
            reached = position + (fault.diagnostic.rule not in ("unknown-name", "name-form"))
            return reached, (_place_without_brackets(element, line) or fault)
        if value is MISSING:
            return position, _unexpected(item, element, form, line)
        slots[element.name] = value
        spans[element.name] = item.span.to(items[position + taken - 1].span)
        position += taken
    if position < len(items):
        return position, _left_over(items, position, form, line)
    return position + 1, None


def _range_in_words(items: tuple[Item, ...], position: int, line: Line) -> Fault | None:
    """`17.4 to 17.8 mm`, which makers write for a range."""
    rest = items[position : position + 3]
    if len(rest) != 3 or not isinstance(rest[1], Connective) or rest[1].text != "to":
        return None
    fix = f"{rest[0].span.text}..{rest[2].span.text}"
    return Fault("unexpected-item", "a range has two points, not `to`", rest[1].span, remedy=f"write `{fix}`")


def _place_without_brackets(element: Element, line: Line) -> Fault | None:
    """`at 260, 170 mm`: the comma parts details, so that the place falls in two."""
    if isinstance(element, str) or element.kind != "place" or len(line.phrases) != 2:
        return None
    pair = [phrase.items[0] for phrase in line.phrases if len(phrase.items) == 1]
    if len(pair) != 2 or not all(type(item).__name__ in ("Number", "Negative") for item in pair):
        return None
    x, y = (item.span.text for item in pair)
    number, _, unit = y.partition(" ")
    fix = f"({x.removesuffix(unit).rstrip() if unit else x}, {number}) {unit or spoken_unit(line.span)}"
    span = pair[0].span.to(pair[1].span)
    return Fault("unexpected-item", f"`{span.text}` is not a place", span, remedy=f"write `{line.word.text} {fix}`")


def _forms(form: FactForm, line: Line) -> str:
    """The forms of a fact, those alone that begin as the line does where some do."""
    first = line.phrases[0].items[:1]
    begun = [pattern for pattern in form.heads if first and pattern.split()[:1] == [first[0].span.text]]
    return " or ".join(f"`{form.word} {shown(pattern)}`".replace(" `", "`") for pattern in begun or form.heads)


def _missing(element: Element, form: FactForm, line: Line, items: tuple[Item, ...]) -> Fault:
    end = items[-1].span if items else line.word.span
    at = Span(end.file, end.end, end.end)
    wanted = f"`{element}`" if isinstance(element, str) else expected(element)
    what = f"`{line.span.text.strip()}` ends where {wanted} is expected" if len(line.span.text) < 60 else f"{wanted} is missing"
    return Fault("incomplete-fact", what, line.word.span if not items else at if at.start else end, remedy=_example(form, line))


def _unexpected(item: Item, element: Element, form: FactForm, line: Line) -> Fault:
    wanted = f"`{element}`" if isinstance(element, str) else expected(element)
    words = [element] if isinstance(element, str) else element.kind.split("|") if "|" in element.kind else []
    for pattern in filter(None, form.heads):
        lead = alternatives(pattern)[0][0]
        words += [lead] if isinstance(lead, str) else lead.kind.split("|") if "|" in lead.kind else []
    following = item.span.file.text[item.span.start : line.span.end].split(",")[0].split()
    glued = joined(following, words)
    near = glued or likely(item.span.text, words)
    edits = (Edit(item.span, near),) if near and not glued else ()
    remedy = f"did you mean `{near}`?" if near else _remedy(item, element, form, line)
    message = f"`{_short(item.span.text)}` stands where {wanted} is expected"
    return Fault("unexpected-item", message, item.span, remedy=remedy, edits=edits)


def _remedy(item: Item, element: Element, form: FactForm, line: Line) -> str:
    """What to write where something of another kind stands: what was meant, where that can be seen."""
    kind = element if isinstance(element, str) else element.kind
    words = item.span.file.text[item.span.start : line.span.end].strip()
    if kind == "text" and len(line.phrases) == 1 and '"' not in words:
        return f'write `{item.span.file.text[line.span.start : item.span.start].strip()} "{words[:40]}"`'
    if kind == "thread" and (meant := thread_remedy(words.split(",")[0], form.word)):
        return meant
    if kind == "standard" and isinstance(item, Designation):
        size, _, length = item.text.partition("x")
        longer = f" and `length {length} mm` after a comma" if length.isdigit() and int(length) >= 5 else ""
        return f"the thread stands in a line of its own, `thread {size}`{longer}; here {_example(form, line)}"
    return _example(form, line)


def _left_over(items: tuple[Item, ...], position: int, form: FactForm, line: Line) -> Fault:
    item = items[position]
    if isinstance(item, Designation) and position and isinstance(items[position - 1], Standard):
        return Fault("unexpected-item", f"`{item.text}` is one part too many", item.span, remedy=_example(form, line))
    remedy = _example(form, line)
    before = items[position - 1] if position else None
    if isinstance(before, Designation) and item.span.text.upper() in SERIES:
        remedy = f"remove it: `{before.span.text}` says which thread it is"
    if isinstance(items[0], Standard) and (meant := thread_meant(item.span.text)):
        standard = item.span.file.text[items[0].span.start : item.span.start].strip()
        remedy = f"a size is written as a thread, `{standard} {meant}`, or left out where a `thread` gives it"
    if position and isinstance(items[position - 1], Designation) and item.span.text in ("x", "X") and position + 1 < len(items):
        remedy = f"a thread is one word: write `{form.word} {items[position - 1].span.text}x{items[position + 1].span.text}`"
    if position and isinstance(items[position - 1], Designation) and item.span.text.upper() in ("LH", "L"):
        remedy = f"a thread is one word: write `{form.word} {items[position - 1].span.text}-LH`"
    return Fault("unexpected-item", f"`{_short(item.span.text)}` is one part too many", item.span, remedy=remedy)


def _example(form: FactForm, line: Line) -> str:
    takes = _forms(form, line)
    return f"write {takes}" + (f", for example `{form.example}`" if form.example else "")


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "…"
