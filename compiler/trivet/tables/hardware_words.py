"""One line of the hardware schedule in words: description, figures relied on, cutting, substitutes."""

from __future__ import annotations

from typing import Literal

from trivet.model.hardware import Insert, Magnet, Nut, Screw, TeeNut, Thread, Washer
from trivet.solve.bolt_length import SAME_MM
from trivet.source import LibraryRow
from trivet.tables.hardware_items import HardwareItem
from trivet.tables.wording import asked_for, band_text, range_text, screw_words, sold_length, standard_words

# Sizes whose hexagons come in two widths: ISO 16, 18, 21 mm, DIN 17, 19, 22 mm.
TWO_WIDTHS = ("M10", "M12", "M14")


def description(piece: HardwareItem, unit: str) -> str:
    """What to ask for, by standard: `socket head cap screw ISO 4762 M8 x 60 mm`."""
    hardware, size = piece.hardware, piece.size_mm
    if isinstance(hardware, Screw):
        length = piece.length_mm if piece.length_mm is not None else piece.fitted_mm
        asked = f"{asked_for(screw_words(hardware), piece.standard)} {piece.designation}"
        return asked if length is None else f"{asked} x {sold_length(length, sold_in(piece))}"
    if piece.kind == "rod":
        return f"threaded rod {standard_words(piece.standard)} {piece.designation}"
    if isinstance(hardware, TeeNut):
        label = ", sold as DIN 1624" if piece.thread is not None and piece.thread.system == "metric" else ""
        return f"tee nut {piece.designation} (trade type{label})"
    if isinstance(hardware, Nut):
        words = "thin hexagon nut" if piece.standard == "ISO 4035" else "hexagon nut"
        return f"{asked_for(words, piece.standard)} {piece.designation}"
    if isinstance(hardware, Washer):
        return f"{asked_for('flat washer', piece.standard)} {piece.designation}".replace("type a", "type A flat washer")
    if isinstance(hardware, Insert):
        return f"threaded insert for wood {piece.designation}, {sold_length(hardware.length_mm, unit)} long"
    figure = sold_length(size, unit) if size is not None else ""
    if isinstance(hardware, Magnet):
        return f"disc magnet {figure} by {sold_length(hardware.thickness_mm, unit)}"
    if piece.kind == "pad":
        high = f", {sold_length(piece.height_mm, unit)} high" if piece.height_mm is not None else ""
        wide = f", diameter {figure}" if figure else ""
        return f"{piece.designation}{wide}{high}"
    if piece.kind == "spacer" and piece.height_mm is not None:
        return f"spacer ring, {sold_length(piece.height_mm, unit)} thick"
    names = {"sleeve": "tube, outside diameter", "cross_pin": "cross pin, diameter", "dowel": "dowel, diameter"}
    return f"{names[piece.kind]} {figure}"


def sold_in(piece: HardwareItem) -> Literal["mm", "in"]:
    """The unit in which its lengths are sold, whatever the fixture prints: inches for ASME hardware and unified threads."""
    unified = piece.thread is not None and piece.thread.system == "unified"
    return "in" if unified or piece.standard.startswith("ASME") else "mm"


def head_and_key(piece: HardwareItem, unit: str) -> str:
    """Form and size of the head, and what turns it."""
    if not isinstance(piece.hardware, Screw):
        return ""
    head = piece.hardware.head
    if head.form == "hexagon" and head.across_flats_mm is not None:
        return f"hexagon head, {sold_length(head.across_flats_mm, unit)} across flats"
    key = f", {head.key}" if head.key else ""
    form = "countersunk" if head.form == "wood" else head.form
    return f"{form} head, diameter {sold_length(head.diameter_mm, unit)}{key}"


def relied_on(piece: HardwareItem, unit: str) -> str:
    """The measures that the model counts on: compare them with what is bought."""
    hardware = piece.hardware

    def figure(mm: float) -> str:
        return sold_length(mm, unit)

    if isinstance(hardware, Screw):
        head = hardware.head
        return f"head height {figure(head.height_mm)}" if head.height_mm else ""
    if isinstance(hardware, Nut):
        return f"{figure(hardware.across_flats_mm)} across flats; height {figure(hardware.height_mm)}"
    if isinstance(hardware, TeeNut):
        return (
            f"flange {figure(hardware.flange_diameter_mm)} by {figure(hardware.flange_thickness_mm)}; barrel "
            f"{figure(hardware.barrel_diameter_mm)} by {figure(hardware.barrel_length_mm)}; hole {figure(hardware.hole_mm)}"
        )
    if isinstance(hardware, Washer):
        thick = range_text(hardware.thickness_min_mm, hardware.thickness_max_mm, unit)
        return f"inside {figure(hardware.inside_mm)}; outside {figure(hardware.outside_mm)}; thickness {thick}"
    if isinstance(hardware, Insert):
        live = f"live thread {figure(hardware.live_from_mm)} to {figure(hardware.live_to_mm)} from the driving end"
        return f"outside {band_text(hardware.outside, unit)}; length {figure(hardware.length_mm)}; {live}; hole {figure(hardware.hole_mm)}"
    if piece.inside_mm is not None:
        return f"bore that passes {figure(piece.inside_mm)}"
    if piece.kind == "magnet":
        return "diameter and thickness, before the hole is cut"
    return ""


def cutting(piece: HardwareItem, unit: str) -> str:
    """The cut-to-length note, or why no length will do."""
    cut = piece.cut_to_mm
    notes: list[str] = []
    if isinstance(piece.hardware, Screw) and not piece.fits:
        notes.append("no known length fits in every combination of sheets")
    elif isinstance(piece.hardware, Screw) and piece.length_mm is None:
        notes.append("this length is not among the lengths known to be sold")
    if cut is not None and piece.kind == "sleeve":
        notes.append(f"cut to {sold_length(cut, unit)}, ends square")
    elif cut is not None and piece.kind == "rod":
        notes.append(f"saw {sold_length(cut, unit)} from the rod, file a chamfer with a nut run on first")
    elif cut is not None and piece.length_mm is not None and piece.length_mm - cut > SAME_MM:
        bought = sold_length(piece.length_mm, sold_in(piece))
        notes.append(f"buy {bought}, cut to {sold_length(cut, unit)}, file a chamfer with a nut run on first")
    if piece.thread is not None and piece.thread.hand < 0:
        notes.append("left-hand thread: few shops stock it, ask before you cut")
    if piece.thread is not None and is_fine(piece.thread):
        notes.append("fine thread: few shops stock it; head and lengths are taken as for the coarse one")
    hardware = piece.hardware
    if isinstance(hardware, Screw) and hardware.head.form == "countersunk":
        angle = f" of {hardware.head.angle_deg:g} deg" if hardware.head.angle_deg is not None else ""
        notes.append(f"its hole takes a countersink{angle}, {sold_length(hardware.head.diameter_mm, unit)} across: no drawing cuts it")
    elif isinstance(hardware, Screw) and hardware.head.form == "wood":
        notes.append(f"its hole takes a countersink, {sold_length(hardware.head.diameter_mm, unit)} across: no drawing cuts it")
    if piece.note:
        notes.append(piece.note)
    return "; ".join(notes)


def is_fine(thread: Thread) -> bool:
    """Whether a metric thread is finer than the coarse pitch of its size, which a bare designation names."""
    return thread.system == "metric" and isinstance(thread.origin, LibraryRow) and "x" in thread.origin.key


def thread_wanted(piece: HardwareItem, unit: str) -> str:
    """How much thread it must have, from its tip."""
    if piece.kind == "rod":
        return "throughout"
    if not isinstance(piece.hardware, Screw) or piece.fitted_mm is None:
        return ""
    if piece.thread_wanted_mm is None or piece.thread_wanted_mm >= piece.fitted_mm - SAME_MM:
        return "throughout"
    return f"at least {sold_length(piece.thread_wanted_mm, unit)}"


def substitutes(piece: HardwareItem) -> str:
    """What else will do. A thread of the other system never does: look-alikes start, then jam."""
    hardware, thread = piece.hardware, piece.thread
    other = "" if thread is None else "; never an inch thread" if thread.system == "metric" else "; never a metric thread"
    if thread is not None and thread.system == "tapping":
        other = ""
    if isinstance(hardware, Screw):
        same = "any material with the same head" if hardware.threaded.full else "the same threaded throughout"
        if hardware.head.form in ("pan", "wood"):
            same = "any tapping or wood screw of this diameter and length whose head is no larger"
        elif hardware.head.form == "hexagon" and hardware.threaded.full and piece.standard.startswith(("ISO", "DIN")):
            same = "the ISO or DIN screw threaded throughout whose head has this width across flats"
        return f"{same}{other}"
    if isinstance(hardware, (TeeNut, Insert)):
        return f"any with the same thread and the measures relied on{other}"
    if isinstance(hardware, Nut):
        return f"any of this width across flats and no higher{other}"
    if isinstance(hardware, Washer):
        return "any flat washer of this inside and a thickness within the range"
    if piece.kind == "rod":
        return f"a screw threaded throughout with its head cut off{other}"
    if piece.kind == "sleeve":
        return "tube of metal or hard plastic of this outside diameter"
    return ""


def look_alike(designation: str) -> str | None:
    """The thread of the other system that starts and then jams (pitches 0.09 to 0.27 mm apart), None where none is known."""
    pairs = {"M6": "1/4-20", "M8": "5/16-18", "M10": "3/8-16"}
    return pairs.get(designation) or {inch: metric for metric, inch in pairs.items()}.get(designation)
