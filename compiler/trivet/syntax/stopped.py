"""Where the automaton stopped, in the words of the line."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.syntax.driver import Stopped
from trivet.syntax.fault import Fault
from trivet.syntax.tokens import Token

_OPERATORS = frozenset({"PLUS", "MINUS", "STAR", "SLASH", "PLUS_MINUS", "RANGE", "NEGATIVE"})
_NEEDS_VALUE = _OPERATORS | {"OPEN"}
_NOT_VALUES = {
    "STRING": "a text",
    "STANDARD": "a standard",
    "DESIGNATION": "a thread or size",
    "RULE_NAME": "a hyphenated name",
    "COMPARATOR": "a limit",
    "CONNECTIVE": "a connecting word",
    "LONE_UNIT": "a unit",
    "UNIT": "a unit",
}


def stopped_fault(items: Sequence[Token], stopped: Stopped) -> Fault:
    """The fault of a line whose items, the first word taken off, could not be parsed."""
    previous = items[stopped.index]
    if stopped.index + 1 == len(items):
        return Fault("unexpected-item", previous.start, previous.end, f"nothing follows `{previous.shown}`", hint=_after(previous))
    item = items[stopped.index + 1]
    text = item.shown
    # The first word is no value, whatever its kind.
    value_before = stopped.index > 0 and previous.kind in ("NUMBER", "NAME", "UNIT", "CLOSE")
    inside = _depth(items[: stopped.index + 1])
    if item.kind == "COMMA":
        message = f"nothing stands between `{previous.shown}` and the comma"
        return Fault("unexpected-item", previous.start, item.end, message, hint=_after(previous))
    if item.kind == "CLOSE":
        message = "the bracket is empty" if previous.kind == "OPEN" else f"nothing stands between `{previous.shown}` and `)`"
        return Fault("unexpected-item", previous.start, item.end, message, hint="write a number, a length or a name there")
    if item.kind in _OPERATORS and item.kind in ("RANGE", "PLUS_MINUS") and previous.kind not in _NEEDS_VALUE:
        message = f"`{text}` stands twice for one value" if value_before else f"`{text}` has no value before it"
        hint = "a range has one `..`, a deviation one `+/-`" if value_before else "write a number, a length or a name before it"
        return Fault("unexpected-item", item.start, item.end, message, hint=hint)
    if item.kind == "MINUS" and not value_before:
        return _minus(items, stopped.index + 1)
    if item.kind in _OPERATORS:
        message = f"`{text}` has no value before it"
        return Fault("unexpected-item", item.start, item.end, message, hint="write a number, a length or a name before it")
    if inside and item.kind in _NOT_VALUES:
        message = f"`{text}` is {_NOT_VALUES[item.kind]}; a bracket holds numbers, lengths and names"
        return Fault("unexpected-item", item.start, item.end, message, hint="move it before the bracket or behind it")
    if previous.kind in _NEEDS_VALUE:
        what = _NOT_VALUES.get(item.kind, "no value")
        message = f"`{text}` is {what}; a number, a length or a name follows `{previous.shown}`"
        return Fault("unexpected-item", item.start, item.end, message, hint=f"write it after `{previous.shown}`")
    message = f"`{text}` cannot follow `{previous.shown}`"
    return Fault("unexpected-item", item.start, item.end, message, hint="put a comma or an operator between them" if inside else "")


def _minus(items: Sequence[Token], index: int) -> Fault:
    item, following = items[index], items[index + 1] if index + 1 < len(items) else None
    if following is None or following.kind not in ("NUMBER", "NAME", "OPEN"):
        return Fault("unexpected-item", item.start, item.end, "`-` has no value before it and none after it")
    message = "`-` has no value before it; a negative number has no space after its sign"
    return Fault("missing-space", item.start, following.start, message, "-")


def _after(previous: Token) -> str:
    return "write a number, a length or a name after it" if previous.kind in _NEEDS_VALUE else "remove it, or write on"


def _depth(items: Sequence[Token]) -> int:
    return sum(item.kind == "OPEN" for item in items) - sum(item.kind == "CLOSE" for item in items)
