"""The hardware of a fixture, piece by piece: everything is counted from the model, nothing is typed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.model.hardware import Insert, Magnet, Nut, Screw, TeeNut, Thread, Washer
from trivet.model.train import Drive, Pivot
from trivet.record import record, replace
from trivet.solve.derived import BoltChoice, Derived, DriveState, FootState, PivotState
from trivet.solve.level_gaps import level_gaps_mm
from trivet.source import Origin
from trivet.units import length_text

Kind = Literal[
    "bolt", "screw", "rod", "nut", "jam_nut", "tee_nut", "washer", "sleeve", "spacer", "insert", "pad", "cross_pin", "dowel", "magnet"
]
Bought = Screw | Nut | TeeNut | Washer | Insert | Magnet


# What locks the end nut of a stop, in words.
LOCKED_WITH = {"thread_locker": "thread locker", "jam_nut": "a third nut, jammed against it", "cross_pin": "a cross pin"}
# How the title of a drawn dowel between layers begins.
LAYER_DOWEL = "dowel that lines up the layers"


@record
class HardwareItem:
    """One piece. `item`: its id, the set's name and the kind joined by a hyphen, so that it never meets a name of the file.

    `where`: the place it serves (`crank.hub`, `corner.nw`). `length_mm`: as bought, under the head (countersunk: overall), None where
    none is known or it has none; `cut_to_mm` None where it is used as bought; `stated_mm` as the file states. `size_mm`: diameter of
    what has no thread; `height_mm`: of a pad; `inside_mm`: least bore of a tube. `thread_wanted_mm`: thread needed from the tip, None
    throughout. `fits`: whether the length does in every combination of sheets. `note`: what else must be known.
    """

    item: str
    kind: Kind
    where: str
    standard: str = ""
    designation: str = ""
    thread: Thread | None = None
    hardware: Bought | None = None
    size_mm: float | None = None
    height_mm: float | None = None
    inside_mm: float | None = None
    length_mm: float | None = None
    cut_to_mm: float | None = None
    stated_mm: float | None = None
    thread_wanted_mm: float | None = None
    fits: bool = True
    glued: bool = False
    note: str = ""
    origin: Origin | None = None

    @property
    def fitted_mm(self) -> float | None:
        """The length that is fitted: cut, or as stated, or as bought."""
        return next((mm for mm in (self.cut_to_mm, self.stated_mm, self.length_mm) if mm is not None), None)


def hardware_items(design: Design, derived: Derived) -> tuple[HardwareItem, ...]:
    """Every piece to buy, in the order drives, pivots, feet, keepers, dowels, magnets, dowels between the layers of gears.

    Screws through plain holes are not in the model and not here.
    """
    from trivet.tables.keeper_items import keeper_items

    bolts = {bolt.part: bolt for bolt in derived.bolts}
    found: list[HardwareItem] = []
    gaps = level_gaps_mm(design, derived.train)
    for drive in derived.drives:
        found += _of_drive(drive, bolts.get(drive.id))
        found += _spacer(drive.drive, drive.id, gaps.get(drive.gear))
    for pivot in derived.pivots:
        found += _of_pivot(pivot, bolts.get(pivot.id))
        found += _spacer(pivot.pivot, pivot.id, gaps.get(pivot.gear))
    for foot in derived.feet:
        found += _of_foot(foot, bolts.get(foot.id))
        found += _spacer(foot.foot, foot.id, gaps.get(foot.gear))
    for climber in derived.climbers:
        pieces = _of_foot(climber, bolts.get(climber.id))
        found += [replace(piece, note=_set_words(design, climber, piece.note)) if piece.kind == "screw" else piece for piece in pieces]
    found += keeper_items(derived, design.units)
    for dowel in design.dowels:
        length = dowel.length.mm if dowel.length is not None else None
        note = "" if length is not None else "no length is stated: cut to suit"
        for place in dowel.places:
            found.append(
                HardwareItem(f"{dowel.name.text}-dowel", "dowel", place.id, size_mm=dowel.diameter_mm, length_mm=length,
                             note=note, origin=dowel.origin)
            )  # fmt: skip
    for magnet in design.magnets:
        for place in magnet.places:
            pole = f"{magnet.polarity} pole showing" if magnet.polarity else ""
            found.append(
                HardwareItem(f"{magnet.name.text}-magnet", "magnet", place.id, hardware=magnet.disc, size_mm=magnet.disc.diameter_mm,
                             glued=True, note=pole, origin=magnet.disc.origin or magnet.origin)
            )  # fmt: skip
    found += _layer_dowels(design, derived)
    for joint in derived.joints:
        for _ in joint.places:
            found.append(HardwareItem("shaft-dowel", "dowel", joint.root, size_mm=joint.dowel_mm, origin=joint.origin,
                                      note=f"through {' and '.join(joint.gears)}, as long as they are thick together"
                                      + ("" if joint.stated else "; assumed, since nothing is stated")))  # fmt: skip
    return tuple(found)


def _set_words(design: Design, climber: FootState, note: str) -> str:
    """Where the gear of a climbing idler is set, before what else must be known of its screw."""
    start = climber.foot.climbs_from
    at = f"set its gear {length_text(start.mm if start is not None else 0.0, design.units)} below the board when the board is lowest"
    return f"{at}; {note}" if note else at


def _of_drive(state: DriveState, bolt: BoltChoice | None) -> Iterator[HardwareItem]:
    drive, name = state.drive, state.drive.name.text
    yield _screw(f"{name}-bolt", "bolt", state.id, drive.bolt, drive.thread, bolt)
    nuts = [("nut", drive.nut), *([("jam_nut", drive.jam_nut)] if drive.jam_nut is not None else [])]
    for kind, nut in nuts:
        yield _nut(f"{name}-{kind}", "jam_nut" if kind == "jam_nut" else "nut", state.id, nut.hardware)
    yield from _washers(drive, state.id)
    yield from _stop(drive, state.id)


def _stop(drive: Drive, where: str) -> Iterator[HardwareItem]:
    """The stop's nuts, which travel and which is locked at the end, and the washer under the first."""
    nut, name = drive.stop_nut, drive.name.text
    if not drive.stop or nut is None:
        return
    locked = LOCKED_WITH[drive.stop_locked_by or "thread_locker"]
    travels = f"one travels, its flats kept from turning by a fork that is not drawn; the other is locked at the end with {locked}"
    travels += "" if drive.stop_locked_by is not None else " (assumed, since nothing is stated)"
    for _ in range(3 if drive.stop_locked_by == "jam_nut" else 2):
        yield replace(_nut(f"{name}-stop_nut", "nut", where, nut), note=travels)
    if drive.stop_locked_by == "cross_pin":
        pin = stop_pin_mm(drive)
        yield HardwareItem(f"{name}-stop_pin", "cross_pin", where, size_mm=pin, origin=drive.stop_origin,
                           note="through end nut and bolt, drilled together (a quarter of the bolt: common practice, no source)")  # fmt: skip
    washer = drive.stop_washer
    if washer is not None:
        yield HardwareItem(f"{name}-stop_washer", "washer", where, washer.standard, washer.size, hardware=washer, origin=washer.origin)


def stop_pin_mm(drive: Drive) -> float:
    """A pin of a quarter of the bolt's diameter, to half a millimetre or 1/32 in (common practice, no source)."""
    step = 25.4 / 32.0 if drive.thread.system == "unified" else 0.5
    return max(round(drive.thread.major_mm / 4.0 / step), 1) * step


def _of_pivot(state: PivotState, bolt: BoltChoice | None) -> Iterator[HardwareItem]:
    pivot, name = state.pivot, state.pivot.name.text
    kind: Kind = "bolt" if pivot.bolt else "screw"
    yield _screw(f"{name}-{kind}", kind, state.id, pivot.screw, pivot.thread, bolt)
    if pivot.nut is not None:
        yield _nut(f"{name}-nut", "nut", state.id, pivot.nut.hardware)
    yield from _washers(pivot, state.id)
    if pivot.sleeve_outside is not None:
        yield HardwareItem(
            f"{name}-sleeve", "sleeve", state.id, size_mm=pivot.sleeve_outside.mm, cut_to_mm=state.sleeve_length_mm,
            inside_mm=pivot.thread.major_mm, origin=pivot.sleeve_outside.origin,
        )  # fmt: skip


def _of_foot(state: FootState, bolt: BoltChoice | None) -> Iterator[HardwareItem]:
    foot, name = state.foot, state.foot.name.text
    if foot.screw is not None:
        yield _foot_screw(f"{name}-screw", state, foot.screw, bolt)
    else:
        yield HardwareItem(
            f"{name}-rod", "rod", state.id, standard=foot.rod_standard, designation=foot.thread.designation, thread=foot.thread,
            cut_to_mm=bolt.cut_to_mm if bolt is not None else state.screw_length_mm, origin=foot.thread.origin,
        )  # fmt: skip
    if foot.insert is not None:
        hardware = foot.insert.hardware
        if isinstance(hardware, TeeNut):
            yield _nut(f"{name}-tee_nut", "nut", state.id, hardware, foot.thread)
        else:
            yield HardwareItem(f"{name}-insert", "insert", state.id, designation=foot.thread.designation, thread=foot.thread,
                               hardware=hardware, note=f"table {hardware.table}", origin=hardware.origin)  # fmt: skip
    if foot.nut is not None:
        yield _nut(f"{name}-nut", "nut", state.id, foot.nut, foot.thread)
    if foot.pad.kind != "head":
        pad, part = foot.pad, "post" if foot.kind == "sliding_hex" else "pad"
        yield HardwareItem(
            f"{name}-{part}", "pad", state.id, designation=f"{pad.kind} {part}", size_mm=pad.diameter.mm if pad.diameter is not None else None,
            height_mm=pad.drop.mm if pad.drop is not None else None, note="with a grip" if pad.grip else "",
            glued=pad.kind != "swivel",
            origin=pad.origin,
        )  # fmt: skip
    if foot.rod_stop_diameter is not None:
        yield HardwareItem(f"{name}-cross_pin", "cross_pin", state.id, size_mm=foot.rod_stop_diameter.mm,
                           note="no length is stated: cut to suit its slot", origin=foot.rod_stop_diameter.origin)  # fmt: skip


def _screw(item: str, kind: Kind, where: str, screw: Screw, thread: Thread, bolt: BoltChoice | None) -> HardwareItem:
    if bolt is None:
        return HardwareItem(item, kind, where, screw.standard, thread.designation, thread, screw, origin=screw.origin)
    fitted = next((mm for mm in (bolt.cut_to_mm, bolt.stated_mm, bolt.buy_mm) if mm is not None), None)
    return HardwareItem(
        item, kind, where, bolt.standard, bolt.designation, thread, screw, length_mm=bolt.buy_mm, cut_to_mm=bolt.cut_to_mm,
        stated_mm=bolt.stated_mm, fits=bolt.fits, note=bolt.remedy, origin=screw.origin,
        thread_wanted_mm=None if fitted is None else _thread_wanted_mm(bolt, fitted),
    )  # fmt: skip


def _foot_screw(item: str, state: FootState, screw: Screw, bolt: BoltChoice | None) -> HardwareItem:
    """The travel was computed with this thread length; throughout where the screw is threaded throughout."""
    length = state.screw_length_mm or 0.0
    partly = state.threaded_mm is not None and state.threaded_mm < length - 1e-6
    held = _screw(item, "screw", state.id, screw, state.foot.thread, bolt)
    return replace(held, glued=state.foot.kind == "riding", thread_wanted_mm=state.threaded_mm if partly else None)


def _thread_wanted_mm(bolt: BoltChoice, fitted_mm: float) -> float:
    """From the tip back to where the first nut, or the wood, begins: the length less what lies before it, at its thinnest."""
    held: tuple[str, ...] = ("nut above the gear", "nut below the gear", "nut in the board", "thread in the wood")
    if isinstance(bolt.of, Drive) and "above" in (bolt.of.nut.side, bolt.of.jam_nut.side if bolt.of.jam_nut is not None else ""):
        # A nut that lies wholly in the gear's upper face takes no height of its own.
        held = ("gear between its nuts", *held)
    before = 0.0
    for name, band in bolt.stack:
        if name in held:
            return max(0.0, fitted_mm - before)
        before += band.least
    return fitted_mm


def _nut(item: str, kind: Kind, where: str, nut: Nut | TeeNut, thread: Thread | None = None) -> HardwareItem:
    shown = thread or nut.thread
    if isinstance(nut, TeeNut):
        return HardwareItem(item, "tee_nut", where, "", shown.designation, shown, nut, origin=nut.origin)
    return HardwareItem(item, kind, where, nut.standard, shown.designation, shown, nut, origin=nut.origin)


def _spacer(of: Drive | Pivot | Foot, where: str, gap_mm: float | None) -> Iterator[HardwareItem]:
    """The ring that fills the height of the levels above, where the gear hangs on a lower one."""
    if gap_mm is not None:
        note = "between board and gear, as high as the gears of the level above: off-cuts of their sheet, wide enough to bear beside a recess"
        name = f"{of.name.text}-spacer"
        yield HardwareItem(name, "spacer", where, height_mm=gap_mm, inside_mm=of.thread.major_mm, note=note)


def _washers(of: Drive | Pivot, where: str) -> Iterator[HardwareItem]:
    washer = of.washer
    if washer is not None:
        for _ in of.washer_places:
            yield HardwareItem(f"{of.name.text}-washer", "washer", where, washer.standard, washer.size, hardware=washer,
                               origin=washer.origin)  # fmt: skip


def _layer_dowels(design: Design, derived: Derived) -> Iterator[HardwareItem]:
    """Dowels that line up the layers of laminated gears, as many as are drawn: none where they found no room."""
    laminated = [state for state in derived.train.gears if state.gear.layers > 1]
    if not laminated:
        return
    from trivet.solve.feature import Round
    from trivet.solve.gear_features import gear_parts
    from trivet.solve.lamination_dowels import PUSH_MM
    from trivet.solve.part_context import part_context

    context = part_context(design, derived)
    for state in laminated:
        for drawn in gear_parts(context, state, ())[0].features:
            if drawn.title.startswith(LAYER_DOWEL) and isinstance(drawn.shape, Round):
                yield HardwareItem("gear-layers-dowel", "dowel", state.id, size_mm=drawn.shape.diameter_mm - PUSH_MM,
                                   note="as long as its gear is thick")  # fmt: skip
