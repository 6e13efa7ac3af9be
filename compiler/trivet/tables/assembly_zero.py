"""Words for setting the feet level before anything couples them."""

from __future__ import annotations

from trivet.solve.helper_parts import shim_height_mm
from trivet.solve.part_context import part_context
from trivet.tables.bench_step import Bench, BenchStep
from trivet.tables.bench_words import bench_step, names


def zero_step(bench: Bench, coupled_later: tuple[str, ...]) -> BenchStep | None:
    """The step of zeroing; `coupled_later`: the gears that are still out. None without feet or a stroke."""
    feet = bench.derived.feet
    height = shim_height_mm(part_context(bench.design, bench.derived))
    if not feet or height is None:
        return None
    cut = (
        "the four shims that were cut with the parts, on edge" if bench.helper("shim")
        else "four supports of one height (`helper shims` has them cut with the parts)"
    )  # fmt: skip
    board = feet[0].foot.into.text
    rods = all(state.foot.kind == "captured_nut" for state in feet)
    out = (
        f"While {names(coupled_later)} {'are' if len(coupled_later) > 1 else 'is'} out, every foot turns by itself."
        if coupled_later else "Gears that couple the feet are in already: lift the last of them out for this, and put it back "
            "afterwards."
    )  # fmt: skip
    details = [
        f"On a surface that you know to be flat, stand `{board}` on {cut}, {bench.length(height)} high, where no gear hangs, "
        f"topside up. {out}",
        "Lay a slip of paper under each foot and turn it down, by its gear, until the paper just grips. Go round twice: the "
        "last foot moves the first.",
        "Hold each gear to the board with a strip of tape, so that it cannot turn while the rest is put in."
        if not rods
        else "Hold each gear with a strip of tape or a wedge, so that it cannot turn while the rest is put in.",
        "Then turn the board over onto its topside, the tape holding, for what goes in from below.",
        _steps(bench),
    ]
    if len(feet) > 3:
        details.append(
            "Four feet rock by what is left; three of them always stand. Flip the fixture end for end on the bench: what rocks "
            "with the fixture is its own."
        )
    return BenchStep(
        "zero", tuple(state.id for state in feet), f"Set the feet level: {names(state.id for state in feet)}.", tuple(details)
    )


def _steps(bench: Bench) -> str:
    """What a tooth moves, and what is left when the rest comes into mesh."""
    steps = sorted({round(state.zero_step_mm, 6) for state in bench.derived.feet})
    if len(steps) == 1:
        step = steps[0]
        return (
            "When the rest comes into mesh, each foot's gear goes to its nearest tooth: one tooth is "
            f"{bench_step(step, bench.unit)} of height, so at most "
            f"{bench_step(step / 2.0, bench.unit)} is left at a foot. To correct one later: lift its neighbour out, turn its "
            "gear on by one tooth, put it back."
        )
    shown = ", ".join(f"{bench_step(state.zero_step_mm, bench.unit)} at `{state.id}`" for state in bench.derived.feet)
    return f"One tooth is {shown}: half of that may be left at each foot."
