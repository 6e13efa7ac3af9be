"""Figure: a screw glued into its gear, seen as a section, the gear's underside up."""

from __future__ import annotations

from trivet.drawing.figure import Figure, FigureLayer, box, leader, line, note
from trivet.drawing.shapes import Path, Shape
from trivet.model.design import Design
from trivet.solve.derived import Derived, FootState
from trivet.solve.hex_pocket import GLUED_ROOM_MM
from trivet.units import length_text

SCALE = 2.0
HALF_WIDTH_MM = 34.0
# Adhesive is drawn a little beside the faces that it holds.
BESIDE = 0.5


def gear_screw_figure(design: Design, derived: Derived, state: FootState) -> Figure:
    """Sizes are real, twice full size; the gear's teeth are left out."""
    screw = state.foot.screw
    assert screw is not None
    gear = derived.train.gear(state.gear)
    thick, half = gear.face_width.mean * SCALE, min(HALF_WIDTH_MM, gear.tip_radius_mm) * SCALE
    pocket = min((state.pocket_mm or 0.0) * SCALE, thick)
    head = (screw.head.across_flats_mm or screw.head.diameter_mm) * SCALE / 2.0
    room = head + GLUED_ROOM_MM * SCALE / 2.0 + 1.0
    bore, shank = gear.hole_mm * SCALE / 2.0, state.foot.thread.major_mm * SCALE / 2.0
    tall = screw.head.height_mm * SCALE
    bearing, length = thick - pocket, (state.screw_length_mm or 0.0) * SCALE
    wood = [_beside(side, (bore, room if pocket > 0.0 else bore, half), bearing, thick) for side in (-1.0, 1.0)]
    metal: list[Shape] = [box(-head, bearing, head, bearing + tall, "head"), box(-shank, bearing - length, shank, bearing, "screw")]
    glue: list[Shape] = [
        line(side * shank * 1.1, bearing - BESIDE, side * head, bearing - BESIDE, "adhesive") for side in (-1.0, 1.0)
    ]
    glue += [
        line(side * (head + BESIDE), bearing, side * (head + BESIDE), bearing + min(tall, pocket), "adhesive")
        for side in (-1.0, 1.0)
    ]
    drop = state.foot.pad.drop.mm * SCALE if state.foot.pad.drop is not None else 0.0
    if drop > 0.0:
        metal.append(box(-head * 0.7, bearing + tall, head * 0.7, bearing + tall + drop, "pad"))
    right = half + 6.0
    named = [
        ("pad, afterwards" if drop > 0.0 else "head", bearing + tall + (drop / 2.0 if drop > 0.0 else 0.0), head * 0.7),
        ("adhesive under the head and on its flats", bearing + 0.5, head),
        ("no adhesive on the thread", -8.0, shank),
    ]
    notes: list[Shape] = [note(right, at, text) for text, at, _ in named]
    lines: list[Shape] = [leader(right - 1.0, at, x, at, text) for text, at, x in named]
    notes += [note(-half, max(thick, bearing + tall + drop) + 4.0, "underside up"),
              note(-half, -5.0, f"{state.foot.thread.designation}, "
                  f"{length_text(state.screw_length_mm or 0.0, design.units)}")]  # fmt: skip
    layers = (FigureLayer("wood", tuple(wood)), FigureLayer("metal", tuple(metal)), FigureLayer("glue", tuple(glue)),
              FigureLayer("line", tuple(lines)), FigureLayer("note", tuple(notes)))  # fmt: skip
    return Figure(
        f"Gluing the screw of {state.foot.name.text} into its gear",
        f"Section through {state.gear}, its underside up: head in the pocket, adhesive under it and on its flats, none on the "
        "thread.", layers,
    )  # fmt: skip


def _beside(side: float, widths: tuple[float, float, float], bearing: float, thick: float) -> Shape:
    """One side of the gear: from bore and pocket outwards, with the step that the head bears on."""
    bore, room, half = (side * width for width in widths)
    corners = ((bore, 0.0), (half, 0.0), (half, thick), (room, thick), (room, bearing), (bore, bearing))
    return Path(tuple((x, y, 0.0) for x, y in corners), True, "gear", "a figure, not to be cut")
