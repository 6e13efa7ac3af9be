"""Arithmetic: exact, with the dimensions checked and one unit covering what the language says it covers."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from trivet.lower.fault import Fault
from trivet.lower.spoken import spoken_unit
from trivet.lower.values import DesignationValue, PlaceValue, Value
from trivet.source import Origin, Span
from trivet.syntax.nodes import (
    Bracket,
    Expression,
    Name,
    Negative,
    Number,
    Operator,
    PlusMinus,
    Product,
    Range,
    Sum,
)
from trivet.units import DIMENSION_WORDS, UNITS, Quantity, number_text

Resolve = Callable[[Name], Value]

# No part of a fixture is longer than this: a larger number is a slip of the keyboard.
LONGEST_MM = 100_000
LARGEST = 10**9
# Exact fractions grow with each product; a plan's numbers have a hundredth of this.
MOST_BITS = 4096


def evaluate(node: Expression, resolve: Resolve, unit: str = "") -> Value:
    """The value of an expression. `unit` covers a bare number where the language spreads one.

    Raises Fault at the part that is wrong.
    """
    match node:
        case Number():
            return _number(node, unit)
        case Name():
            return resolve(node)
        case Negative():
            return _negative(evaluate(node.of, resolve, unit), node.span)
        case Bracket():
            return _bracket(node, resolve, unit)
        case Sum():
            value = evaluate(node.first, resolve)
            for operator, term in node.rest:
                value = _add(value, evaluate(term, resolve), operator, node.first.span, term.span)
            return _bounded(value, node.span)
        case Product():
            value = evaluate(node.first, resolve)
            for operator, factor in node.rest:
                value = _multiply(value, evaluate(factor, resolve), operator, factor.span)
            return _bounded(value, node.span)
        case Range():
            raise Fault("unexpected-item", "a range stands where one number is expected", node.span)
        case PlusMinus():
            raise Fault("unexpected-item", "`+/-` stands where one number is expected", node.span)


def pair(low: Expression, high: Expression, resolve: Resolve, unit: str = "") -> tuple[Value, Value]:
    """Two values of which the second's unit covers the first where that is a bare number."""
    spread = unit or own_unit(high)
    return evaluate(low, resolve, spread if is_bare(low) else ""), evaluate(high, resolve, unit if is_bare(high) else "")


def is_bare(node: Expression) -> bool:
    """Whether it is a number, signed or not, without a unit."""
    while isinstance(node, Negative):
        node = node.of
    return isinstance(node, Number) and node.unit is None


def own_unit(node: Expression) -> str:
    """The unit written at a number, or empty."""
    while isinstance(node, Negative):
        node = node.of
    return node.unit.text if isinstance(node, Number) and node.unit else ""


def _number(node: Number, unit: str) -> Quantity:
    written = node.unit.text if node.unit else unit
    quantity = Quantity(node.value, written, node.span)
    _bounded(quantity, node.span)
    return quantity


def _bounded(value: Value, span: Span) -> Value:
    if isinstance(value, Quantity):
        limit = LONGEST_MM if value.dimension == "length" else LARGEST
        if abs(value.base) > limit:
            shown = "100 m" if value.dimension == "length" else "1000000000"
            raise Fault("number-too-large", f"the number is more than {shown}", span, remedy="check the number and its unit")
        return value.at(span)
    return value


def _negative(value: Value, span: Span) -> Value:
    if isinstance(value, Quantity):
        return Quantity(-value.number, value.unit, span)
    if isinstance(value, PlaceValue) and not value.absolute:
        return PlaceValue(-value.x, -value.y, False)
    raise Fault("mixed-dimensions", "only a number or a step `(x, y)` can be negative", span)


def _bracket(node: Bracket, resolve: Resolve, unit: str) -> Value:
    covering = node.unit.text if node.unit else unit
    values = []
    bare = all(is_bare(member) for member in node.members)
    for member in node.members:
        if covering and not bare and is_bare(member):
            raise Fault(
                "unit-missing",
                f"`{member.span.text}` has no unit: a unit after the bracket covers it only when all members are bare numbers",
                member.span,
                remedy=f"write `{member.span.text} {covering}`",
            )
        values.append(evaluate(member, resolve, covering if bare else ""))
    if len(values) == 1:
        return values[0]
    if len(values) != 2:
        raise Fault("unexpected-item", f"a place has two members, x and y; this one has {len(values)}", node.span)
    numbers: list[Fraction] = []
    for value, member in zip(values, node.members, strict=True):
        if not isinstance(value, Quantity) or value.dimension != "length":
            hint = f"write `({', '.join(m.span.text for m in node.members)}) {spoken_unit(member.span)}`" if bare else ""
            raise Fault("unit-missing", f"`{member.span.text}` is not a length", member.span, remedy=hint)
        numbers.append(value.base)
    return PlaceValue(numbers[0], numbers[1], False)


def _add(left: Value, right: Value, operator: Operator, left_span: Span, right_span: Span) -> Value:
    sign = 1 if operator.text == "+" else -1
    if isinstance(left, PlaceValue) and isinstance(right, PlaceValue):
        if right.absolute and (sign > 0 or not left.absolute):
            raise Fault("mixed-dimensions", "a place takes a step `(x, y)`, not another place", right_span)
        return PlaceValue(left.x + sign * right.x, left.y + sign * right.y, left.absolute and not right.absolute)
    if not isinstance(left, Quantity) or not isinstance(right, Quantity):
        raise Fault("mixed-dimensions", f"{_what(left)} and {_what(right)} do not add", right_span)
    if left.dimension != right.dimension:
        remedy = ""
        if "ratio" in (left.dimension, right.dimension):
            remedy = "write the unit at each number" + ("; a range has two points, as in `17..18 mm`" if sign < 0 else "")
        at = left_span if left.dimension == "ratio" else right_span
        raise Fault("mixed-dimensions", f"{_what(left)} and {_what(right)} do not add", at, remedy=remedy)
    factor = UNITS[left.unit][1]
    return _exact((left.base + sign * right.base) / factor, left.unit, left.origin, right_span)


def _multiply(left: Value, right: Value, operator: Operator, right_span: Span) -> Value:
    if not isinstance(left, Quantity) or not isinstance(right, Quantity):
        raise Fault("mixed-dimensions", f"{_what(left)} and {_what(right)} do not multiply", right_span)
    if operator.text == "/":
        if right.number == 0:
            raise Fault("division-by-zero", f"`{right_span.text}` is 0: nothing divides by it", right_span)
        if right.dimension == left.dimension:
            return _exact(left.base / right.base, "", left.origin, right_span)
        if right.dimension == "ratio":
            return _exact(left.number / right.base, left.unit, left.origin, right_span)
    elif right.dimension == "ratio":
        return _exact(left.number * right.base, left.unit, left.origin, right_span)
    elif left.dimension == "ratio":
        return _exact(left.base * right.number, right.unit, left.origin, right_span)
    word = "times" if operator.text == "*" else "divided by"
    raise Fault("mixed-dimensions", f"{_what(left)} {word} {_what(right)} is not used by any fact", right_span)


def _exact(number: Fraction, unit: str, origin: Origin | None, span: Span) -> Quantity:
    if max(number.numerator.bit_length(), number.denominator.bit_length()) > MOST_BITS:
        message = "the exact value so far has more than a thousand digits"
        raise Fault("number-too-large", message, span, remedy="write a decimal in place of the sum")
    return Quantity(number, unit, origin)


def _what(value: Value) -> str:
    if isinstance(value, PlaceValue):
        return "a place" if value.absolute else "a step"
    if isinstance(value, DesignationValue):
        return f"the designation {value.text}"
    name = DIMENSION_WORDS[value.dimension].split(",")[0]
    return f"{name} (`{number_text(value.number)}{' ' + value.unit if value.unit else ''}`)"
