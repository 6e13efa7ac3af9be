"""What the board serves and what the author wants: workpieces, cut zones, loads, requirements, acceptances, the drawer, helpers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.match import Reading, read_heading
from trivet.lower.places import INTO, face_and_board
from trivet.model.board import CutZone, Load, Workpiece
from trivet.model.intent import Accept, Have, Helper, Require
from trivet.source import Span
from trivet.syntax.nodes import Line, Name
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

WORKPIECE = BlockForm(
    "workpiece",
    ("{name:name}",),
    (
        FactForm("thickness", ("{value:spread}",), example="thickness 18..19 mm"),
        FactForm("on", ("bench", "riser {riser:length}"), example="on riser 24 mm"),
    ),
    named="maybe",
    example="workpiece",
)
CUT_ZONE = BlockForm(
    "cut_zone",
    ("{name:name}",),
    (
        INTO,
        FactForm(
            "edge",
            ("{edge:left|right|near|far}",),
            details=("width {width:length}", "depth {depth:length}"),
            example="edge left, width 40 mm, depth 8 mm",
        ),
    ),
    named="maybe",
    example="cut_zone",
)
LOAD = BlockForm(
    "load",
    ("{name:name}",),
    (
        FactForm(
            "force",
            ("{force:force} at {at:place}", "{force:force} at {board:name} {at:place}"),
            details=("down", "along {axis:x|y}"),
            example="force 60 N at (20, 175) mm, down",
        ),
    ),
    named="maybe",
    example="load",
)
REQUIRE = BlockForm(
    "require",
    (
        "travel {sign:comparator} {value:length}",
        "height covers {range:range}",
        "lift_per_turn {sign:comparator} {value:length}",
        "lift_per_turn within {range:range}",
        "flush within {value:length}",
        "face_overlap {sign:comparator} {value:length}",
        "turns_for_travel {sign:comparator} {value:ratio}",
        "turns_for_travel within {range:range}",
        "binding {sign:comparator} {value:ratio}",
    ),
    named="none",
    example="require travel >= 8 mm",
)
ACCEPT = BlockForm(
    "accept",
    ("{rule:rule} because {because:text}", "{rule:rule} on {on:path} because {because:text}"),
    named="none",
    example='accept gear-on-thread on pin because "turned a few times a day"',
)
HAVE = BlockForm(
    "have",
    ("{count:count} of {standard:standard}",),
    details=("length {length:length}",),
    named="none",
    example="have 6 of ISO 4017 M8, length 30 mm",
)
HELPER = BlockForm("helper", ("{kind:guide_block|shims|centring_bar}",), named="none", example="helper shims")

_KINDS = (
    "travel",
    "height_covers",
    "lift_per_turn",
    "lift_per_turn",
    "flush_within",
    "face_overlap",
    "turns_for_travel",
    "turns_for_travel",
    "binding",
)


def lower_workpiece(reader: Reader, context: Context) -> Workpiece:
    """A thickness range, on the bench or on a riser."""
    reader.need("thickness")
    band = reader.value("thickness", "value")
    riser: Quantity | None = reader.value("on", "riser")
    return Workpiece(
        name=reader.name, least_mm=band.least, most_mm=band.most, riser_mm=riser.mm if riser else 0.0, origin=band.origin
    )


def lower_cut_zone(reader: Reader, context: Context) -> CutZone:
    """A strip along an edge."""
    boards = context.collected.of_kind("board")
    edge = reader.get("edge")
    if edge is None:
        reader.need("edge")
        raise AssertionError
    for slot in ("width", "depth"):
        if edge.get(slot) is None:
            raise Fault(
                "incomplete-fact",
                f"the cut zone has no {slot}",
                edge.line.span,
                remedy="write `edge left, width 40 mm, depth 8 mm`",
            )
    if reader.get("into") is not None or len(boards) != 1:
        board, _, _ = face_and_board(reader, context, "topside")
        name = board.name
    else:
        name = boards[0].name
        context.used.add(name.text)
    return CutZone(
        name=reader.name, into=name, edge=edge.get("edge"), width=edge.get("width"), depth=edge.get("depth"), origin=edge.line.span
    )


def lower_load(reader: Reader, context: Context) -> Load:
    """A force at a place."""
    reader.need("force")
    force = reader.get("force")
    assert force is not None
    frame = force.get("board")
    point = context.world(force.get("at"), force.span("at"), context.board_of(frame) if frame else None)
    axis = force.get("axis")
    if axis and force.get("down"):
        raise Fault("facts-exclude", "`down` and `along` exclude each other", force.line.span)
    return Load(
        name=reader.name, force=force.get("force"), x_mm=point.x, y_mm=point.y, direction=axis or "down", origin=force.line.span
    )


def lower_require(reader: Reader, context: Context) -> Require:
    """One figure that must be reached."""
    reading = read_heading(reader.entry.heading, REQUIRE, context.resolve)
    kind = _KINDS[reading.which]
    low, high, strict, unit = _bounds(reading, kind)
    return Require(kind=kind, low=low, high=high, unit=unit, strict=strict, origin=reading.line.span)  # type: ignore[arg-type]  # the form allows only these kinds


def _bounds(reading: Reading, kind: str) -> tuple[float | None, float | None, bool, str]:
    wanted = "ratio" if kind in ("turns_for_travel", "binding") else "length"
    span = reading.get("range")
    if span is not None:
        low, high = span
        if low.dimension != wanted:
            raise Fault("wrong-dimension", f"`{low}` is not a {wanted}", _place(low), remedy=f"for example `{REQUIRE.example}`")
        return low.value, high.value, False, high.unit
    value: Quantity = reading.get("value")
    sign = reading.get("sign", "<=")
    if sign == "=":
        raise Fault(
            "unexpected-item",
            "a requirement has a side: `>=` or `<=`, or `within` a range",
            reading.span("sign"),
            remedy="for example `require travel >= 8 mm`",
        )
    if sign in (">=", ">"):
        return value.value, None, sign == ">", value.unit
    return None, value.value, sign == "<", value.unit


def _place(quantity: Quantity) -> Span:
    assert isinstance(quantity.origin, Span)
    return quantity.origin


def lower_accept(reader: Reader, context: Context) -> Accept:
    """An acceptance with its reason."""
    _rule_is_one_word(reader.entry.heading)
    reading = read_heading(reader.entry.heading, ACCEPT, context.resolve)
    because = reading.get("because")
    if not because.strip():
        raise Fault(
            "incomplete-fact",
            "an acceptance needs a reason",
            reading.span("because"),
            remedy='for example `because "turned a few times a day"`',
        )
    return Accept(rule=reading.get("rule"), on=reading.get("on"), because=because, origin=reading.line.span)


def _rule_is_one_word(heading: Line) -> None:
    """`accept short engagement because`: a rule's name is joined by hyphens."""
    words: list[Name] = []
    for item in heading.phrases[0].items:
        if not isinstance(item, Name) or item.text in ("because", "on"):
            break
        words.append(item)
    if len(words) > 1:
        span = words[0].span.to(words[-1].span)
        joined = "-".join(word.text for word in words)
        raise Fault(
            "unexpected-item", f"`{span.text}` is not one word", span, remedy=f"write `accept {joined} because` and the reason"
        )


def lower_have(reader: Reader, context: Context) -> Have:
    """What lies in the drawer."""
    reading = read_heading(reader.entry.heading, HAVE, context.resolve)
    use = reading.get("standard")
    if not use.size:
        raise Fault("incomplete-fact", "the hardware has no size", use.span, remedy=f"write `{HAVE.example}`")
    length: Quantity | None = reading.get("length")
    count = reading.get("count")
    if count.number > 10_000:
        raise Fault("value-not-allowed", f"{count} pieces are stated; at most 10000 are allowed", reading.span("count"))
    name = f"{use.text} {use.product}" if use.product else use.text
    return Have(
        quantity=int(count.number),
        standard=name,
        thread=use.size,
        length_mm=length.mm if length else None,
        origin=reading.line.span,
    )


def lower_helper(reader: Reader, context: Context) -> Helper:
    """A shop aid cut with the parts."""
    reading = read_heading(reader.entry.heading, HELPER, context.resolve)
    return Helper(kind=reading.get("kind"), origin=reading.line.span)
