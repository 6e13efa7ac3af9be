"""The words on a part's drawing: what it is, how it lies, what is cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from types import MappingProxyType
from typing import Final

from trivet.drawing.reference_text import NOT_OFFSET
from trivet.drawing.shapes import Face
from trivet.drawing.sheet import Layer
from trivet.drawing.tab_layer import tab_words
from trivet.model.design import Design
from trivet.solve.part_features import PartFeatures
from trivet.units import length_text

# Longer lists are shortened: every cut has its own title in the file.
_LONGEST, _MOST_NAMED = 110, 4
_SEEN: Final = MappingProxyType(
    {
        "topside": "topside, seen from above",
        "underside": "underside, already mirrored about the vertical axis: cut it as drawn, with the underside up",
    }
)


def part_words(design: Design, part: PartFeatures, face: Face, cut: tuple[Layer, ...]) -> tuple[str, ...]:
    """Lines for the reference text, the part's name first."""
    unit, thickness = design.units, part.thickness
    fixture = design.title or design.name
    revision = f", revision {design.revision}" if design.revision else ""
    count = f", cut {part.quantity} alike" if part.quantity > 1 else ""
    whole = f", layer {part.layer} of {part.belongs_to} counted from the top" if part.layer else ""
    limits = f" ({length_text(thickness.least, unit)} to {length_text(thickness.most, unit)})" if thickness.spread > 0 else ""
    lines = [
        f"{part.part}: {part.kind} of {fixture}{revision}{whole}{count}",
        _face_words(part, face),
        f"sheet {part.sheet.name.text}, {length_text(thickness.mean, unit)} thick{limits}",
        f"{cutter_words(design, (part,), face)}; {NOT_OFFSET}",
    ]
    lines += [f"{layer.name}: {layer.title}" for layer in cut]
    if part.tabs and face == part.datum:
        lines.append(tab_words(part.tabs, part.cutter_diameter_mm, unit))
    if any(item.drilled for item in part.on(face)):
        lines.append("holes marked as drilled are narrower than the cutter: mark their centres here, drill afterwards")
    if len(part.faces) > 1:
        lines.append(_turning(part, face))
    return (*lines, *part.notes)


def _face_words(part: PartFeatures, face: Face) -> str:
    words = _SEEN[face]
    if len(part.faces) == 1:
        return f"{words}; all work is done from this face"
    if face == part.datum:
        return f"{words}; datum face: all that goes through is cut from here"
    return f"{words}; second face: only what is listed here, the outline is shown for reference"


def _turning(part: PartFeatures, face: Face) -> str:
    other = "topside" if face == "underside" else "underside"
    order = "cut the datum face first" if face == part.datum else "the datum face is cut before"
    return f"turn over left to right about the flip axis for the {other}; {order}; a skewed or shifted axis counts double"


def cutter_words(design: Design, parts: Sequence[PartFeatures], face: Face) -> str:
    """What cuts that face of the parts: `cutter 6 mm and vee of 60 deg`."""
    work = [item for part in parts for item in part.on(face)]
    sizes = sorted({item.cutter_diameter_mm for item in work if item.cutter_diameter_mm > 0.0}, reverse=True)
    lines = {item.origin for item in work if item.origin is not None}
    engraving = {label.cutter.text for label in design.engravings if label.origin in lines}
    angles = sorted({angle.value for vee in design.cutters if vee.name.text in engraving and (angle := vee.tip_angle) is not None})
    named = [length_text(size, design.units) for size in sizes] + [f"vee of {angle:g} deg" for angle in angles]
    return "cutter " + (" and ".join(named) or "as suits the marks")


def listed(titles: Sequence[str]) -> str:
    """Titles with how often each comes; a long list by its number, first and last."""
    counts = Counter(titles)
    first, last = titles[0], titles[-1]
    if len(counts) == 1:
        return f"{len(titles)} x {first}" if len(titles) > 1 else first
    if len(counts) <= _MOST_NAMED:
        whole = "; ".join(f"{count} x {title}" if count > 1 else title for title, count in counts.items())
        if len(whole) <= _LONGEST:
            return whole
    return f"{len(titles)} cuts, from {first} to {last}"
