"""Feet of the three kinds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trivet.lower.boards import board_named
from trivet.lower.drives import THREAD
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.hardware import looked_up, nut_of, own_size, screw_of, thread_of
from trivet.lower.keepers import KEEPER_FACTS, KEEPER_WORDS, keeper_screws
from trivet.lower.match import Reading
from trivet.lower.outlines import INLINE, inline_outline
from trivet.lower.spoken import spoken_length, spoken_unit
from trivet.model.foot import Foot, Guide, InsertUse, Keeper, Pad
from trivet.model.hardware import Insert, Nut, Thread
from trivet.record import replace
from trivet.source import Span
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

_PAD_DETAILS = ("drop {drop:length}", "diameter {diameter:length}", "grip")

FOOT = BlockForm(
    "foot",
    ("{name:name}",),
    (
        FactForm("kind", ("{kind:riding|captured_nut|sliding_hex}",), example="kind riding"),
        FactForm("into", ("{board:name}",), example="into base"),
        THREAD,
        FactForm(
            "screw",
            ("{standard:standard}",),
            details=("length {length:length}", "pocket {pocket:length}"),
            example="screw ISO 4017, length 30 mm, pocket 5.8 mm",
        ),
        FactForm("rod", ("{standard:standard}",), details=("length {length:length}",), example="rod DIN 976-1, length 120 mm"),
        FactForm(
            "pad",
            ("{kind:head|dome|swivel|disc}", "disc diameter {diameter:length}"),
            _PAD_DETAILS,
            example="pad dome, drop 3 mm",
            sets="below",
        ),
        FactForm("post", ("{kind:head|dome|swivel|disc}",), _PAD_DETAILS, example="post dome, drop 12 mm", sets="below"),
        FactForm(
            "insert",
            ("tee_nut", "{table:name}"),
            details=("driven_from {driven:topside|underside}", "flush {flush:topside|underside}", "proud {proud:length}"),
            example="insert my_insert, driven_from topside, flush underside",
        ),
        FactForm(
            "nut", ("{standard:standard}",), details=("pocket {face:topside|underside}",), example="nut ISO 4032, pocket underside"
        ),
        FactForm(
            "held_by",
            ("keeper",),
            details=("stock {stock:name}", *INLINE),
            example="held_by keeper, stock ply18, outline rectangle 120 by 60 mm",
        ),
        *KEEPER_FACTS,
        FactForm("rod_stop", ("cross_pin {diameter:length}",), example="rod_stop cross_pin 3 mm"),
        FactForm("socket", ("depth {depth:length}",), example="socket depth 20 mm"),
        FactForm(
            "guide",
            ("clearance {clearance:length}",),
            details=("length {length:length}",),
            example="guide clearance 0.2 mm, length 9 mm",
        ),
        FactForm("climbs", ("from {start:length}",), example="climbs from 2 mm"),
        FactForm("zeroed", ("", "{when:before_gluing|after_gluing}"), example="zeroed before_gluing"),
    ),
    example="foot corner",
)

_NEEDS = {
    "riding": ("screw", "insert"),
    "captured_nut": ("rod", "nut", "held_by", "rod_stop"),
    "sliding_hex": ("screw", "socket", "insert", "held_by"),
}
_HAS_NOT = {
    "riding": ("rod", "nut", "held_by", "rod_stop", "socket", *KEEPER_WORDS),
    "captured_nut": ("screw", "insert", "socket", "guide", "climbs"),
    "sliding_hex": ("rod", "nut", "rod_stop", "climbs"),
}


def lower_foot(reader: Reader, context: Context) -> Foot:
    """A set of feet; each kind needs its own facts and refuses those of the others."""
    reader.need("kind", "thread")
    kind = reader.value("kind", "kind")
    for word in _HAS_NOT[kind]:
        reading = reader.get(word)
        if reading is not None:
            takes = ", ".join(f"`{need}`" for need in _NEEDS[kind])
            raise Fault("fact-of-other-kind", f"a {kind} foot has no `{word}`", reading.line.word.span, remedy=f"it takes {takes}")
    reader.need(*_NEEDS[kind])
    thread = thread_of(context, reader.value("thread", "thread"))
    screw, rod = reader.get("screw"), reader.get("rod")
    if screw is not None and screw.get("length") is None:
        raise Fault(
            "incomplete-fact",
            "the foot's screw has no length: it decides the travel",
            screw.line.span,
            remedy=f"write `{screw.line.span.text}, length {'1-1/4 in' if spoken_unit(screw.line.span) == 'in' else '30 mm'}`",
        )
    if rod is not None and rod.get("length") is None:
        raise Fault(
            "incomplete-fact", "the rod has no length", rod.line.span,
            remedy=f"write `{rod.line.span.text}, length {'4-3/4 in' if spoken_unit(rod.line.span) == 'in' else '120 mm'}`",
        )
    if rod is not None:
        own_size(rod.get("standard"), thread, "rod")
    right_hand = replace(thread, designation=thread.designation.removesuffix("-LH"))
    socket = reader.get("socket")
    stop = reader.get("rod_stop")
    if stop is not None:
        _pin_leaves_rod(stop, thread)
    nut, zeroed, climbs = reader.get("nut"), reader.get("zeroed"), reader.get("climbs")
    for reading in (reader.get("pad"), zeroed) if climbs is not None else ():
        if reading is not None:
            refused = reading.line.word
            message = f"what climbs stands on nothing: it has no `{refused.text}`"
            raise Fault("facts-exclude", message, refused.span, remedy=f"leave out `{refused.text}`, or `climbs`")
    return Foot(
        name=reader.name,
        kind=kind,
        thread=thread,
        screw=screw_of(context, screw.get("standard"), right_hand) if screw else None,
        length=screw.get("length") if screw else rod.get("length") if rod else None,
        pocket=screw.get("pocket") if screw else None,
        pad=_pad(reader),
        insert=_insert(reader.get("insert"), thread, context),
        rod_standard=rod.get("standard").text if rod else "",
        nut=_plain_nut(nut, thread, context) if nut else None,
        nut_pocket=nut.get("face", "underside") if nut else None,
        keeper=_keeper(reader, thread, context),
        rod_stop_diameter=stop.get("diameter") if stop else None,
        socket_depth=socket.get("depth") if socket else None,
        guide=_guide(reader.get("guide")),
        climbs_from=climbs.get("start") if climbs is not None else None,
        zeroed=zeroed is not None,
        zeroed_before_gluing=zeroed is not None and zeroed.get("when") == "before_gluing",
        into=board_named(reader, context, "into", "act on", "on which board it acts"),
        origin=reader.origin,
    )


def _pin_leaves_rod(stop: Reading, thread: Thread) -> None:
    """A cross pin as thick as the rod's core leaves nothing of the rod."""
    pin: Quantity = stop.get("diameter")
    core_mm = thread.minor_mm or thread.major_mm
    if pin.mm >= core_mm:
        raise Fault(
            "value-not-allowed",
            f"the cross pin is {pin} thick; the core of the rod {thread.designation} is {spoken_length(core_mm, stop.span('diameter'))}",
            stop.span("diameter"),
            remedy="a pin of a third of the rod's diameter or less (common practice)",
        )


def _pad(reader: Reader) -> Pad:
    reading = reader.get("pad") or reader.get("post")
    if reading is None:
        return Pad(kind="head", origin=reader.origin)
    return Pad(
        kind=reading.get("kind", "disc"),
        drop=reading.get("drop"),
        diameter=reading.get("diameter"),
        grip=bool(reading.get("grip")),
        origin=reading.line.span,
    )


def _insert(reading: Reading | None, thread: Thread, context: Context) -> InsertUse | None:
    if reading is None:
        return None
    table = reading.get("table")
    if table is None:
        hardware = looked_up(lambda: context.catalog.tee_nut(thread), reading.line.span)
    else:
        hardware = looked_up(lambda: context.catalog.insert(table.text, thread), reading.span("table"))  # type: ignore[assignment]  # an insert, of the wider union of hardware
        context.used.add(table.text)
        _insert_holds(hardware, table.text, reading.span("table"))  # type: ignore[arg-type]  # an insert by the call above
    driven = reading.get("driven")
    if driven is None:
        message = "the insert does not say from which face it is driven: the live thread lies the other way round for each"
        raise Fault("incomplete-fact", message, reading.line.span, remedy="add `driven_from topside` or `driven_from underside`")
    return InsertUse(
        hardware=hardware,
        driven_from=driven,
        flush=reading.get("flush", driven),
        proud=reading.get("proud"),
        origin=reading.line.span,
    )


def _insert_holds(insert: Insert, table: str, span: Span) -> None:
    """The figures of a row must agree: the live thread within the insert, the hole narrower than its outside."""
    what = f"the insert {insert.thread.designation} of `{table}`"
    length = spoken_length(insert.length_mm, span)
    if not 0 <= insert.live_from_mm < insert.live_to_mm:
        message = f"{what} has a live thread from {spoken_length(insert.live_from_mm, span)} to {spoken_length(insert.live_to_mm, span)}"
        raise Fault(
            "value-not-allowed", message, span, remedy="count both from the driving end, in the row: `live_from` is the smaller"
        )
    if insert.live_to_mm > insert.length_mm + 1e-6:
        message = f"{what} is {length} long; its live thread ends at {spoken_length(insert.live_to_mm, span)}"
        raise Fault("value-not-allowed", message, span, remedy=f"`live_to` is {length} at most: measure again")
    if insert.hole_mm >= insert.outside.least:
        outside, hole = spoken_length(insert.outside.least, span), spoken_length(insert.hole_mm, span)
        message = f"{what} is {outside} outside; its hole of {hole} leaves it nothing to hold by"
        raise Fault("value-not-allowed", message, span, remedy="`hole` is the core of its outer thread, which is narrower")


def _plain_nut(reading: Reading, thread: Thread, context: Context) -> Nut:
    nut = nut_of(context, reading.get("standard"), thread, reading.line.span)
    assert isinstance(nut, Nut)
    return nut


def _keeper(reader: Reader, thread: Thread, context: Context) -> Keeper | None:
    reading = reader.get("held_by")
    if reading is None:
        return None
    stock = reading.get("stock")
    if stock is None:
        sheets = context.collected.of_kind("sheet")
        name = sheets[0].name.text if sheets else "ply18"
        raise Fault("incomplete-fact", "the keeper has no stock", reading.line.span, remedy=f"add `stock {name}`")
    context.noun(context.refer(stock, "sheet"))
    screws = keeper_screws(reader, thread, context)
    return Keeper(stock=stock, outline=inline_outline(reading), screws=screws, origin=reading.line.span)


def _guide(reading: Reading | None) -> Guide | None:
    if reading is None:
        return None
    if reading.get("length") is None:
        raise Fault(
            "incomplete-fact",
            "a guide bore states its length",
            reading.line.span,
            remedy="write `guide clearance 0.2 mm, length 9 mm`",
        )
    return Guide(clearance=reading.get("clearance"), length=reading.get("length"), origin=reading.line.span)
