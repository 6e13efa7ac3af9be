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
    return looked_up(lambda: context.catalog.screw(standard_name(use), chosen), use.span)


def nut_of(context: Context, use: StandardUse | None, thread: Thread, span: Span) -> Nut | TeeNut:
    """A hexagon nut by standard, or a tee nut (no standard)."""
    if use is None:
        return looked_up(lambda: context.catalog.tee_nut(thread), span)
    return looked_up(lambda: context.catalog.nut(standard_name(use), thread), use.span)


def washer_of(context: Context, use: StandardUse, thread: Thread) -> Washer:
    """A washer; a tapping screw's thread has no washer of its own, so the fact names the size."""
    if not use.size and thread.system == "tapping":
        raise Fault(
            "incomplete-fact",
            f"a washer for {thread.designation} needs its size",
            use.span,
            remedy=f"write `washers {use.text} M6, above and below`",
        )
    return looked_up(lambda: context.catalog.washer(standard_name(use), use.size, thread), use.span)
