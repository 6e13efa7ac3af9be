"""Turns the validation library's errors into our words, at the span of the part that broke the invariant."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trivet.diagnostics import Diagnostic
from trivet.model.base import Band, Point, Ref
from trivet.source import Span
from trivet.units import Quantity

if TYPE_CHECKING:
    from pydantic import ValidationError

    from trivet.lower.reader import Reader


def invalid(error: ValidationError, reader: Reader) -> list[Diagnostic]:
    """One diagnostic for each broken field, at the value's own place where it has one."""
    found = []
    for item in error.errors(include_url=False):
        field = ".".join(str(part) for part in item["loc"])
        words = item["msg"].removeprefix("Value error, ")
        span = _place(item.get("input"), str(item["loc"][0]) if item["loc"] else "", reader)
        message = f"`{field.replace('_mm', '')}` of `{reader.name.text}` {words}"
        found.append(Diagnostic("value-not-allowed", "error", message, span))
    return found


def _place(value: Any, field: str, reader: Reader) -> Span:
    if isinstance(value, (Quantity, Ref, Point, Band)) and isinstance(value.origin, Span):
        return value.origin
    for word in (field, field.removesuffix("_mm")):
        readings = reader.readings.get(word)
        if readings:
            return readings[0].line.span
    return reader.origin
