"""How far the work surface may stand off flush: a budget of what a setting leaves, ranked. Lengths mm; an estimate.

Counted are heights. That screws lean in their threads mostly moves the board sideways: the board stays parallel to the bench and only what
bears on a flank rises. The bench's own unevenness is left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.board_levels import boards_at
from trivet.solve.derived import Derived, FootState, Lift
from trivet.solve.power_screw import pitch_diameter_mm
from trivet.solve.sway import THREAD_PLAY_MM
from trivet.source import Origin
from trivet.units import length_text

# Parts of a turn by which a hand misses a height without a dial (common practice, no source); half a mark with one.
HAND_SIXTEENTHS = 16
SAME_MM = 1e-9


@record
class Term:
    """A number that a part of the budget stands on; `source` where it has no place."""

    symbol: str
    words: str
    value: float
    unit: str = "mm"
    origin: Origin | None = None
    source: str = ""


@record
class FlushPart:
    """One part: `key`, what it is to a maker, mm, where, and how it comes about: `formula` over `terms` (empty: `how`)."""

    key: str
    words: str
    mm: float
    where: tuple[str, ...]
    source: str
    formula: str = ""
    how: str = ""
    terms: tuple[Term, ...] = ()
    origin: Origin | None = None


@record
class Flush:
    """`parts`: the largest first. `left_out`: what is not counted, in words."""

    parts: tuple[FlushPart, ...]
    left_out: tuple[str, ...]

    @property
    def worst_mm(self) -> float:
        """All parts against us."""
        return math.fsum(part.mm for part in self.parts)

    @property
    def rss_mm(self) -> float:
        """Root of the sum of squares: as far off as it is likely to be."""
        return math.sqrt(math.fsum(part.mm**2 for part in self.parts))


def flush_of(design: Design, derived: Derived, with_sag: bool = True) -> Flush | None:
    """The budget at mean sheets and the greatest height; None without a stroke. `with_sag` False leaves out the slow part."""
    lift = derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return None
    found = [_setting(design, derived, lift), _zeroing(derived)]
    found += [part for part in (_pad_rock(design, derived), _thread_rock(design, derived, lift), _bow(design)) if part is not None]
    if with_sag:
        found += _sag(design, derived)
    parts = tuple(sorted((part for part in found if part.mm > SAME_MM), key=lambda part: (-part.mm, part.key)))
    return Flush(parts, tuple(_left_out(design, derived, {part.key for part in parts}, with_sag)))


def contact_radius_mm(derived: Derived, foot: FootState) -> float:
    """Radius of the flat that stands on the bench: the gear, a disc or a plain head; 0 for a dome or a swivel, which stand on a point."""
    if foot.touches == "gear":
        return derived.train.gear(foot.gear).tip_radius_mm
    pad = foot.foot.pad
    if pad.kind == "disc":
        return pad.diameter.mm / 2.0 if pad.diameter is not None else 0.0
    head = foot.foot.screw.head if foot.foot.screw is not None else None
    if pad.kind == "head" and head is not None:
        return (head.across_flats_mm or head.diameter_mm) / 2.0
    return 0.0


def tilt_deg(design: Design, foot: FootState) -> float:
    """Tilt of a foot's screw, degrees: as its insert is driven, or less where a guide bore holds it (clearance over length)."""
    guide = foot.foot.guide
    tilt = design.shop.insert_tilt_deg
    return tilt if guide is None else min(tilt, math.degrees(math.atan(guide.clearance.mm / guide.length.mm)))


def rock_once_a_turn_mm(design: Design, derived: Derived, foot: FootState) -> float:
    """2 r tan of the tilt: what a flat that turns on the bench adds and takes away once a turn; 0 where it does not turn.

    A flat leans against its screw by one tilt and the screw against the board by another: height varies by r (tan(a + b) − tan|a − b|),
    at most about 2 r tan of the smaller. How far a gear leans on its screw is not known; it is taken as no less than the insert's tilt.
    """
    if foot.foot.kind == "captured_nut":
        return 0.0
    return 2.0 * contact_radius_mm(derived, foot) * math.tan(math.radians(tilt_deg(design, foot)))


def _setting(design: Design, derived: Derived, lift: Lift) -> FlushPart:
    drive = next((state.drive for state in derived.drives), None)
    dial = drive.dial if drive is not None else None
    rise = Term("rise", "rise for a turn of the drive", lift.per_turn_mm, source="the report's `lift.per_turn_mm`")
    if dial is not None:
        marks = Term("marks", "marks of the dial", float(dial.marks.number), "", dial.marks.origin)
        return FlushPart(
            "setting", f"setting the drive to half a mark of its {float(dial.marks.number):g}", lift.per_turn_mm / (2.0 * marks.value),
            (drive.name.text,) if drive is not None else (), "derived", "rise / (2 · marks)", terms=(rise, marks), origin=dial.origin,
        )  # fmt: skip
    part = Term("n", "parts of a turn that a hand hits", float(HAND_SIXTEENTHS), "", source="common practice, no source")
    return FlushPart(
        "setting", "setting the drive by hand, to a sixteenth of a turn", lift.per_turn_mm / HAND_SIXTEENTHS,
        (drive.name.text,) if drive is not None else (), "common practice, no source", "rise / n", terms=(rise, part),
        origin=drive.origin if drive is not None else None,
    )  # fmt: skip


def zeroing_steps(foot: FootState) -> int:
    """Steps in a turn when a foot is zeroed: its gear's teeth, or all clockings of its hexagon where that is done before gluing."""
    return foot.zero_clockings if foot.foot.zeroed_before_gluing else round(foot.lead_mm / foot.zero_step_mm)


def _zeroing(derived: Derived) -> FlushPart:
    foot = max(derived.feet, key=lambda item: (item.lead_mm / zeroing_steps(item), item.id))
    steps = zeroing_steps(foot)
    what = "clockings of its hexagon" if foot.foot.zeroed_before_gluing else f"teeth of `{foot.gear}`"
    lead = Term("lead", f"lead of {foot.foot.thread.designation}", foot.lead_mm, origin=foot.foot.thread.origin, source="its thread")
    count = Term("steps", what, float(steps), "", derived.train.gear(foot.gear).gear.teeth.origin, "lcm(6, teeth)")
    return FlushPart(
        "zeroing", f"zeroing `{foot.id}` to the nearest of {steps} steps in a turn", foot.lead_mm / steps / 2.0, (foot.id,), "derived",
        "lead / steps / 2", terms=(lead, count), origin=foot.foot.thread.origin or foot.foot.origin,
    )  # fmt: skip


def _pad_rock(design: Design, derived: Derived) -> FlushPart | None:
    foot = max(derived.feet, key=lambda item: (rock_once_a_turn_mm(design, derived, item), item.id))
    rocks = rock_once_a_turn_mm(design, derived, foot)
    if rocks <= 0.0:
        return None
    what = {"gear": f"the gear `{foot.gear}`", "head": "the flat head", "pad": "the flat pad"}[foot.touches]
    origins = design.shop.origins or {}
    radius = Term("r_pad", f"radius of {what} on the bench", contact_radius_mm(derived, foot), origin=foot.foot.pad.origin)
    tilt = Term("tilt", "tilt of the screw", tilt_deg(design, foot), "deg", origins.get("inserts"), "assumed from how inserts are driven")
    return FlushPart(
        "pad_rock", f"{what} of `{foot.id}`, which rocks once a turn", rocks, (foot.id,),
        "derived; a tilt that is not measured is assumed, no source", "2 · r_pad · tan(tilt)", terms=(radius, tilt), origin=foot.foot.pad.origin,
    )  # fmt: skip


def lean(foot: FootState) -> tuple[str, tuple[Term, ...], float] | None:
    """How a screw may lean in its thread: formula, terms, and the slope; None where nothing is engaged. A guide bore bounds it."""
    engaged = foot.engagement_at_most_mm
    if engaged <= 0.0:
        return None
    play = Term("play", "play across the thread", THREAD_PLAY_MM, source="assumed, no source")
    long = Term("L", "thread engaged at the greatest height", engaged, source="the report's `engagement_mm.at_most`")
    guide = foot.foot.guide
    if guide is None or guide.clearance.mm / guide.length.mm >= THREAD_PLAY_MM / engaged:
        return "play / L", (play, long), THREAD_PLAY_MM / engaged
    room = Term("c", "clearance of the guide", guide.clearance.mm, origin=guide.clearance.origin)
    length = Term("G", "length of the guide", guide.length.mm, origin=guide.length.origin)
    return "c / G", (room, length), guide.clearance.mm / guide.length.mm


def sideways_mm(design: Design, lift: Lift, foot: FootState) -> float:
    """How far play lets the board shift sideways at the greatest height: the slope times what stands out below the live thread."""
    leans = lean(foot)
    if leans is None or foot.live_z_mm is None:
        return 0.0
    bench = boards_at(design, 0).uppermost_mm(foot.foot.into.text) - lift.height_max_mm
    return leans[2] * max(0.0, foot.live_z_mm[0] - bench)


def _thread_rock(design: Design, derived: Derived, lift: Lift) -> FlushPart | None:
    found: list[tuple[float, FootState, float]] = []
    for foot in derived.feet:
        leans = lean(foot)
        if leans is not None:
            # A flat on the bench squares itself under the board's weight: what rises is the flank that the thread rocks on.
            radius = pitch_diameter_mm(foot.foot.thread) / 2.0
            found.append((radius * leans[2], foot, radius))
    if not found:
        return None
    mm, foot, radius = max(found, key=lambda item: (item[0], item[1].id))
    held = lean(foot)
    assert held is not None
    formula, terms, _ = held
    arm = Term("r_thread", "pitch radius, where the flanks bear", radius, origin=foot.foot.thread.origin, source="derived")
    shift = length_text(sideways_mm(design, lift, foot), design.units)
    words = f"the rocking of `{foot.id}` in its thread, which also lets the board shift {shift} sideways"
    return FlushPart(
        "thread_rock", words, mm, (foot.id,), "derived; the play of a thread is assumed, no source", f"r_thread · {formula}", terms=(arm, *terms),
        origin=foot.foot.insert.origin if foot.foot.insert is not None else foot.foot.origin,
    )  # fmt: skip


def _bow(design: Design) -> FlushPart | None:
    bowed = [board for board in design.boards if board.bow is not None]
    if not bowed:
        return None
    board = max(bowed, key=lambda item: (item.bow.mm if item.bow is not None else 0.0, item.name.text))
    assert board.bow is not None
    term = Term("bow", f"bow of `{board.name}`", board.bow.mm, origin=board.bow.origin)
    return FlushPart(
        "bow", f"the bow of `{board.name}`", board.bow.mm, (board.name.text,), "measured by the author", "bow", terms=(term,),
        origin=board.bow.origin,
    )  # fmt: skip


def _sag(design: Design, derived: Derived) -> Iterator[FlushPart]:
    from trivet.solve.library_figures import BENDING_SOURCE
    from trivet.solve.sag import sags

    found = sags(design, derived)
    if found:
        worst = max(found, key=lambda item: (item.sag_mm, item.load.name.text))
        yield FlushPart(
            "sag", f"the sag of `{worst.board.name}` under `{worst.load.name}`", worst.sag_mm, (worst.board.name.text, worst.load.name.text),
            f"an estimate; {BENDING_SOURCE}", how="a thin plate on its feet, Ritz's method", origin=worst.load.origin,
        )  # fmt: skip


def _left_out(design: Design, derived: Derived, counted: set[str], with_sag: bool) -> Iterator[str]:
    yield "the bench's own unevenness"
    if "bow" not in counted:
        yield "the bow of the board, which is not stated"
    down = [load for load in design.loads if load.direction == "down"]
    if not down:
        yield "sag: no load down is stated"
    elif "sag" not in counted:
        yield "sag, which only `compile` and `check --full` work out" if not with_sag else "sag, which cannot be worked out here"
    if not all(foot.foot.zeroed for foot in derived.feet):
        yield "feet that are not zeroed: each is taken as zeroed, which is not stated"
