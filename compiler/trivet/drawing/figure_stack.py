"""Figures: what goes onto a drive's bolt and an idler's screw, drawn apart along the axis."""

from __future__ import annotations

from trivet.drawing.figure import Figure, FigureLayer, Tone, box, leader, line, note
from trivet.drawing.shapes import Shape
from trivet.model.design import Design
from trivet.model.hardware import TeeNut, Washer
from trivet.model.train import Drive
from trivet.record import record
from trivet.solve.board_levels import boards_at
from trivet.solve.derived import Derived, DriveState, PivotState
from trivet.solve.level_gaps import level_gaps_mm
from trivet.solve.sunk import head_diameter_mm
from trivet.units import length_text

HALF_WIDTH_MM, GAP_MM = 28.0, 7.0
_THIN_MM = 2.0


@record
class _Layer:
    """One thing on the axis: its tone, half width, height, hole (0 for none) and words."""

    tone: Tone
    half_mm: float
    height_mm: float
    hole_mm: float
    words: str


def drive_figure(design: Design, derived: Derived, state: DriveState) -> Figure:
    """From the head down."""
    drive, gear = state.drive, derived.train.gear(state.gear)
    boards = boards_at(design, 0)
    found = [
        _head(
            design,
            drive.bolt.head.height_mm,
            head_diameter_mm(drive.bolt.head),
            f"bolt {drive.thread.designation}, {_length(design, derived, state.id)}",
        )
    ]
    found += _washer(drive.washer, drive.washer_places, "head")
    top = next((item.gear.under.text for item in derived.train.gears if item.id == state.gear), "")
    for name in reversed(boards.chain(top)):
        place = boards.z[name]
        found.append(_Layer("wood", HALF_WIDTH_MM, place.top_mm - place.under_mm, drive.hole_mm, f"board {name}"))
    found += _spacer(design, derived, state.gear, drive.hole_mm)
    nuts = [nut for nut in (drive.nut, drive.jam_nut) if nut is not None]
    gears = tuple(item for item in derived.train.gears if item.shaft == state.gear) or (gear,)
    for side in ("above", "below"):
        if side == "below":
            found += [
                _Layer("wood", HALF_WIDTH_MM, item.face_width.mean, item.hole_mm, f"gear {item.id}")
                for item in sorted(gears, key=lambda g: g.level)
            ]
        found += _washer(drive.washer, drive.washer_places, side)
        for nut in (item for item in nuts if item.side == side):
            hardware = nut.hardware
            if isinstance(hardware, TeeNut):
                found.append(_Layer("metal", hardware.flange_diameter_mm / 2.0, hardware.height_mm, 0.0, "tee nut, flange upwards"))
            else:
                word = "jam nut, last" if nut is drive.jam_nut else "nut"
                found.append(_Layer("metal", hardware.across_flats_mm / 2.0, hardware.height_mm, drive.thread.major_mm, word))
    found += _stop(drive)
    words = (
        f"Apart along the axis, from above: {', '.join(item.words for item in found)}. Play "
        f"{length_text(state.play_mm, design.units)}."
    )
    return _apart(f"The drive {state.id}", words, found)


def pivot_figure(design: Design, derived: Derived, state: PivotState) -> Figure:
    """From the board down to the screw's head."""
    pivot = state.pivot
    gears = sorted((item for item in derived.train.gears if item.shaft == state.gear), key=lambda item: item.level)
    board = boards_at(design, 0).z[gears[0].gear.under.text]
    found: list[_Layer] = []
    if pivot.nut is not None:
        nut = pivot.nut.hardware
        if isinstance(nut, TeeNut):
            found.append(_Layer("metal", nut.flange_diameter_mm / 2.0, nut.height_mm, 0.0, "tee nut, flange upwards"))
        else:
            found.append(_Layer("metal", nut.across_flats_mm / 2.0, nut.height_mm, pivot.thread.major_mm, "nut"))
    found.append(_Layer("wood", HALF_WIDTH_MM, board.top_mm - board.under_mm, 0.0, f"board {gears[0].gear.under.text}"))
    found += _spacer(design, derived, state.gear, pivot.thread.major_mm)
    found += _washer(pivot.washer, pivot.washer_places, "above")
    found += [_Layer("wood", HALF_WIDTH_MM, item.face_width.mean, item.hole_mm, f"gear {item.id}") for item in gears]
    if pivot.sleeve_outside is not None and state.sleeve_length_mm is not None:
        outside = pivot.sleeve_outside.mm / 2.0
        found.append(
            _Layer(
                "metal",
                outside,
                state.sleeve_length_mm,
                pivot.thread.major_mm,
                f"sleeve, {length_text(state.sleeve_length_mm, design.units)}, inside the gear",
            )
        )
    found += _washer(pivot.washer, pivot.washer_places, "below")
    head = pivot.screw.head
    found.append(
        _head(
            design,
            head.height_mm,
            head_diameter_mm(head),
            f"screw {pivot.thread.designation}, {_length(design, derived, state.id)}",
        )
    )
    return _apart(
        f"The idler on {state.id}", f"Apart along the axis, from above: {', '.join(item.words for item in found)}.", found
    )


def _stop(drive: Drive) -> list[_Layer]:
    """The nut that travels, its washer, and the nut locked at the end."""
    nut, washer = drive.stop_nut, drive.stop_washer
    if not drive.stop or nut is None:
        return []
    half, thread = nut.across_flats_mm / 2.0, drive.thread.major_mm
    between = _washer(washer, ("below",), "below")
    first = _Layer("metal", half, nut.height_mm, thread, "stop nut, kept from turning")
    return [first, *between, _Layer("metal", half, nut.height_mm, thread, "end nut, locked")]


def _spacer(design: Design, derived: Derived, gear: str, hole_mm: float) -> list[_Layer]:
    """What fills the height of the levels above a gear of a lower one."""
    gap = level_gaps_mm(design, derived.train).get(gear)
    return [_Layer("wood", hole_mm, gap, hole_mm, f"spacer, {length_text(gap, design.units)}")] if gap is not None else []


def _washer(washer: Washer | None, places: tuple[str, ...], place: str) -> list[_Layer]:
    """The washer at a place, where there is one."""
    if washer is None or place not in places:
        return []
    return [_Layer("metal", washer.outside_mm / 2.0, washer.thickness_mm, washer.inside_mm, "washer")]


def _head(design: Design, height_mm: float, diameter_mm: float, words: str) -> _Layer:
    return _Layer("metal", diameter_mm / 2.0, height_mm, 0.0, words)


def _length(design: Design, derived: Derived, part: str) -> str:
    bolt = next((item for item in derived.bolts if item.part == part), None)
    mm = (bolt.cut_to_mm or bolt.stated_mm or bolt.buy_mm) if bolt is not None else None
    return length_text(mm, design.units) if mm is not None else "no length fits"


def _apart(title: str, words: str, layers: list[_Layer]) -> Figure:
    """Top to bottom with gaps; holes as two lines."""
    shapes: dict[Tone, list[Shape]] = {"wood": [], "metal": [], "line": [], "note": []}
    at = 0.0
    for item in layers:
        height = max(item.height_mm, _THIN_MM)
        shapes[item.tone].append(box(-item.half_mm, at - height, item.half_mm, at, item.words))
        if item.hole_mm > 0.0:
            shapes["line"] += [
                line(side * item.hole_mm / 2.0, at - height, side * item.hole_mm / 2.0, at, "hole") for side in (-1.0, 1.0)
            ]
        middle = at - height / 2.0
        shapes["note"].append(note(HALF_WIDTH_MM + 6.0, middle, item.words))
        shapes["line"].append(leader(HALF_WIDTH_MM + 5.0, middle, item.half_mm, middle, item.words))
        at -= height + GAP_MM
    shapes["line"].append(line(0.0, 4.0, 0.0, at + GAP_MM - 4.0, "axis"))
    return Figure(
        title, words, tuple(FigureLayer(tone, tuple(shapes[tone])) for tone in ("wood", "metal", "line", "note") if shapes[tone])
    )
