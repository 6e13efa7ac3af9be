"""What is cut into the parts, explained: the sizes and depths that drawings print beside bores, pockets, recesses and openings."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import partial

from trivet.model.hardware import Nut, TeeNut
from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Label, Round
from trivet.solve.gear_outline import gear_outline
from trivet.solve.hex_pocket import GLUED_ROOM_MM, SLIDING_ROOM_MM
from trivet.solve.inspection_gears import across_flats_mm
from trivet.solve.inspection_reading import reading_id
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features
from trivet.tables.explanation import DERIVED, PRACTICE, Entry, Number, computed, found, given
from trivet.tables.explanation_bore import bore
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_teeth import cutter_diameter, root_diameter

DRAWING = "the drawing of the part"
ROOM = f"trade practice, {PRACTICE}"
HEX = (
    "plane geometry: for a sharp corner the pocket must be wider by (2 − √3) of the cutter's radius, so that the corner ends on its arc"
)
SAME = 1e-9


def feature_entries(facts: Facts) -> Iterator[Entry]:
    """Of each part and each of its features, by the words of its title; of each gear, what its roots are as cut."""
    for state in facts.derived.train.gears:
        yield Entry("root_as_cut", (state.id,), (), partial(_root, facts, state.id), elsewhere=DRAWING)
    for part in part_features(facts.design, facts.derived):
        seen: dict[str, int] = {}
        for item in part.features:
            name = feature_id(item)
            seen[name] = seen.get(name, 0) + 1
            if seen[name] > 1:
                # Drawings print each; equal ones have one explanation.
                continue
            for quantity, explain in _numbers(facts, part, item):
                also = tuple(dict.fromkeys(re.findall(r"[\w.]+", item.title.split(", ")[0])))
                yield Entry(quantity, (part.part, name), (), explain, also, some=True, elsewhere=DRAWING)


def feature_id(item: Feature) -> str:
    """A name to ask for a feature by: the words of its title, its size left out."""
    return reading_id("", item.title.split(", ")[0]).removeprefix(".")


def _numbers(facts: Facts, part: PartFeatures, item: Feature) -> Iterator[tuple[str, partial[Number]]]:
    if isinstance(item.shape, Round):
        yield "feature_diameter", partial(diameter, facts, part, item)
    elif isinstance(item.shape, Contour):
        if "across flats" in item.title:
            yield "feature_across_flats", partial(flats, facts, part, item)
        else:
            yield "feature_width", partial(_box, part, item, 0)
            yield "feature_height", partial(_box, part, item, 1)
    elif isinstance(item.shape, Label):
        yield "feature_height", partial(given, "capitals", "height of the capitals", item.shape.height_mm, origin=item.origin, source=item.because)
    if item.depth_mm is not None:
        yield "feature_depth", partial(depth, facts, part, item)


def diameter(facts: Facts, part: PartFeatures, item: Feature) -> Number:
    """Of a round cut."""
    assert isinstance(item.shape, Round)
    gear = part.belongs_to or part.part
    if part.kind == "gear" and item.operation == "bore" and item.title.startswith("bore for") and gear in facts.states:
        return bore(facts, gear)
    return given("D", f"diameter of the {_short(item)}", item.shape.diameter_mm, origin=item.origin, source=item.because)


def depth(facts: Facts, part: PartFeatures, item: Feature) -> Number:
    """Of a blind cut."""
    assert item.depth_mm is not None
    source = "as stated, or as high as what lies in it" if item.origin is not None else item.because
    if item.drilled or "pilot" in item.title:
        source = item.because
    return given("depth", f"depth of the {_short(item)}, from the {item.face}", item.depth_mm, origin=item.origin, source=source)


def flats(facts: Facts, part: PartFeatures, item: Feature) -> Number:
    """Of a hexagonal pocket: what lies in it, the corners that the cutter leaves round, and room."""
    assert isinstance(item.shape, Contour)
    value, words = across_flats_mm(item.shape), f"{_short(item)}: across flats"
    held = _hexagon(facts, part.belongs_to or part.part) if part.kind == "gear" else None
    if held is not None:
        across, room = held
        cutter = cutter_diameter(facts, part.belongs_to or part.part)
        formula = f"{across.symbol} + (2 − sqrt(3)) · {cutter.symbol} / 2 + {room.symbol}"
        number = computed("S", words, formula, HEX, across, cutter, room)
        # The outline as cut is measured: its sides are straight to rounding.
        if abs(number.value - value) < 1e-6:
            return number
    return found("S", words, value, item.because, f"{DERIVED}; corners counted as measured where the row is measured; room {ROOM}")


def _hexagon(facts: Facts, gear: str) -> tuple[Number, Number] | None:
    """Across flats of what lies in a gear's hexagonal pocket, and its room."""
    holder = facts.graph.gears[facts.graph.shaft_of[gear]]
    room = GLUED_ROOM_MM
    if holder.carries is not None:
        foot = facts.parts.feet[holder.carries.text]
        head = foot.screw.head if foot.screw is not None else None
        if foot.kind == "captured_nut":
            across, origin = (foot.nut.across_flats_mm, foot.nut.origin) if foot.nut is not None else (None, None)
        else:
            across, origin = (head.across_flats_mm, head.origin) if head is not None else (None, None)
            room = SLIDING_ROOM_MM if foot.kind == "sliding_hex" else GLUED_ROOM_MM
    elif holder.turned_by is not None:
        drive = facts.parts.drives[holder.turned_by.text]
        nut = next((made for made in (drive.nut, drive.jam_nut) if made is not None and made.recessed is not None), None)
        hardware_ = nut.hardware if nut is not None and not isinstance(nut.hardware, TeeNut) else None
        across, origin = (hardware_.across_flats_mm, hardware_.origin) if isinstance(hardware_, Nut) else (None, None)
    else:
        return None
    if across is None:
        return None
    return given("s", "across flats of what lies in it", across, origin=origin), given("room", "room round it", room, source=ROOM)


def _box(part: PartFeatures, item: Feature, axis: int) -> Number:
    assert isinstance(item.shape, Contour)
    x0, y0, x1, y1 = item.shape.bounds
    words = f"{('width', 'height')[axis]} of the box that the {_short(item)} fills, along {'xy'[axis]}"
    return given("wh"[axis], words, (x1 - x0, y1 - y0)[axis], origin=item.origin, source=item.because)


def _root(facts: Facts, gear: str) -> Number:
    state = facts.states[gear]
    outline = gear_outline(state.geometry, state.cutter_diameter_mm / 2.0)
    df, cutter = root_diameter(facts, gear), cutter_diameter(facts, gear)
    words, value = f"diameter over the roots of `{gear}` as the cutter leaves them", 2.0 * outline.bottom_radius_mm
    if math.isclose(value, df.value, abs_tol=SAME):
        return computed(f"root_{gear}", words, df.symbol, "derived: the cutter is narrower than the space and reaches the root circle", df)
    how = "one round of the cutter in each space, which touches both flanks before it reaches the root circle, or goes deeper than it"
    return found(f"root_{gear}", words, value, how, DERIVED, df, cutter)


def _short(item: Feature) -> str:
    return item.title.split(", ")[0]
