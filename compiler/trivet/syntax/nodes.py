"""The parsed file: one frozen record for each thing that a line can hold, with a span for each part.

A line is a word and then phrases, separated by commas; a phrase is a row of items. Which items a fact takes is not decided here
but where the fact is lowered, so that the refusal can be worded in the fact's own terms.
"""

from __future__ import annotations

from fractions import Fraction

from trivet.record import record
from trivet.source import SourceFile, Span


@record
class UnitWord:
    """A unit as written: mm, cm, in, thou, deg, percent, N, Nm, kg, per in."""

    text: str
    span: Span


@record
class Number:
    """An exact number, with its own unit if one follows it. The span covers both; `digits` covers the number alone."""

    value: Fraction
    unit: UnitWord | None
    digits: Span
    span: Span


@record
class Name:
    """A name or a word, dotted or not: `deck`, `deck.centre`, `dog.2.1`, `rectangle`."""

    text: str
    span: Span


@record
class Negative:
    """Minus something."""

    of: Expression
    span: Span


@record
class Operator:
    """One of + - * /."""

    text: str
    span: Span


@record
class Sum:
    """first + a - b …; the operators in `rest` are + and -."""

    first: Expression
    rest: tuple[tuple[Operator, Expression], ...]
    span: Span


@record
class Product:
    """first * a / b …; the operators in `rest` are * and /."""

    first: Expression
    rest: tuple[tuple[Operator, Expression], ...]
    span: Span


@record
class Bracket:
    """(a) or (x, y), with the unit that covers bare numbers inside it if one follows."""

    members: tuple[Expression, ...]
    unit: UnitWord | None
    span: Span


@record
class Range:
    """low..high."""

    low: Expression
    high: Expression
    span: Span


@record
class PlusMinus:
    """middle +/- deviation, or +/- deviation alone."""

    middle: Expression | None
    deviation: Expression
    span: Span


@record
class Text:
    """A text in double quotes; `value` is without them."""

    value: str
    span: Span


@record
class Standard:
    """A standard's designation with single spaces: `ISO 4762`, `ASME B18.2.1`, `ISO 7093-1`."""

    text: str
    span: Span


@record
class Designation:
    """A thread or size designation: `M8`, `M8x1.25`, `M8-LH`, `5/16-18`, `10-24`, `ST4.8`."""

    text: str
    span: Span


@record
class RuleName:
    """A hyphenated rule name: `gear-on-thread`."""

    text: str
    span: Span


@record
class Comparator:
    """One of >= <= > < =."""

    text: str
    span: Span


@record
class Connective:
    """A connecting word: and, at, by, with, within, into, of, on, per, to, above, below, over, under, from, is, because, around."""

    text: str
    span: Span


Expression = Number | Name | Negative | Sum | Product | Bracket | Range | PlusMinus
# A unit is an item of its own only where it follows neither a number nor a bracket: `columns length mm`, `units in`.
Item = Expression | Text | Standard | Designation | RuleName | Comparator | Connective | UnitWord


@record
class Phrase:
    """A row of items between commas; empty only as the first phrase of a line that is one word."""

    items: tuple[Item, ...]
    span: Span


@record
class Line:
    """A heading or a fact: its first word and the phrases after it."""

    word: Name
    phrases: tuple[Phrase, ...]
    span: Span


@record
class Block:
    """A heading with the facts below it. `broken` lines had a syntax fault that was reported: what they would say is unknown."""

    heading: Line
    facts: tuple[Line, ...]
    broken: bool
    span: Span


@record
class Document:
    """One parsed file."""

    file: SourceFile
    blocks: tuple[Block, ...]
    broken_headings: int
