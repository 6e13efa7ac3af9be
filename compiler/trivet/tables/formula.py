"""Formulas in plain symbols, worked out as they are printed: what an explanation shows is what it computes.

`·` multiplies, `−` subtracts, `^` is a power, `π` the number. Angles are in degrees: `cos(a)`, `acos(x)`. `inv(a)` is the involute
function tan a − a (SDP/SI, Elements of Metric Gear Technology, p. T-33, eq. 3-6), `arcinv(x)` its inverse. `mod(x, y)` lies in [0, y).
`longest(low, high, a, b, …)` and `shortest(low, high, a, b, …)` are the longest and the shortest of a, b, … from low to high.
"""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Callable, Mapping

from trivet.solve.involute import inverse_involute, involute

# A symbol begins with a letter and may hold dots, as `e_corner.nw` does; a word before a bracket is a function.
_SYMBOL = re.compile(r"(?<![\w.])[^\W\d][\w.]*(?!\w*\()")
_SIGNS = str.maketrans({"·": "*", "−": "-"})
# Steps with units of one millionth: what is left of a rounding error must not show.
SHOWN_DECIMALS = 6


def _sum_of_squares(*values: float) -> float:
    return math.sqrt(math.fsum(value * value for value in values))


# Lengths that differ by less than this are one length, mm.
SAME_MM = 1e-6


def _within(low: float, high: float, lengths: tuple[float, ...]) -> list[float]:
    return [length for length in lengths if low - SAME_MM <= length <= high + SAME_MM]


FUNCTIONS: dict[str, Callable[..., float]] = {
    "sin": lambda a: math.sin(math.radians(a)),
    "cos": lambda a: math.cos(math.radians(a)),
    "tan": lambda a: math.tan(math.radians(a)),
    "asin": lambda x: math.degrees(math.asin(min(1.0, max(-1.0, x)))),
    "acos": lambda x: math.degrees(math.acos(min(1.0, max(-1.0, x)))),
    "atan2": lambda y, x: math.degrees(math.atan2(y, x)),
    "inv": lambda a: involute(math.radians(a)),
    "arcinv": lambda x: math.degrees(inverse_involute(x)),
    "sqrt": math.sqrt,
    "abs": abs,
    "floor": math.floor,
    "min": min,
    "max": max,
    "mod": lambda x, y: x % y,
    "rss": _sum_of_squares,
    "longest": lambda low, high, *lengths: max(_within(low, high, lengths), default=0.0),
    "shortest": lambda low, high, *lengths: min(_within(low, high, lengths), default=0.0),
}


def shown(value: float) -> str:
    """A number as it is put in: at most six decimals, no trailing zeros, never minus zero."""
    text = f"{value:.{SHOWN_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text.replace("-", "−")


def put_in(formula: str, values: Mapping[str, float]) -> str:
    """The formula with the numbers in place of the symbols; a negative number stands in brackets."""

    def number(match: re.Match[str]) -> str:
        name = match.group()
        if name not in values:
            return name
        text = shown(values[name])
        return f"({text})" if values[name] < 0.0 and text != "0" else text

    return _SYMBOL.sub(number, formula)


def work_out(formula: str, values: Mapping[str, float]) -> float:
    """The formula's value. Every symbol must have one: a formula is ours, so a missing one is our mistake."""

    def number(match: re.Match[str]) -> str:
        name = match.group()
        return f"({math.pi!r})" if name == "π" else f"({float(values[name])!r})"

    text = _SYMBOL.sub(number, formula).translate(_SIGNS).replace("^", "**")
    return _value(ast.parse(text, mode="eval").body)


def _value(node: ast.expr) -> float:
    if isinstance(node, ast.Constant):
        assert isinstance(node.value, (int, float)), node.value
        return node.value
    if isinstance(node, ast.UnaryOp):
        assert isinstance(node.op, ast.USub), node.op
        return -_value(node.operand)
    if isinstance(node, ast.BinOp):
        left, right = _value(node.left), _value(node.right)
        if isinstance(node.op, ast.Add):
            return left + right
        if isinstance(node.op, ast.Sub):
            return left - right
        if isinstance(node.op, ast.Mult):
            return left * right
        if isinstance(node.op, ast.Div):
            return left / right
        assert isinstance(node.op, ast.Pow), node.op
        return float(left**right)
    assert isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and not node.keywords, ast.dump(node)
    return FUNCTIONS[node.func.id](*(_value(argument) for argument in node.args))
