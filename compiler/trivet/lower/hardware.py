"""Facts to hardware rows: threads, screws, nuts, washers, inserts; a missing row is a fault at the word that asked for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from trivet.catalog import NoRow
from trivet.lower.fault import Echo, Fault
from trivet.lower.values import DesignationValue, StandardUse
from trivet.model.hardware import Nut, Screw, TeeNut, Thread, Washer
from trivet.source import Span

if TYPE_CHECKING:
    from trivet.lower.context import Context

T = TypeVar("T")

# Withdrawn standards whose screws are still sold, and what replaced them (DIN's own withdrawals, from memory). Some heads differ.
_NEWER = {"DIN 912": "ISO 4762", "DIN 931": "ISO 4014", "DIN 933": "ISO 4017", "DIN 7981": "ISO 7049"}


def looked_up(look: Callable[[], T], span: Span) -> T:
    """What `look` finds; a row that is not there is a fault at `span`, or an echo where its table could not be read."""
    try:
        return look()
    except NoRow as missing:
        if missing.echo:
            raise Echo from None
        raise Fault("no-such-hardware", missing.message, span, remedy=missing.remedy) from None


def thread_of(context: Context, designation: DesignationValue) -> Thread:
    """The thread that a fact names."""
    return looked_up(lambda: context.catalog.thread(designation.text), designation.span)


def standard_name(use: StandardUse) -> str:
    """A standard with its product word."""
    return f"{use.text} {use.product}" if use.product else use.text


def screw_of(context: Context, use: StandardUse, thread: Thread) -> Screw:
    """The screw that a fact names, in the block's thread or its own size."""
    chosen = context.catalog.thread(use.size) if use.size and not use.size.startswith("no_") else thread
    name = standard_name(use)
    screw = looked_up(lambda: context.catalog.screw(name, chosen), use.span)
    if not screw.stock_mm:
        newer = _NEWER.get(name)
        first = f"write `{newer}` where its head measures as yours does, or " if newer else ""
        raise Fault(
            "no-such-hardware",
            f"in which lengths {name} {chosen.designation} is sold, and how far it is threaded, is not known",
            use.span,
            remedy=f"{first}add a table of your own: `table mine is length_range`, the lines `standard {name}` and `columns thread, "
            f"length_min mm, length_max mm, series, threaded`, and a row such as `row {chosen.designation}, 16, 80, stock_lengths_iso, throughout`",
        )
    return screw


def own_size(use: StandardUse, thread: Thread, what: str) -> None:
    """A size stated beside a standard must be that of the block's thread, which decides."""
    bare = thread.designation.removesuffix("-LH")
    if use.size and use.size.removesuffix("-LH") != bare:
        raise Fault(
            "facts-exclude",
            f"the {what} is {use.size}, the thread {thread.designation}",
            use.size_span or use.span,
            remedy=f"write `{what} {standard_name(use)}`: the size follows from the thread",
        )


def nut_of(context: Context, use: StandardUse | None, thread: Thread, span: Span) -> Nut | TeeNut:
    """A hexagon nut by standard, or a tee nut (no standard)."""
    if use is None:
        return looked_up(lambda: context.catalog.tee_nut(thread), span)
    own_size(use, thread, "nut")
    return looked_up(lambda: context.catalog.nut(standard_name(use), thread), use.span)


def washer_of(context: Context, use: StandardUse, thread: Thread) -> Washer:
    """A washer; a tapping screw's thread has no washer of its own, so the fact names the size."""
    if not use.size and thread.designation.startswith("ST"):
        raise Fault(
            "incomplete-fact",
            f"a washer for {thread.designation} needs its size",
            use.span,
            remedy=f"write `washers {use.text} M6, above and below`",
        )
    return looked_up(lambda: context.catalog.washer(standard_name(use), use.size, thread), use.span)
