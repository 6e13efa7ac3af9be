"""The fixture's heading block and parameters."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trivet.lower.evaluate import evaluate
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.match import read_phrase
from trivet.lower.values import DesignationValue, PlaceValue, Value
from trivet.model.intent import Parameter
from trivet.record import record
from trivet.source import SourceFile, Span
from trivet.syntax.nodes import Comparator, Designation, Expression, Line, Name
from trivet.syntax.parse import parse
from trivet.units import Quantity, number_text

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

FIXTURE = BlockForm(
    "fixture",
    ("{name:name}",),
    (
        FactForm("title", ("{text:text}",), example='title "Outfeed riser"'),
        FactForm("revision", ("{text:text}",), example='revision "A"'),
        FactForm("hardware", ("{system:metric|inch}",), example="hardware metric"),
        FactForm("units", ("mm", "in"), example="units in"),
        FactForm("licence", ("{text:text}",), example='licence "CC0 1.0"'),
        FactForm("author_note", ("{text:text}",), example='author_note "cut both hubs on one sheet"'),
    ),
    example="fixture outfeed_riser",
)
PARAMETER = BlockForm(
    "parameter",
    ("{name:name} {value:value}", "{name:name} one_of {value:thread}"),
    details=("within {range:range}", "{more:thread}"),
    example="parameter play 0.5 mm, within 0.4..0.8 mm",
)


@record
class ParameterNoun:
    """A lowered parameter: its value in use, and the record of it."""

    value: Value
    record: Parameter


def lower_fixture(reader: Reader, context: Context) -> dict[str, Any]:
    """The facts of the heading block."""
    unit = reader.get("units")
    hardware = reader.value("hardware", "system", "metric")
    stated_unit = {0: "mm", 1: "in"}.get(unit.which) if unit else None
    return {
        "name": reader.name.text,
        "title": reader.value("title", "text", ""),
        "revision": reader.value("revision", "text", ""),
        "hardware": hardware,
        "units": stated_unit or ("in" if hardware == "inch" else "mm"),
        "licence": reader.value("licence", "text", ""),
        "author_note": reader.value("author_note", "text", ""),
        "origin": reader.origin,
    }


def lower_parameter(reader: Reader, context: Context) -> ParameterNoun:
    """A parameter with the value that `--set` gives it, else its own; a range or a choice bounds both."""
    line = reader.entry.heading
    name = reader.name
    items = line.phrases[0].items[1:]
    if not items:
        raise Fault(
            "incomplete-fact", f"the parameter `{name.text}` has no value", reader.origin, remedy=f"write `{PARAMETER.example}`"
        )
    choices: tuple[str, ...] = ()
    bounds: tuple[Quantity, Quantity] | None = None
    value: Value
    if isinstance(items[0], Name) and items[0].text == "one_of":
        choices = _choices(line, context)
        value = DesignationValue(choices[0], line.span)
    else:
        value = _value(items, context, line)
        for phrase in line.phrases[1:]:
            slots = read_phrase(phrase, ("within {range:range}",), context.resolve, "parameter", PARAMETER.example)
            bounds = slots["range"]
    stated = context.settings.get(name.text)
    if stated is not None:
        value = from_setting(name.text, stated, value, context)
        context.used.add(name.text)
    within(name.text, value, bounds, choices, stated is not None)
    low, high = (bounds[0].value, bounds[1].value) if bounds else (None, None)
    text = str(value) if isinstance(value, Quantity) else value.text if isinstance(value, DesignationValue) else ""
    unit = value.unit if isinstance(value, Quantity) else ""
    return ParameterNoun(
        value,
        Parameter(name=name, text=text, unit=unit, low=low, high=high, choices=choices, origin=reader.origin, bounds=bounds),
    )


def _value(items: tuple[Any, ...], context: Context, line: Line) -> Value:
    if isinstance(items[0], Comparator) and len(items) == 2:
        message = f"`{items[0].span.text}` stands between a name and its value"
        named = line.phrases[0].items[0].span.text
        raise Fault("stray-character", message, items[0].span, remedy=f"write `parameter {named} {items[1].span.text}`")
    if len(items) != 1:
        raise Fault(
            "unexpected-item", f"`{items[1].span.text}` is one part too many", items[1].span, remedy=f"write `{PARAMETER.example}`"
        )
    item = items[0]
    if isinstance(item, Designation):
        return DesignationValue(item.text, item.span)
    if not isinstance(item, Expression):
        raise Fault("unexpected-item", f"`{item.span.text}` is not a value", item.span, remedy=f"write `{PARAMETER.example}`")
    value = evaluate(item, context.resolve)
    if isinstance(value, PlaceValue) and not value.absolute:
        return value
    return value


def _choices(line: Line, context: Context) -> tuple[str, ...]:
    first = line.phrases[0].items[2:]
    parts = [*first, *(item for phrase in line.phrases[1:] for item in phrase.items)]
    for item in parts:
        if not isinstance(item, Designation):
            raise Fault(
                "unexpected-item",
                f"`{item.span.text}` is not a thread",
                item.span,
                remedy="write as in `parameter foot_thread one_of M8, 5/16-18`",
            )
    if not parts:
        raise Fault(
            "incomplete-fact",
            "`one_of` is followed by threads",
            line.span,
            remedy="write as in `parameter foot_thread one_of M8, 5/16-18`",
        )
    return tuple(item.text for item in parts if isinstance(item, Designation))


def from_setting(name: str, text: str, default: Value, context: Context) -> Value:
    """The value that `--set` gives to `name`; it must be of the kind of `default`."""
    source = SourceFile(f"--set {name}", f"parameter {name} {text}\n")
    document, found = parse(source)
    if found or not document.blocks:
        detail = found[0].message if found else "it is not a value"
        remedy = _as_setting(name, found[0].remedy) if found else ""
        span = found[0].span if found and found[0].span else Span(source, 0, len(source.text) - 1)
        raise Fault("setting-form", f"`--set {name}` cannot be read: {detail}", span, remedy=remedy)
    line = document.blocks[0].heading
    if len(document.blocks) > 1 or document.blocks[0].facts or len(line.phrases) > 1 or len(line.phrases[0].items) != 2:
        remedy = f'write `--set "{name}={default}"`' if isinstance(default, Quantity) else ""
        raise Fault("setting-form", f"`--set {name}` takes one value and nothing else", line.span, remedy=remedy)
    value = _value(line.phrases[0].items[1:], context, line)
    if type(value) is not type(default) or (
        isinstance(value, Quantity) and isinstance(default, Quantity) and value.dimension != default.dimension
    ):
        shown = number_text(value.number) if isinstance(value, Quantity) else ""
        bare = isinstance(value, Quantity) and isinstance(default, Quantity) and not value.unit and default.unit
        if bare and isinstance(default, Quantity):
            message = f"`--set {name}` has no unit; the file has `{default}`"
            raise Fault("setting-form", message, line.span, remedy=f'write `--set "{name}={shown} {default.unit}"`')
        raise Fault(
            "setting-form", f"`--set {name}` is of another kind than the parameter", line.span, remedy=f"the file has `{default}`"
        )
    return value


def _as_setting(name: str, remedy: str) -> str:
    """A remedy for the parameter's line, said for the command line."""
    before = f"write `parameter {name} "
    return f'write `--set "{name}={remedy.removeprefix(before).removesuffix("`")}"`' if remedy.startswith(before) else remedy


def within(name: str, value: Value, bounds: tuple[Quantity, Quantity] | None, choices: tuple[str, ...], is_set: bool) -> None:
    """Refuse a value outside its range or choice."""
    if bounds is not None and isinstance(value, Quantity):
        low, high = bounds
        if low.dimension != value.dimension:
            raise Fault("mixed-dimensions", f"the range of `{name}` is of another kind than its value", _span(low))
        if not low.base <= value.base <= high.base:
            rule = "setting-out-of-range" if is_set else "parameter-out-of-range"
            remedy = f"a value from {low} to {high}"
            raise Fault(rule, f"`{name}` is {value}; {low} to {high} is allowed", _span(value), remedy=remedy)
    if choices and isinstance(value, DesignationValue) and value.text not in choices:
        listed = ", ".join(choices)
        raise Fault(
            "setting-out-of-range", f"`{name}` is {value.text}; one of {listed} is allowed", value.span, remedy=f"one of {listed}"
        )


def _span(quantity: Quantity) -> Span:
    assert isinstance(quantity.origin, Span)
    return quantity.origin
