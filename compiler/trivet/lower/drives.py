"""Drives and pivots: what turns the hub and what idlers turn on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from trivet.catalog import NoRow
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.hardware import looked_up, nut_of, screw_of, thread_of, washer_of
from trivet.lower.match import Reading
from trivet.lower.spoken import spoken_length
from trivet.model.hardware import Nut, TeeNut, Thread, Washer
from trivet.model.train import Dial, Drive, DriveNut, Pivot
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

THREAD = FactForm("thread", ("{thread:thread}",), example="thread M8")
_SCREW_DETAILS = ("head recessed {recessed:length}", "length {length:length}")
_NUT_HEADS = ("{standard:standard}", "tee_nut")
_NUT_DETAILS = ("{side:above|below} gear", "{side:above|below} board", "recessed {recessed:length}", "round {round:length}")
_LOCKED = "locked_by {lock:thread_locker|jam_nut|cross_pin}"
_WASHER_DETAILS = ("above and below", "{side:above|below}")

DRIVE = BlockForm(
    "drive",
    ("{name:name}",),
    (
        THREAD,
        FactForm("bolt", ("{standard:standard}",), _SCREW_DETAILS, example="bolt ISO 4762, head recessed 9 mm"),
        FactForm("fit", ("{fit:fine|medium|coarse}",), example="fit fine"),
        FactForm("nut", _NUT_HEADS, _NUT_DETAILS, example="nut tee_nut, above gear"),
        FactForm("jam_nut", _NUT_HEADS, _NUT_DETAILS, example="jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm"),
        FactForm("washers", ("{standard:standard}",), _WASHER_DETAILS, example="washers ISO 7089, above"),
        FactForm("play", ("{value:length}",), example="play 0.2 mm"),
        FactForm("dial", ("marks {marks:count}",), details=("diameter {diameter:length}",), example="dial marks 8, diameter 40 mm"),
        FactForm("brake", ("",), example="brake"),
        FactForm("key", ("{text:text}",), example='key "6 mm hexagon key"'),
        FactForm(
            "turned_with", ("{how:hand|driver}",), ("torque {torque:torque}",), example="turned_with driver, torque 6 Nm"
        ),
        FactForm("stop", ("", "{standard:standard}", _LOCKED), (_LOCKED,), example="stop ISO 4035, locked_by jam_nut"),
    ),
    example="drive crank",
)
PIVOT = BlockForm(
    "pivot",
    ("{name:name}",),
    (
        THREAD,
        FactForm("screw", ("{standard:standard}",), _SCREW_DETAILS, example="screw ISO 7049, head recessed 7 mm", sets="fastener"),
        FactForm("bolt", ("{standard:standard}",), _SCREW_DETAILS, example="bolt ISO 4017, head recessed 6 mm", sets="fastener"),
        FactForm("nut", _NUT_HEADS, _NUT_DETAILS, example="nut tee_nut, above board"),
        FactForm("drill", ("{value:length}",), example="drill 5 mm"),
        FactForm("washers", ("{standard:standard}",), _WASHER_DETAILS, example="washers ISO 7093-1 M6, above and below"),
        FactForm("sleeve", ("outside {outside:length}",), example="sleeve outside 8 mm", sets="bearing"),
        FactForm("shoulder", ("{diameter:length}",), example="shoulder 10 mm", sets="bearing"),
        FactForm("play", ("{value:length}",), example="play 0.3 mm"),
    ),
    example="pivot pin",
)


def lower_drive(reader: Reader, context: Context) -> Drive:
    """The drive bolt, its hole by the stated fit, its nuts and play."""
    reader.need("thread", "bolt", "nut")
    thread = thread_of(context, reader.value("thread", "thread"))
    bolt = reader.get("bolt")
    assert bolt is not None
    fit: Literal["fine", "medium", "coarse"] = reader.value("fit", "fit", "medium")
    hole, _ = looked_up(lambda: context.catalog.clearance_mm(thread, fit), reader.readings["thread"][0].span("thread"))
    nut = _nut(reader.get("nut"), thread, context, "above")
    assert nut is not None
    dial = reader.get("dial")
    washers = reader.get("washers")
    jam = _nut(reader.get("jam_nut"), thread, context, "below")
    turned, stop = reader.get("turned_with"), reader.get("stop")
    return Drive(
        name=reader.name,
        thread=thread,
        bolt=screw_of(context, bolt.get("standard"), thread),
        head_recessed=bolt.get("recessed"),
        length=bolt.get("length"),
        hole_mm=hole,
        fit=fit,
        nut=nut,
        jam_nut=jam,
        washer=washer_of(context, washers.get("standard"), thread) if washers else None,
        washer_places=_washer_places(washers),
        play=reader.value("play", "value"),
        dial=_dial(dial) if dial else None,
        brake=reader.get("brake") is not None,
        key=reader.value("key", "text", ""),
        turned_with=turned.get("how") if turned else None,
        driver_torque=turned.get("torque") if turned else None,
        turned_with_origin=turned.line.span if turned else None,
        stop=stop is not None,
        stop_nut=_stop_nut(stop, nut.hardware, jam, thread, context) if stop else None,
        stop_washer=_stop_washer(thread, context) if stop else None,
        stop_locked_by=stop.get("lock") if stop else None,
        stop_origin=stop.line.span if stop else None,
        origin=reader.origin,
    )


def _stop_nut(reading: Reading, nut: Nut | TeeNut, jam: DriveNut | None, thread: Thread, context: Context) -> Nut:
    """The nut that travels: as stated, else like the jam nut or the nut, where that is a hexagon nut."""
    if reading.get("standard") is not None:
        made = nut_of(context, reading.get("standard"), thread, reading.line.span)
        assert isinstance(made, Nut)
        return made
    for hardware in (jam.hardware if jam is not None else None, nut):
        if isinstance(hardware, Nut):
            return hardware
    usual = "ASME B18.2.2 hex_nut" if thread.system == "unified" else "ISO 4032"
    message = "the stop's nut is not known: the drive has no hexagon nut"
    raise Fault("incomplete-fact", message, reading.line.span, remedy=f"write `stop {usual}`")


def _stop_washer(thread: Thread, context: Context) -> Washer | None:
    """A plain washer of the bolt's size; None where no table has one."""
    try:
        return context.catalog.washer("ASME B18.21.1 type_a" if thread.system == "unified" else "ISO 7089", "", thread)
    except NoRow:
        return None


def _dial(reading: Reading) -> Dial:
    diameter = reading.get("diameter")
    if diameter is None:
        raise Fault(
            "incomplete-fact", "a dial states its diameter", reading.line.span, remedy="write `dial marks 8, diameter 40 mm`"
        )
    return Dial(marks=reading.get("marks"), diameter=diameter, origin=reading.line.span)


def _nut(reading: Reading | None, thread: Thread, context: Context, side: Literal["above", "below"]) -> DriveNut | None:
    if reading is None:
        return None
    return DriveNut(
        hardware=nut_of(context, reading.get("standard"), thread, reading.line.span),
        side=reading.get("side", side),
        recessed=reading.get("recessed"),
        round=reading.get("round"),
        origin=reading.line.span,
    )


def _washer_places(reading: Reading | None) -> tuple[Literal["above", "below"], ...]:
    if reading is None:
        return ()
    if reading.get("side"):
        return (reading.get("side"),)
    return ("above", "below")


def _sleeve_fits(sleeve: Reading | None, thread: Thread) -> None:
    """A sleeve goes over the thread, so it is wider than that outside."""
    if sleeve is None:
        return
    outside: Quantity = sleeve.get("outside")
    if outside.mm <= thread.major_mm:
        raise Fault(
            "value-not-allowed",
            f"a sleeve {outside} outside does not go over {thread.designation}, {spoken_length(thread.major_mm, sleeve.span('outside'))}",
            sleeve.span("outside"),
            remedy=f"a tube that {thread.designation} passes, of {spoken_length(thread.major_mm + 2, sleeve.span('outside'))} outside or so",
        )


def lower_pivot(reader: Reader, context: Context) -> Pivot:
    """A wood screw or a bolt from below, with washers and perhaps a sleeve or a shoulder."""
    reader.need("thread")
    which = reader.need_one("screw", "bolt")
    thread = thread_of(context, reader.value("thread", "thread"))
    reading = reader.get(which)
    assert reading is not None
    washers = reader.get("washers")
    if which == "bolt":
        reader.need("nut")
    _sleeve_fits(reader.get("sleeve"), thread)
    return Pivot(
        name=reader.name,
        thread=thread,
        screw=screw_of(context, reading.get("standard"), thread),
        bolt=which == "bolt",
        nut=_nut(reader.get("nut"), thread, context, "above"),
        head_recessed=reading.get("recessed"),
        length=reading.get("length"),
        drill=reader.value("drill", "value"),
        washer=washer_of(context, washers.get("standard"), thread) if washers else None,
        washer_places=_washer_places(washers),
        sleeve_outside=reader.value("sleeve", "outside"),
        shoulder=reader.value("shoulder", "diameter"),
        play=reader.value("play", "value"),
        origin=reader.origin,
    )
