"""Where features stand: single places, grids, bolt circles, mirrored copies."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from trivet.lower.fault import Fault
from trivet.lower.forms import FactForm
from trivet.model.board import Board, Face
from trivet.model.outline import Placed
from trivet.source import Span
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

PLACES = (
    FactForm("at", ("{at:place}", "{board:name} {at:place}"), example="at (240, 40) mm", repeats=True, place=True),
    FactForm(
        "grid",
        ("{columns:count} by {rows:count}",),
        details=("every {dx:length} by {dy:length}", "first_at {first:place}", "first_at {board:name} {first:place}"),
        example="grid 3 by 2, every 50 by 210 mm, first_at (190, 70) mm",
        place=True,
    ),
    FactForm(
        "bolt_circle",
        ("{count:count}",),
        details=("diameter {diameter:length}", "around {centre:place}", "first_at {first:angle}"),
        example="bolt_circle 12, diameter 100 mm, around platform.centre, first_at 0 deg",
        place=True,
    ),
    FactForm("also_mirrored", ("{axis:left_right|near_far}",), example="also_mirrored left_right", place=True),
    FactForm("mirrored", ("{axis:left_right|near_far}",), example="mirrored left_right", place=True),
    FactForm("turned", ("{angle:angle}",), example="turned 30 deg", place=True),
)


def lower_places(reader: Reader, context: Context, board: Board) -> tuple[Placed, ...]:
    """All places of a feature in the world frame, each with its id."""
    name = reader.name.text
    turn: Quantity | None = reader.value("turned", "angle")
    turn_deg = turn.value if turn else 0.0
    found: list[Placed] = []
    singles = reader.all("at")
    context.count_instances(len(singles), reader.origin)
    grid, circle = reader.get("grid"), reader.get("bolt_circle")
    several = len(singles) > 1 or ((grid is not None or circle is not None) and bool(singles))
    for index, reading in enumerate(singles, start=1):
        frame = reading.get("board")
        point = context.world(reading.get("at"), reading.span("at"), context.board_of(frame) if frame else board.name.text)
        found.append(Placed(id=f"{name}.{index}" if several else name, x_mm=point.x, y_mm=point.y, turn_deg=turn_deg))
    if grid is not None:
        found += _grid(reader, context, board, turn_deg)
    if circle is not None:
        found += _circle(reader, context, board, turn_deg)
    if not found:
        reader.need_one("at", "grid", "bolt_circle")
    return _mirrored(tuple(found), reader, board)


def _grid(reader: Reader, context: Context, board: Board, turn_deg: float) -> list[Placed]:
    grid = reader.get("grid")
    assert grid is not None
    for slot in ("dx", "first"):
        if grid.get(slot) is None:
            raise Fault(
                "incomplete-fact",
                "a grid states how far apart and where it begins",
                grid.line.span,
                remedy=f"write `{PLACES[1].example}`",
            )
    columns, rows = int(grid.get("columns").number), int(grid.get("rows").number)
    context.count_instances(columns * rows, grid.line.span)
    frame = grid.get("board")
    first = context.world(grid.get("first"), grid.span("first"), context.board_of(frame) if frame else board.name.text)
    dx, dy = grid.get("dx").mm, grid.get("dy").mm
    return [
        Placed(id=f"{reader.name.text}.{i + 1}.{j + 1}", x_mm=first.x + i * dx, y_mm=first.y + j * dy, turn_deg=turn_deg)
        for i in range(columns)
        for j in range(rows)
    ]


def _circle(reader: Reader, context: Context, board: Board, turn_deg: float) -> list[Placed]:
    circle = reader.get("bolt_circle")
    assert circle is not None
    diameter, centre = circle.get("diameter"), circle.get("centre")
    if diameter is None or centre is None:
        raise Fault(
            "incomplete-fact",
            "a bolt circle states its diameter and centre",
            circle.line.span,
            remedy=f"write `{PLACES[2].example}`",
        )
    count = int(circle.get("count").number)
    context.count_instances(count, circle.line.span)
    middle = context.world(centre, circle.span("centre"), board.name.text)
    start = circle.get("first")
    first = start.value if start else 0.0
    radius = diameter.mm / 2
    placed = []
    for index in range(count):
        angle = math.radians(first + 360 * index / count)
        x, y = middle.x + radius * math.cos(angle), middle.y + radius * math.sin(angle)
        placed.append(Placed(id=f"{reader.name.text}.{index + 1}", x_mm=x, y_mm=y, turn_deg=turn_deg))
    return placed


def _mirrored(places: tuple[Placed, ...], reader: Reader, board: Board) -> tuple[Placed, ...]:
    also, alone = reader.get("also_mirrored"), reader.get("mirrored")
    axis = (also or alone).get("axis") if also or alone else None  # type: ignore[union-attr]  # one of the two is there by the condition
    if axis is None:
        return places
    middle_x = board.x_mm + board.outline.width_mm / 2
    middle_y = board.y_mm + board.outline.height_mm / 2
    copies = tuple(
        Placed(
            id=f"{place.id}.m" if also else place.id,
            x_mm=2 * middle_x - place.x_mm if axis == "left_right" else place.x_mm,
            y_mm=2 * middle_y - place.y_mm if axis == "near_far" else place.y_mm,
            turn_deg=180 - place.turn_deg if axis == "left_right" else -place.turn_deg,
            mirrored=True,
        )
        for place in places
    )
    return places + copies if also else copies


def face_and_board(reader: Reader, context: Context, default: Face) -> tuple[Board, Face, Span]:
    """The board that `into` names and the face (or `default`)."""
    boards = context.collected.of_kind("board")
    reader.need("into", example=f"into {boards[0].name.text}, {default}" if boards else "")
    into = reader.get("into")
    assert into is not None
    board = context.noun(context.refer(into.get("board"), "board"))
    return board, into.get("face", default), into.line.span


INTO = FactForm("into", ("{board:name}",), details=("{face:topside|underside}",), example="into deck, topside")
