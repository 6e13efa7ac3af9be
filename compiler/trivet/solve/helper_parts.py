"""Shop aids cut with the parts: guide blocks for inserts, equal shims to zero the feet on, bars that hold two centres apart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from trivet.model.board import Board
from trivet.model.foot import InsertUse
from trivet.model.hardware import TeeNut
from trivet.model.intent import Helper
from trivet.model.outline import Outline
from trivet.record import replace
from trivet.solve.feature import Feature, Round
from trivet.solve.inspection_holes import boards_of
from trivet.solve.outline_contour import outer_as_cut
from trivet.solve.part_context import MM_PER_INCH, PartContext
from trivet.solve.part_features import PartFeatures

# All of them common practice, no source. Room of an insert in its guide, diametral, mm: it must turn, and not lean.
GUIDE_ROOM_MM = 0.1
# Wood round the guide's bore, and the least side of the block, which is clamped down, mm. Sheets glued on one another.
GUIDE_WOOD_MM, GUIDE_SIDE_MM, GUIDE_SHEETS = 22.0, 60.0, 2
# A shim stands on edge: so wide at least, and so much wider than high, mm.
SHIM_WIDTH_MM, SHIM_STANDS = 80.0, 1.2
# The feet are zeroed so far above their least extension at least, mm.
ABOVE_LEAST_MM = 1.0
SHIMS = 4
# Wood round the holes of a bar, mm.
BAR_WOOD_MM = 12.0


def helper_parts(context: PartContext, parts: Sequence[PartFeatures]) -> tuple[PartFeatures, ...]:
    """The aids that the file asks for, each kind once; a kind that finds nothing to serve gives none."""
    found: dict[str, tuple[PartFeatures, ...]] = {}
    for helper in context.design.helpers:
        if helper.kind == "guide_block":
            found[helper.kind] = tuple(_guides(context, helper))
        elif helper.kind == "shims":
            found[helper.kind] = tuple(_shims(context, helper))
        else:
            found[helper.kind] = tuple(_bars(context, helper, parts))
    return tuple(part for parts_of in found.values() for part in parts_of)


def shim_height_mm(context: PartContext) -> float | None:
    """From the bench to the board's underside when the feet are zeroed; None without a stroke.

    The first whole mm (or sixteenth) that lies 1 mm inside the heights of every combination of sheets, else their middle.
    """
    lift = context.derived.lift
    if lift is None or lift.travel_mm <= 0.0 or not context.derived.boards:
        return None
    tops = [(level.z_under_mm, level.thickness) for level in context.derived.boards]
    least, most = lift.height_every_sheet
    if least >= most:
        least, most = lift.height_min_mm, lift.height_max_mm
    top = max(tops, key=lambda item: item[0] + item[1].mean)
    low, high = least - top[0] - top[1].mean, most - top[0] - top[1].mean
    step = MM_PER_INCH / 16.0 if context.design.units == "in" else 1.0
    whole = math.ceil((low + ABOVE_LEAST_MM) / step - 1e-9) * step
    height = whole if whole <= high - ABOVE_LEAST_MM else (low + high) / 2.0
    return height if height > 0.0 else None


def guide_lean_deg(part: PartFeatures, outside_least_mm: float) -> float:
    """How far the thinnest insert can lean in its guide: room over length of the bore."""
    bore = next(item.shape for item in part.features if isinstance(item.shape, Round))
    return math.degrees(math.atan((bore.diameter_mm - outside_least_mm) / (part.thickness.mean * part.quantity)))


def _guides(context: PartContext, helper: Helper) -> Iterator[PartFeatures]:
    """One block for each kind of insert."""
    uses: dict[tuple[float, float], tuple[str, str, InsertUse]] = {}
    for foot in context.design.feet:
        if foot.insert is not None and any(state.foot.name.text == foot.name.text for state in context.derived.feet):
            wide = _outside_mm(foot.insert)
            uses.setdefault((round(wide[0], 6), round(wide[1], 6)), (foot.name.text, foot.into.text, foot.insert))
    for (least, most), (name, into, use) in uses.items():
        board = context.parts.boards[into]
        cutter, bore = context.cutter_mm(board.cutter.text), most + GUIDE_ROOM_MM
        part = "helper.guide_block" if len(uses) == 1 else f"helper.guide_block.{name}"
        what = "tee nut" if isinstance(use.hardware, TeeNut) else "insert"
        side = _whole(context, max(GUIDE_SIDE_MM, bore + 2.0 * GUIDE_WOOD_MM))
        words = (
            f"largest outside of the {what}, {context.length(most)}, plus {context.length(GUIDE_ROOM_MM)} in which it turns"
            " (common practice, no source)"
        )
        hole = Feature(
            "bore",
            "topside",
            None,
            Round(0.0, 0.0, bore),
            f"bore that guides the {what}, {context.size(bore)}",
            words,
            cutter,
            helper.origin,
        )
        block = _part(context, board, helper, part, Outline("rectangle", side, side), (hole,), GUIDE_SHEETS, "guide block")
        lean = guide_lean_deg(block, least)
        note = f"glue {GUIDE_SHEETS} on one another over the {what} or a pin; holds the {what} within {lean:.2g} deg of square"
        yield _noted(block, note)


def _whole(context: PartContext, mm: float) -> float:
    """The next whole millimetre, or eighth of an inch, for a size that does not matter much."""
    step = MM_PER_INCH / 8.0 if context.design.units == "in" else 1.0
    return math.ceil(mm / step - 1e-9) * step


def _outside_mm(use: InsertUse) -> tuple[float, float]:
    """Least and most diameter that runs in the guide: a flange where there is one, which would not pass a narrower bore."""
    hardware = use.hardware
    if isinstance(hardware, TeeNut):
        return hardware.flange_diameter_mm, hardware.flange_diameter_mm
    if hardware.flange_diameter_mm is not None:
        return hardware.flange_diameter_mm, hardware.flange_diameter_mm
    return hardware.outside.least, hardware.outside.most


def _shims(context: PartContext, helper: Helper) -> Iterator[PartFeatures]:
    height = shim_height_mm(context)
    if height is None:
        return
    board = context.parts.boards[context.derived.feet[0].foot.into.text]
    outline = Outline("rectangle", _whole(context, max(SHIM_WIDTH_MM, SHIM_STANDS * height)), height)
    part = _part(context, board, helper, "helper.shim", outline, (), SHIMS, "shim")
    yield _noted(part, f"stands on edge, {context.length(height)} high; all {SHIMS} alike matters more than the figure")


def _bars(context: PartContext, helper: Helper, parts: Sequence[PartFeatures]) -> Iterator[PartFeatures]:
    """One bar for each distance between holes that differs from the others, or joins other holes."""
    seen: set[tuple[float, ...]] = set()
    boards = boards_of(context, parts)
    for mesh in context.derived.train.meshes:
        one, two = context.states[mesh.a], context.states[mesh.b]
        for _, board, at in boards:
            holes = [at.at(state.x_mm, state.y_mm) for state in (one, two)]
            if not all(holes):
                continue
            sizes = [item.shape.diameter_mm for item in holes if item is not None and isinstance(item.shape, Round)]
            distance = math.hypot(two.x_mm - one.x_mm, two.y_mm - one.y_mm)
            key = (round(distance, 4), *sorted(round(size, 4) for size in sizes))
            if key not in seen:
                seen.add(key)
                yield _bar(context, board, helper, f"helper.centring_bar.{mesh.id}", (mesh.a, mesh.b), distance, sizes)
            break


def _bar(
    context: PartContext, board: Board, helper: Helper, part: str, names: tuple[str, str], distance: float, sizes: Sequence[float]
) -> PartFeatures:
    cutter = context.cutter_mm(board.cutter.text)
    features = []
    for name, size, x in zip(names, sizes, (-distance / 2.0, distance / 2.0), strict=True):
        drilled = ", drilled" if size < cutter else ""
        title = f"hole over that of {name}, {context.size(size)}{drilled}"
        features.append(
            Feature("bore", "topside", None, Round(x, 0.0, size), title, "as the hole in the board, so that one pin fills "
                "both", cutter,
                    helper.origin)
        )  # fmt: skip
    width = max(sizes) + 2.0 * BAR_WOOD_MM
    made = _part(context, board, helper, part, Outline("slot", distance + width, width), tuple(features), 1, "centring bar")
    return _noted(made, f"holds the centres of {names[0]} and {names[1]} {context.length(distance)} apart")


def _part(
    context: PartContext,
    board: Board,
    helper: Helper,
    part: str,
    outline: Outline,
    features: tuple[Feature, ...],
    quantity: int,
    what: str,
) -> PartFeatures:
    """A plate of the board's sheet, its middle at (0, 0)."""
    sheet, cutter = context.parts.sheets[board.stock.text], context.cutter_mm(board.cutter.text)
    return PartFeatures(
        part=part,
        kind="helper",
        sheet=sheet,
        thickness=sheet.thickness,
        datum="topside",
        outline=outer_as_cut(outline, cutter).translated(-outline.width_mm / 2.0, -outline.height_mm / 2.0),
        outline_title=f"edge of the {what}, {context.overall(outline)}",
        outline_because=f"asked for as `helper {helper.kind}`; its size is common practice, no source",
        cutter_diameter_mm=cutter,
        features=features,
        quantity=quantity,
    )


def _noted(part: PartFeatures, note: str) -> PartFeatures:
    return replace(part, notes=(note,))
