"""The nodes that the productions of the grammar stand for, built bottom-up from tokens."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from trivet.record import replace
from trivet.source import SourceFile, Span
from trivet.syntax.nodes import (
    Bracket,
    Comparator,
    Connective,
    Designation,
    Name,
    Negative,
    Number,
    Operator,
    Phrase,
    PlusMinus,
    Product,
    Range,
    RuleName,
    Standard,
    Sum,
    Text,
    UnitWord,
)
from trivet.syntax.tokens import Token

Builder = Callable[[list[Any]], Any]


def number_value(text: str) -> Fraction:
    """The exact value of a number as written: `17.8`, `-5`, `5/16`, `-1-1/8` (minus one and an eighth)."""
    negative = text.startswith("-")
    whole, mixed, fraction = text.lstrip("-").partition("-")
    value = Fraction(whole) + Fraction(fraction) if mixed else Fraction(whole)
    return -value if negative else value


def builders(file: SourceFile) -> dict[str, Builder]:
    """One function for each name the grammar gives to an alternative; each takes the parts and returns the node."""

    def span(token: Token) -> Span:
        return Span(file, token.start, token.start + len(token.text))

    def over(first: Any, last: Any) -> Span:
        return Span(file, _start(first), _end(last))

    def unit_word(parts: list[Any]) -> UnitWord:
        return UnitWord(" ".join(parts[0].text.split()), span(parts[0]))

    def number(parts: list[Any]) -> Number:
        digits = span(parts[0])
        if len(parts) == 1:
            return Number(number_value(parts[0].text), None, digits, digits)
        return Number(number_value(parts[0].text), unit_word(parts[1:]), digits, over(parts[0], parts[1]))

    def bracket(parts: list[Any]) -> Bracket:
        unit = unit_word(parts[3:]) if len(parts) == 4 else None
        return Bracket(tuple(parts[1]), unit, over(parts[0], parts[-1]))

    def chain(kind: type[Sum] | type[Product]) -> Builder:
        def grow(parts: list[Any]) -> Sum | Product:
            left, sign, right = parts
            step = (Operator(sign.text, span(sign)), right)
            if type(left) is kind:
                return replace(left, rest=(*left.rest, step), span=over(left, right))
            return kind(left, (step,), over(left, right))

        return grow

    def phrase(parts: list[Any]) -> Phrase:
        items = parts[0]
        return Phrase(tuple(items), over(items[0], items[-1]))

    return {
        "first_phrase": list,
        "next_phrase": _longer,
        "phrase": phrase,
        "first_item": list,
        "next_item": _longer,
        "first_member": list,
        "next_member": _longer,
        "text": lambda parts: Text(parts[0].text[1:-1], span(parts[0])),
        "standard": lambda parts: Standard(" ".join(parts[0].text.split()), span(parts[0])),
        "designation": lambda parts: Designation(parts[0].text, span(parts[0])),
        "rule_name": lambda parts: RuleName(parts[0].text, span(parts[0])),
        "comparator": lambda parts: Comparator(parts[0].text, span(parts[0])),
        "connective": lambda parts: Connective(parts[0].text, span(parts[0])),
        "unit_word": unit_word,
        "deviation": lambda parts: PlusMinus(None, parts[1], over(parts[0], parts[1])),
        "range": lambda parts: Range(parts[0], parts[2], over(parts[0], parts[2])),
        "plus_minus": lambda parts: PlusMinus(parts[0], parts[2], over(parts[0], parts[2])),
        "sum": chain(Sum),
        "product": chain(Product),
        "negative": lambda parts: Negative(parts[1], over(parts[0], parts[1])),
        "number": number,
        "name": lambda parts: Name(parts[0].text, span(parts[0])),
        "bracket": bracket,
    }


def _longer(parts: list[Any]) -> list[Any]:
    """The list that stands first with the last part added; no one else holds that list."""
    parts[0].append(parts[-1])
    grown: list[Any] = parts[0]
    return grown


def _start(part: Any) -> int:
    start: int = part.start if type(part) is Token else part.span.start
    return start


def _end(part: Any) -> int:
    end: int = part.end if type(part) is Token else part.span.end
    return end
