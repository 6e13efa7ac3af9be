"""Figure: the board on supports of one height, each foot turned down until a slip of paper grips."""

from __future__ import annotations

from trivet.drawing.figure import Figure, FigureLayer, arrow, box, leader, line, note
from trivet.drawing.shapes import Shape
from trivet.model.design import Design
from trivet.solve.derived import Derived, FootState
from trivet.units import length_text

# Widths are a sketch, heights are real.
BOARD_MM, SHIM_MM, GEAR_MM, SCREW_MM = 150.0, 9.0, 34.0, 5.0
BENCH_MM, PAPER_MM = 5.0, 0.8


def zero_figure(design: Design, derived: Derived, height_mm: float) -> Figure:
    """Two of the feet, from the side."""
    feet = derived.feet[:2] if len(derived.feet) > 1 else (*derived.feet, *derived.feet)
    level = next(item for item in derived.boards if item.board.name.text == feet[0].foot.into.text)
    top = height_mm + level.thickness.mean
    half = BOARD_MM / 2.0
    wood: list[Shape] = [box(-half, height_mm, half, top, "board")]
    wood += [box(side * half - SHIM_MM / 2.0, 0.0, side * half + SHIM_MM / 2.0, height_mm, "shim") for side in (-0.93, 0.93)]
    metal: list[Shape] = []
    paper: list[Shape] = []
    for state, middle in zip(feet, (-half / 2.0, half / 2.0), strict=True):
        gear, low = _foot(derived, state, middle, height_mm, top)
        wood.append(gear)
        metal.append(box(middle - SCREW_MM / 2.0, low, middle + SCREW_MM / 2.0, min(top - 1.0, top), "screw"))
        paper.append(box(middle - 9.0, 0.0, middle + 9.0, PAPER_MM, "paper"))
    bench: list[Shape] = [box(-half - 12.0, -BENCH_MM, half + 12.0, 0.0, "bench")]
    x = half + 16.0
    lines: list[Shape] = [*arrow(x, height_mm / 2.0, x, height_mm, "height"), *arrow(x, height_mm / 2.0, x, 0.0, "height")]
    lines += [line(half, height_mm, x + 2.0, height_mm, "height"), line(half, 0.0, x + 2.0, 0.0, "height")]
    lines += [
        leader(half / 2.0 + 9.0, -BENCH_MM - 4.0, half / 2.0 + 5.0, 0.0, "paper"),
        leader(-half * 0.93, -BENCH_MM - 4.0, -half * 0.93, 2.0, "shim"),
    ]
    notes: list[Shape] = [
        note(x + 3.0, height_mm / 2.0, length_text(height_mm, design.units)),
        note(half / 2.0 + 10.0, -BENCH_MM - 4.0, "paper just grips"),
        note(-half * 0.93 + 2.0, -BENCH_MM - 6.0, "equal supports"),
        note(0.0, top + 5.0, f"{level.board.name.text}, topside up", "middle"),
        note(0.0, -BENCH_MM - 13.0, "turn each gear by hand, go round twice", "middle"),
    ]
    layers = (FigureLayer("bench", tuple(bench)), FigureLayer("wood", tuple(wood)), FigureLayer("metal", tuple(metal)),
              FigureLayer("paper", tuple(paper)), FigureLayer("line", tuple(lines)), FigureLayer("note", tuple(notes)))  # fmt: skip
    words = (
        f"From the side, heights real and widths a sketch: the board on supports {length_text(height_mm, design.units)} high, "
        "paper under each foot."
    )
    return Figure("Setting the feet level", words, layers)


def _foot(derived: Derived, state: FootState, middle: float, height_mm: float, top_mm: float) -> tuple[Shape, float]:
    """The gear where it stands when the foot touches the paper, and the lowest point of the screw."""
    thick = derived.train.gear(state.gear).face_width.mean
    low = PAPER_MM
    bottom = low + state.proud_mm if state.foot.kind == "riding" else height_mm - thick - 1.0
    return box(middle - GEAR_MM / 2.0, bottom, middle + GEAR_MM / 2.0, bottom + thick, "gear"), low
