"""Metal in the section: screws, rods, nuts, washers and inserts, as uprights about their axes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from trivet.model.hardware import Thread
from trivet.record import record
from trivet.solve.derived import FootState
from trivet.solve.solid import Solid

# Depth of an external thread over its pitch: 17/24 of the height of its triangle, 0.866 P (ISO 68-1, from memory).
THREAD_DEPTH = 0.6134
# Cosine from which a section counts as running along a cross pin.
ALONG = 0.999
# What has a bore that a screw runs in, drawn as two sides.
HOLLOW = frozenset({"insert", "flange", "nut", "washer", "sleeve", "barrel"})


@record
class Metal:
    """One piece: (left, low, right, high) boxes in mm; `thread_mm`: heights of its thread, `minor_mm` half its core, for a screw or rod.

    `rises`: with the board. `live`: thread in an insert or nut.
    """

    kind: str
    part: str
    shaft: str
    at_mm: float
    rises: bool
    boxes: tuple[tuple[float, float, float, float], ...]
    high_mm: float
    thread_mm: tuple[float, float] | None = None
    minor_mm: float = 0.0
    live: bool = False


def metals(
    solids: Sequence[Solid], feet: Sequence[FootState], on: Mapping[str, float], bench_mm: float, along_x: float
) -> tuple[Metal, ...]:
    """The pieces on the shafts of a section, hollow ones first so that screws lie over them. `bench_mm`: z of the bench.

    `along_x`: cosine of the section's direction at the foot; cross pins lie along x.
    """
    bores: dict[str, float] = {}
    for item in solids:
        if item.kind in ("shank", "rod"):
            # A cross pin counts as a rod too, and is wider.
            bores[item.shaft] = min(item.radius_mm, bores.get(item.shaft, item.radius_mm))
    states = {foot.gear: foot for foot in feet}
    found = [
        _metal(item, states.get(item.shaft), on[item.shaft], bores.get(item.shaft, 0.0), bench_mm, abs(along_x)) for item in solids
    ]
    for shaft, at in on.items():
        if shaft in states:
            found += _of_foot(states[shaft], shaft, at, bench_mm, solids)
    order = {"pin": 3, "shank": 2, "rod": 2, "bolt_end": 2, "head": 1, "pad": 1}
    return tuple(sorted(found, key=lambda item: order.get(item.kind, 0)))


def _metal(item: Solid, foot: FootState | None, at: float, bore: float, bench: float, along_x: float) -> Metal:
    low, high = item.low_mm - bench, item.high_mm - bench
    thread, minor = None, 0.0
    pin = item.kind == "rod" and item.radius_mm > bore + 1e-6
    if foot is not None and item.kind in ("shank", "rod") and not pin and foot.threaded_mm is not None:
        thread = (max(high - foot.threaded_mm, low), high)
        minor = core_mm(foot.foot.thread) / 2.0
    # Seen end-on, unless the section runs along it.
    half = (high - low) / 2.0 if pin and along_x < ALONG else item.radius_mm
    hollow = item.kind in HOLLOW and bore > 0.0
    boxes = _sides(at, bore, half, low, high) if hollow else ((at - half, low, at + half, high),)
    return Metal("pin" if pin else item.kind, item.part, item.shaft, at, not item.moves, boxes, high, thread, minor)


def _of_foot(foot: FootState, shaft: str, at: float, bench: float, solids: Sequence[Solid]) -> Iterator[Metal]:
    """The live thread, a captured nut, and the part of a riding foot's screw inside its gear."""
    bore = foot.foot.thread.major_mm / 2.0
    if foot.live_z_mm is not None:
        low, high = foot.live_z_mm[0] - bench, foot.live_z_mm[1] - bench
        outside = _live_radius_mm(foot, solids, shaft)
        if foot.foot.kind == "captured_nut" and foot.foot.nut is not None:
            yield Metal("nut", foot.id, shaft, at, True, _sides(at, bore, foot.foot.nut.across_flats_mm / 2.0, low, high), high)
        yield Metal("live", foot.id, shaft, at, True, _sides(at, bore, outside, low, high), high, live=True)
    screw = foot.foot.screw
    shank = next((item for item in solids if item.shaft == shaft and item.kind == "shank"), None)
    if foot.foot.kind == "riding" and screw is not None and shank is not None and foot.screw_length_mm is not None:
        bearing = shank.high_mm - foot.screw_length_mm - bench
        wide = (screw.head.across_flats_mm or screw.head.diameter_mm) / 2.0
        yield Metal("head", foot.id, shaft, at, False, ((at - wide, bearing - screw.head.height_mm, at + wide, bearing),), bearing)
        yield Metal("shank", foot.id, shaft, at, False, ((at - bore, bearing, at + bore, shank.low_mm - bench),), bearing)


def _live_radius_mm(foot: FootState, solids: Sequence[Solid], shaft: str) -> float:
    """Outside of the band that marks live thread: a third of the wall of its insert or nut."""
    bore = foot.foot.thread.major_mm / 2.0
    wall = next((item.radius_mm for item in solids if item.shaft == shaft and item.kind == "insert"), None)
    if wall is None:
        wall = foot.foot.nut.across_flats_mm / 2.0 if foot.foot.nut is not None else bore + 1.0
    return bore + max((wall - bore) / 3.0, 0.4)


def _sides(at: float, bore: float, outside: float, low: float, high: float) -> tuple[tuple[float, float, float, float], ...]:
    return ((at - outside, low, at - bore, high), (at + bore, low, at + outside, high))


def core_mm(thread: Thread) -> float:
    """Core diameter of a screw: as its row gives it, else d − 2 · 0.6134 P."""
    return thread.minor_mm if thread.minor_mm is not None else thread.major_mm - 2.0 * THREAD_DEPTH * thread.pitch_mm
