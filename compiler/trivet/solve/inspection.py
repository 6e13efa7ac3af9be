"""What to measure on the cut parts before anything is put together: the reading to expect, its limits, and what they come from."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Literal

from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Feature, Round
from trivet.solve.inspection_aids import aid_readings
from trivet.solve.inspection_gears import across_flats_mm, teeth_readings
from trivet.solve.inspection_holes import spacing_readings
from trivet.solve.inspection_reading import Reading, reading_id
from trivet.solve.part_context import PartContext, part_context
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features

__all__ = ["Reading", "readings"]

# A twist drill in plywood cuts no smaller than so much under its size and no larger than so much over, mm (common practice, no source).
DRILL_UNDER_MM, DRILL_OVER_MM = 0.05, 0.2
# A sawn and filed tube, mm either way (common practice, no source).
SLEEVE_MM = 0.1
# A screw or rod cut to length with a saw and a file, mm (common practice, no source).
SAWN_MM = 0.5
_OWNER = re.compile(r"\b(\w+)\.[\w.]+")


def readings(design: Design, derived: Derived) -> tuple[Reading, ...]:
    """Every row of the card, in the order of sheets, parts, centres, lengths; ids are unique. Linear in parts, features and meshes."""
    context = part_context(design, derived)
    parts = part_features(design, derived)
    found = [
        *_sheets(design, parts),
        *(item for part in parts for item in _part(context, part)),
        *spacing_readings(context, parts),
        *_lengths(derived),
    ]
    seen: dict[str, int] = {}
    named = []
    for item in found:
        seen[item.row] = seen.get(item.row, 0) + 1
        named.append(item if seen[item.row] == 1 else item.renamed(f"{item.row}.{seen[item.row]}"))
    return tuple(named)


def _sheets(design: Design, parts: tuple[PartFeatures, ...]) -> Iterator[Reading]:
    used = {part.sheet.name.text for part in parts}
    inwards = "2 in (50 mm)" if design.units == "in" else "50 mm"
    for sheet in design.sheets:
        if sheet.name.text in used:
            band = sheet.thickness
            yield Reading(
                f"{sheet.name.text}.thickness", sheet.name.text, f"thickness, at eight places {inwards} from the edges (EN 324-1)",
                "thickness", band.mean, band.least, band.most, "least and most thickness in the file", (sheet.name.text,),
            )  # fmt: skip


def _part(context: PartContext, part: PartFeatures) -> Iterator[Reading]:
    if part.kind == "gear":
        yield from teeth_readings(context, part)
    if part.kind == "helper":
        yield from aid_readings(context, part)
        return
    groups: dict[tuple[object, ...], list[Feature]] = {}
    for item in part.features:
        if item.operation != "engrave":
            groups.setdefault(_alike(part, item), []).append(item)
    for items in groups.values():
        yield from _feature(context, part, items[0], len(items))


def _alike(part: PartFeatures, item: Feature) -> tuple[object, ...]:
    size = round(item.shape.diameter_mm, 6) if isinstance(item.shape, Round) else None
    return item.operation, item.face if not item.through else "", item.depth_mm, size, _words(part, item)


def _words(part: PartFeatures, item: Feature) -> str:
    """A feature's words without its size; in a board without the member of a set that it serves, so that equal holes stand together."""
    words = item.title.split(", ")[0]
    return words if part.kind == "gear" else _OWNER.sub(r"\1", words)


Sizing = Literal["bore", "hole"]


def _feature(context: PartContext, part: PartFeatures, item: Feature, count: int) -> Iterator[Reading]:
    words = _words(part, item)
    each = f", {count} alike: measure each" if count > 1 else ""
    name = reading_id(part.part, words if part.kind != "gear" else words.split(" of ")[0].split(" for ")[0])
    both = 2.0 * _profile_mm(context, part)
    if isinstance(item.shape, Round) and item.operation == "bore":
        kind: Sizing = "bore" if part.kind == "gear" else "hole"
        least, most = item.shape.diameter_mm - both, item.shape.diameter_mm + both
        why = "profile_offset on both sides of the hole"
        if item.drilled:
            least, most = item.shape.diameter_mm - DRILL_UNDER_MM, item.shape.diameter_mm + DRILL_OVER_MM
            why = "what a sharp drill leaves (common practice, no source)"
        elif part.kind == "gear" and both > context.design.shop.bore_clearance_mm:
            least = item.shape.diameter_mm - context.design.shop.bore_clearance_mm
            why = "below, bore_clearance used up; above, profile_offset on both sides"
        yield Reading(
            name, part.part, f"{words}: diameter{each}", kind, item.shape.diameter_mm, least, most, why,
            (part.belongs_to or part.part,), count, item.title,
        )  # fmt: skip
    elif isinstance(item.shape, Contour) and "across flats" in item.title:
        across = across_flats_mm(item.shape)
        yield Reading(
            f"{name}.flats", part.part, f"{words}: across flats{each}", "flats", across, across - both, across + both,
            "profile_offset on both sides of the pocket", (part.belongs_to or part.part,), count, item.title,
        )  # fmt: skip
    if item.depth_mm is not None:
        depth = context.design.shop.depth_mm
        yield Reading(
            f"{name}.depth", part.part, f"{words}: depth from the {item.face}{each}", "depth", item.depth_mm,
            item.depth_mm - depth, item.depth_mm + depth, "depth of the shop", (part.belongs_to or part.part, item.face), count,
            item.title,
        )  # fmt: skip


def _profile_mm(context: PartContext, part: PartFeatures) -> float:
    """The profile error of what cuts the part: its machine's where it names one that states one."""
    whole = part.belongs_to or part.part
    owner = context.parts.boards.get(whole) or (context.states[whole].gear if whole in context.states else None)
    machine = context.parts.machines[owner.machine.text] if owner is not None and owner.machine is not None else None
    if machine is not None and machine.profile_offset is not None:
        return machine.profile_offset.mm
    return context.design.shop.profile_offset_mm


def _lengths(derived: Derived) -> Iterator[Reading]:
    """What is cut to length: screws and rods between the longest stack and the room there is, and sleeves."""
    for bolt in derived.bolts:
        if bolt.cut_to_mm is None or not bolt.fits:
            continue
        rod = isinstance(bolt.of, Foot) and bolt.of.screw is None
        least = bolt.cut_to_mm - SAWN_MM if isinstance(bolt.of, Foot) else min(bolt.least_mm, bolt.cut_to_mm)
        most = max(bolt.most_mm, bolt.cut_to_mm) if math.isfinite(bolt.most_mm) else bolt.cut_to_mm + SAWN_MM
        before = "below, it takes travel" if isinstance(bolt.of, Foot) else "longest stack"
        yield Reading(
            f"{bolt.part}.length", bolt.part, f"length {'overall' if rod else 'under the head'}, as cut", "length",
            bolt.cut_to_mm, least, most, f"{before}; above, {bolt.room_ends_at or 'its room'}", (bolt.part,),
        )  # fmt: skip
    for state in derived.pivots:
        if state.sleeve_length_mm is not None:
            length = state.sleeve_length_mm
            yield Reading(
                f"{state.id}.sleeve", state.id, "sleeve: length, as cut", "length", length, length - SLEEVE_MM, length + SLEEVE_MM,
                "common practice, no source: more takes the washers' grip, less the gear's play", (state.id,),
            )  # fmt: skip
