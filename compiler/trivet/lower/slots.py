"""Reads one slot of a pattern: a name, a text, a standard, a thread or a number of the dimension that the slot asks for."""

from __future__ import annotations

import re
from typing import Any

from trivet.diagnostics import Edit
from trivet.lower.evaluate import Resolve, evaluate, is_bare, own_unit, pair
from trivet.lower.fault import Fault
from trivet.lower.forms import Slot
from trivet.lower.spoken import spoken_unit
from trivet.lower.values import DesignationValue, PlaceValue, StandardUse
from trivet.model.base import Band, Ref
from trivet.source import Span
from trivet.syntax.nodes import (
    Comparator,
    Connective,
    Designation,
    Item,
    Name,
    PlusMinus,
    Range,
    RuleName,
    Standard,
    Text,
)
from trivet.units import DIMENSION_WORDS, Quantity

MISSING = object()
# A left-hand thread as it is written on bags.
_LEFT_HAND = re.compile(r"(M[0-9]+(?:x[0-9.]+)?)_?(?:LH|L|lh)\Z")

_EXPRESSIONS = ("Number", "Name", "Negative", "Sum", "Product", "Bracket")
_DIMENSIONS = {"length": "length", "angle": "angle", "ratio": "ratio", "count": "ratio", "force": "force",
               "torque": "torque", "mass": "mass", "per_length": "per length"}  # fmt: skip
_USUAL_UNIT = {"length": "mm", "angle": "deg", "force": "N", "torque": "Nm", "mass": "kg", "per length": "per in"}


def read_slot(slot: Slot, items: tuple[Item, ...], position: int, resolve: Resolve, hint: str, example: str) -> tuple[Any, int]:
    """The value of one slot and how many items it takes; MISSING and 0 where something else stands there. Raises Fault."""
    item = items[position]
    kind = slot.kind
    if "|" in kind:
        if isinstance(item, (Name, Connective)) and item.text in kind.split("|"):
            return item.text, 1
        return MISSING, 0
    if kind == "name":
        if isinstance(item, Name):
            if "." in item.text:
                raise Fault("name-form", f"`{item.text}` has a point in it; a plain name is expected", item.span)
            return Ref(item.text, item.span), 1
        return MISSING, 0
    if kind == "path":
        return (Ref(item.text, item.span), 1) if isinstance(item, Name) else (MISSING, 0)
    if kind == "text":
        return (item.value, 1) if isinstance(item, Text) else (MISSING, 0)
    if kind == "rule":
        return (Ref(item.text, item.span), 1) if isinstance(item, (RuleName, Name)) else (MISSING, 0)
    if kind == "comparator":
        return (item.text, 1) if isinstance(item, Comparator) else (MISSING, 0)
    if kind == "standard":
        return _standard(items, position)
    if kind == "thread":
        return _thread(item, resolve)
    return _number_slot(kind, item, resolve, hint, example)


def _number_slot(kind: str, item: Item, resolve: Resolve, hint: str, example: str) -> tuple[Any, int]:
    if kind == "range":
        return (_range(item, resolve), 1) if isinstance(item, Range) else (MISSING, 0)
    if kind == "deviation":
        if isinstance(item, PlusMinus) and item.middle is None:
            return _dimensioned("length", evaluate(item.deviation, resolve), item.span), 1
        return MISSING, 0
    if kind == "spread" and isinstance(item, (PlusMinus, Range)):
        return _band(item, resolve), 1
    if type(item).__name__ not in _EXPRESSIONS:
        if isinstance(item, Designation) and kind == "value":
            return DesignationValue(item.text, item.span), 1
        return MISSING, 0
    if isinstance(item, Name) and kind not in ("value",) and hint == "" and "." not in item.text:
        # A word that is no declared name is more likely a misplaced word than a number: the pattern's message fits better.
        value = resolve(item)
    else:
        value = evaluate(item, resolve, hint if is_bare(item) else "")  # type: ignore[arg-type]  # is_bare leaves only what evaluate takes
    if kind == "value" or kind == "number":
        return value, 1
    if kind == "place":
        if not isinstance(value, PlaceValue):
            raise Fault(
                "unexpected-item",
                f"`{item.span.text}` is not a place",
                item.span,
                remedy="a place is `(120, 80) mm` or `deck.centre`",
            )
        return value, 1
    if kind == "spread":
        length = _dimensioned("length", value, item.span)
        return Band(length.mm, length.mm, length.mm, length.origin), 1
    quantity = _dimensioned(_DIMENSIONS[kind], value, item.span)
    if kind == "count" and (quantity.number.denominator != 1 or quantity.number < 0 or quantity.unit):
        whole = quantity.number.numerator // quantity.number.denominator
        remedy = f"write {whole} or {whole + 1}" if whole > 0 and not quantity.unit else f"write a whole number: `{example}`"
        raise Fault("not-a-count", f"`{item.span.text}` is not a count", item.span, remedy=remedy)
    return quantity, 1


def _dimensioned(dimension: str, value: Any, span: Span) -> Quantity:
    if isinstance(value, Quantity) and value.dimension == dimension:
        return value.at(span)
    wanted = DIMENSION_WORDS[dimension]
    if isinstance(value, Quantity) and value.dimension == "ratio" and not value.unit:
        unit = spoken_unit(span) if dimension == "length" else _USUAL_UNIT[dimension]
        if unit == "in" and span.file.text[: span.start].rstrip().endswith("module"):
            # Modules are in millimetres everywhere; whoever speaks inches most likely means teeth per inch.
            raise Fault(
                "unit-missing", f"`{span.text}` has no unit; expected {wanted.split(',')[0]}", span,
                remedy=f"write `diametral_pitch {span.text} per in` for teeth per inch of diameter, or `module {span.text} mm`",
            )  # fmt: skip
        raise Fault(
            "unit-missing",
            f"`{span.text}` has no unit; expected {wanted.split(',')[0]}",
            span,
            remedy=f"write `{span.text} {unit}`",
            edits=(Edit(Span(span.file, span.end, span.end), f" {unit}"),),
        )
    if isinstance(value, Quantity) and dimension == "ratio":
        raise Fault(
            "unit-on-count",
            f"`{span.text}` has a unit; a bare number is expected",
            span,
            remedy=f"write `{span.text.rsplit(' ', 1)[0]}`",
            edits=(Edit(span, span.text.rsplit(" ", 1)[0]),),
        )
    raise Fault("wrong-dimension", f"`{span.text}` is not {wanted}", span)


def _range(item: Range, resolve: Resolve) -> tuple[Quantity, Quantity]:
    low, high = pair(item.low, item.high, resolve)
    if not isinstance(low, Quantity) or not isinstance(high, Quantity) or low.dimension != high.dimension:
        raise Fault("mixed-dimensions", f"the ends of `{item.span.text}` are not of one kind", item.span)
    if low.base > high.base:
        raise Fault(
            "range-reversed",
            f"`{item.span.text}` runs downwards",
            item.span,
            remedy=f"write `{_turned_round(item)}`",
        )
    return low.at(item.low.span), high.at(item.high.span)


def _turned_round(item: Range) -> str:
    """The range with its ends exchanged; a unit that covers both stays at the end."""
    unit = own_unit(item.high) if is_bare(item.low) else ""
    high = item.high.span.text.removesuffix(unit).rstrip()
    return f"{high}..{item.low.span.text}" + (f" {unit}" if unit else "")


def _as_in(span: Span) -> str:
    return "0.703 +/- 0.008 in" if spoken_unit(span) == "in" else "17.8 +/- 0.2 mm"


def _band(item: PlusMinus | Range, resolve: Resolve) -> Band:
    if isinstance(item, Range):
        low, high = _range(item, resolve)
        least, most = _dimensioned("length", low, item.low.span).mm, _dimensioned("length", high, item.high.span).mm
        return Band((least + most) / 2, least, most, item.span)
    if item.middle is None:
        raise Fault(
            "unexpected-item",
            "the middle value is missing before `+/-`",
            item.span,
            remedy=f"write it as in `{_as_in(item.span)}`",
        )
    middle, deviation = pair(item.middle, item.deviation, resolve)
    if isinstance(deviation, Quantity) and deviation.unit and deviation.dimension != "length":
        message = f"the deviation `{item.deviation.span.text}` is not a length"
        raise Fault("wrong-dimension", message, item.deviation.span, remedy=f"write it as in `{_as_in(item.span)}`")
    mean = _dimensioned("length", middle, item.middle.span)
    plus = _dimensioned("length", deviation, item.deviation.span)
    if plus.base < 0:
        raise Fault("number-form", f"the deviation `{item.deviation.span.text}` is negative", item.deviation.span)
    exact = mean.base
    return Band(float(exact), float(exact - plus.base), float(exact + plus.base), item.span)


def _standard(items: tuple[Item, ...], position: int) -> tuple[Any, int]:
    item = items[position]
    if not isinstance(item, Standard):
        return MISSING, 0
    product, size, size_span, taken = "", "", None, 1
    for follower in items[position + 1 :]:
        if isinstance(follower, Name) and not product and not size and not _is_size(follower):
            product = follower.text
        elif (isinstance(follower, Designation) or _is_size(follower)) and not size:
            size, size_span = follower.text, follower.span  # type: ignore[union-attr]  # matched as a word above
        else:
            break
        taken += 1
    return StandardUse(item.text, item.span, product, size, size_span), taken


def _is_size(item: Item) -> bool:
    return isinstance(item, Name) and item.text.startswith("no_")


def _thread(item: Item, resolve: Resolve) -> tuple[Any, int]:
    if isinstance(item, Designation) or _is_size(item):
        return DesignationValue(item.text, item.span), 1  # type: ignore[union-attr]  # matched as a designation above
    if isinstance(item, Name):
        left = _LEFT_HAND.match(item.text)
        try:
            value = resolve(item)
        except Fault:
            if left is None:
                raise
            message = f"`{item.text}` is not a thread: left hand stands after a hyphen"
            raise Fault("unexpected-item", message, item.span, remedy=f"write `{left[1]}-LH`") from None
        if isinstance(value, DesignationValue):
            return DesignationValue(value.text, item.span), 1
        raise Fault(
            "wrong-dimension",
            f"`{item.text}` is not a thread",
            item.span,
            remedy="a thread is `M8`, `M8x1` or `5/16-18`",
        )
    return MISSING, 0
