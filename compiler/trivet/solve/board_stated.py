"""What the file states for a board: holes, pockets, labels, magnets and dowels, in the world frame."""

from __future__ import annotations

from trivet.lower.holes import FIT_MM
from trivet.model.board import Board, Dowel, Engrave, Hole, MagnetPlace, Pocket
from trivet.solve.feature import Feature, Label, Operation, Round
from trivet.solve.outline_contour import inner_as_cut, placed
from trivet.solve.part_context import PartContext


def stated_cuts(context: PartContext, board: Board) -> tuple[Feature, ...]:
    """Everything that `into` puts in this board, in the order of the file within each kind."""
    design, name = context.design, board.name.text
    found: list[Feature] = []
    for hole in design.holes:
        if hole.into.text == name:
            found += _holes(context, board, hole)
    for pocket in design.pockets:
        if pocket.into.text == name:
            found += _pockets(context, board, pocket)
    for magnet in design.magnets:
        if magnet.into.text == name:
            found += _magnets(context, board, magnet)
    for dowel in design.dowels:
        found += _dowels(context, board, dowel)
    for label in design.engravings:
        if label.into.text == name:
            found += _labels(context, label)
    return tuple(found)


def _holes(context: PartContext, board: Board, hole: Hole) -> list[Feature]:
    cutter = context.cutter_mm((hole.cutter or board.cutter).text)
    diameter = hole.drill_mm if hole.drill_mm is not None else hole.diameter_mm
    because = hole.because
    if hole.fit in FIT_MM:
        because = f"{because.partition(',')[0]}, {_fit_words(context, hole.fit)}"
    if hole.drill_mm is not None:
        because += "; drilled as stated"
    depth = hole.depth.mm if hole.depth is not None else None
    found = []
    for place in hole.places:
        title = f"hole {place.id}, {context.size(diameter)}" + (", drilled" if diameter < cutter else "")
        face = hole.face if depth is not None else board.datum
        shape = Round(place.x_mm, place.y_mm, diameter)
        found.append(Feature("bore", face, depth, shape, title, because, cutter, hole.origin))
        sunk = hole.counterbore
        if sunk is not None:
            words = f"counterbore for {sunk.for_standard}" if sunk.for_standard else "counterbore as stated"
            shape = Round(place.x_mm, place.y_mm, sunk.diameter_mm)
            title = f"counterbore of {place.id}, {context.size(sunk.diameter_mm)}"
            found.append(Feature("counterbore", sunk.face, sunk.depth_mm, shape, title, words, cutter, sunk.origin))
    return found


def _fit_words(context: PartContext, fit: str) -> str:
    return f"{fit} fit {'-' if FIT_MM[fit] < 0.0 else '+'}{context.length(abs(FIT_MM[fit]))}"


def _pockets(context: PartContext, board: Board, pocket: Pocket) -> list[Feature]:
    cutter = context.cutter_mm((pocket.cutter or board.cutter).text)
    outline = pocket.outline
    operation: Operation = "opening" if pocket.depth is None else "pocket"
    size = context.overall(outline)
    corners = (
        "corners opened by the cutter so that a square part seats" if outline.relieved else "corners as the cutter leaves them"
    )
    contour = inner_as_cut(outline, cutter)
    depth = pocket.depth.mm if pocket.depth is not None else None
    found = []
    for place in pocket.places:
        shape = placed(contour, outline, place, 0.0, 0.0)
        face = pocket.face if depth is not None else board.datum
        found.append(
            Feature(
                operation, face, depth, shape, f"{operation} {place.id}, {size}", f"as stated; {corners}", cutter, pocket.origin
            )
        )
    return found


def _magnets(context: PartContext, board: Board, magnet: MagnetPlace) -> list[Feature]:
    pole = f", {magnet.polarity} pole showing" if magnet.polarity else ""
    disc = f"{context.length(magnet.disc.diameter_mm)} by {context.length(magnet.disc.thickness_mm)}"
    because = f"disc {disc}, {magnet.fit} fit (common practice, no source)"
    return [
        Feature(
            "pocket",
            magnet.face,
            magnet.hole_depth_mm,
            Round(place.x_mm, place.y_mm, magnet.hole_diameter_mm),
            f"pocket for the magnet {place.id}, {context.size(magnet.hole_diameter_mm)}{pole}",
            because,
            context.cutter_mm(board.cutter.text),
            magnet.origin,
        )
        for place in magnet.places
    ]


def _dowels(context: PartContext, board: Board, dowel: Dowel) -> list[Feature]:
    """Through every board named: how far a shorter dowel would go into which board the file does not say."""
    found = []
    for name, fit in dowel.into:
        if name != board.name.text:
            continue
        diameter = dowel.diameter_mm + FIT_MM[fit]
        because = f"dowel {context.length(dowel.diameter_mm)}, {_fit_words(context, fit)} (common practice, no source)"
        for place in dowel.places:
            title = f"hole for the dowel {place.id}, {context.size(diameter)}"
            shape = Round(place.x_mm, place.y_mm, diameter)
            cutter = context.cutter_mm(board.cutter.text)
            found.append(Feature("bore", board.datum, None, shape, title, because, cutter, dowel.origin))
    return found


def _labels(context: PartContext, label: Engrave) -> list[Feature]:
    """A mirrored place has its letters the right way round all the same."""
    found = []
    for place in label.places:
        turn = (place.turn_deg + 90.0) % 180.0 - 90.0 if place.mirrored else place.turn_deg
        shape = Label(place.x_mm, place.y_mm, label.text, label.height.mm, turn)
        title = f"label {place.id}, capitals {context.size(label.height.mm)} high"
        cutter = context.cutter_mm(label.cutter.text)
        found.append(Feature("engrave", label.face, label.depth.mm, shape, title, "as stated", cutter, label.origin))
    return found
