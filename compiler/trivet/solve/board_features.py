"""A board as a part: its outline, what the mechanism needs in it, and what the file states."""

from __future__ import annotations

from trivet.model.board import Board
from trivet.solve.board_fasteners import fastener_cuts
from trivet.solve.board_feet import foot_cuts
from trivet.solve.board_stated import stated_cuts
from trivet.solve.keeper_cuts import keeper_pilots
from trivet.solve.laminate import layers_of
from trivet.solve.outline_contour import outer_as_cut
from trivet.solve.part_context import PartContext
from trivet.solve.part_features import PartFeatures

LINED_UP = "the layers are lined up by their edges and holes; no dowels for that are drawn"


def board_parts(context: PartContext, board: Board) -> tuple[PartFeatures, ...]:
    """The board, or each of its layers."""
    cutter = context.cutter_mm(board.cutter.text)
    outline = outer_as_cut(board.outline, cutter)
    sheet = context.parts.sheets[board.stock.text]
    feet, notes = foot_cuts(context, board)
    cut = "each inward corner opened by the cutter" if board.outline.relieved else "inward corners have the cutter's radius"
    part = PartFeatures(
        part=board.name.text,
        kind="board",
        sheet=sheet,
        thickness=context.parts.board_thickness(board.name.text),
        datum=board.datum,
        outline=outline,
        outline_title=f"edge of {board.name.text}, {context.overall(board.outline)}",
        outline_because=f"{board.outline.shape} as stated; {cut}",
        cutter_diameter_mm=cutter,
        features=tuple(
            item.moved(-board.x_mm, -board.y_mm)
            for item in (*fastener_cuts(context, board), *feet, *keeper_pilots(context, board), *stated_cuts(context, board))
        ),
        flip_x_mm=board.outline.width_mm / 2.0,
        grain=board.grain or sheet.face_grain,
        notes=(*notes, LINED_UP) if board.layers > 1 else notes,
    )
    return layers_of(part, board.layers, context.design.units)
