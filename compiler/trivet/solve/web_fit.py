"""Webs of gears that find no room, and openings that would."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from trivet.model.design import Design
from trivet.model.train import Web
from trivet.record import record
from trivet.solve.derived import Derived, GearState
from trivet.solve.gear_features import web_room_of
from trivet.solve.part_context import PartContext, part_context
from trivet.solve.web_openings import HUB_WALL_MM, WebRoom, web_openings
from trivet.units import Quantity

# Narrowest spoke that is proposed, mm (common practice, no source), and the fewest and most spokes or holes.
LEAST_SPOKE_MM, FEWEST, MOST = 6.0, 3, 60


@record
class WebFault:
    """A web without openings. `room_mm`: radial room between hub and rim; `count`, `size_mm`: what would do, None where nothing does."""

    gear: str
    web: Web
    room_mm: float
    count: int | None
    size_mm: float | None


def web_faults(design: Design, derived: Derived) -> Iterator[WebFault]:
    """Every gear whose web is left out of its drawing."""
    context: PartContext | None = None
    for state in derived.train.gears:
        web = state.gear.web
        if web is None:
            continue
        context = context or part_context(design, derived)
        room = web_room_of(context, state)
        if not web_openings(web, room, state.cutter_diameter_mm):
            count, size = _instead(web, room, state)
            yield WebFault(state.id, web, room.width_mm, count, size)


def _instead(web: Web, room: WebRoom, state: GearState) -> tuple[int | None, float | None]:
    """The nearest web of the same form that finds room: the same count with another size, then fewer."""
    asked, cutter = int(web.count.number), state.cutter_diameter_mm
    for count in range(min(asked, MOST), min(asked, FEWEST) - 1, -1):
        if web.form == "holes":
            middle = (room.hub_mm + room.rim_mm) / 2.0
            apart = 2.0 * middle * math.sin(math.pi / count) if count > 1 else math.inf
            sizes = [math.floor(2.0 * min(room.width_mm, apart - HUB_WALL_MM) + 1e-9) / 2.0]
        else:
            widest = min(web.size.mm, 2.0 * max(room.rim_mm, 0.0))
            sizes = [float(size) for size in range(math.floor(widest), math.ceil(LEAST_SPOKE_MM) - 1, -1)]
        for size in sizes:
            if size >= cutter and web_openings(_sized(web, count, size), room, cutter):
                return count, size
    return None, None


def _sized(web: Web, count: int, size_mm: float) -> Web:
    return Web(form=web.form, count=Quantity(Fraction(count), ""), size=Quantity(Fraction(str(size_mm)), "mm"), origin=web.origin)
