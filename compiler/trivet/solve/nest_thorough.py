"""A stronger search for one sheet, by a packing engine that works against the clock: wanted by option only, and kept to be repeated."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest import Progress, assembled, laid_job
from trivet.solve.nest_apart import SLACK_MM, keeps_apart
from trivet.solve.nest_job import Jobs, jobs_of
from trivet.solve.nest_place import Laid, Spot
from trivet.solve.nest_records import Job, Nest
from trivet.solve.nest_shapes import grown

SECONDS = 20
SEED = 20


class EngineMissing(RuntimeError):
    """The packing engine is not installed."""


def thorough_nest(design: Design, derived: Derived, seconds: int = SECONDS, progress: Progress | None = None) -> Nest:
    """The usual nest, and in its place what the engine finds where that takes fewer sheets or less of the last one.

    Raises `EngineMissing` where the engine is not installed. Its time is bounded by the clock, so two runs may differ.
    """
    try:
        import spyrrow  # noqa: F401 - only whether it is installed
    except ImportError as error:
        raise EngineMissing(str(error)) from error
    jobs: Jobs = jobs_of(design, derived)
    found = {}
    for job in jobs.jobs:
        usual = laid_job(job, progress)
        if progress is not None:
            progress(f"nesting {job.sheet}: searching for {seconds} s", True)
        other = _on_one_sheet(job, seconds)
        if other is None or usual.left_over or _cost(other, job) >= _cost(usual, job):
            other = usual
        found[job] = other
    return assembled(jobs, found, "thorough")


def _on_one_sheet(job: Job, seconds: int) -> Laid | None:
    """All pieces on one whole sheet, as far to its left as the engine gets them; None where that does not succeed."""
    import spyrrow

    stock = next((stock for stock in job.stocks if not stock.off_cut), None)
    if stock is None or len(job.pieces) < 2 or any(item.off_cut for item in job.stocks):
        return None
    half = job.spacing_mm / 2.0
    inset = job.margin_mm - half
    shapes = [grown(piece.outline, half, 0.0, 0.0) for piece in job.pieces]
    items = [
        spyrrow.Item(str(k), list(shape.points), 1, list(piece.turns_deg))
        for k, (shape, piece) in enumerate(zip(shapes, job.pieces, strict=True))
    ]
    height = stock.height_mm - 2.0 * inset
    try:
        solved = spyrrow.StripPackingInstance(job.sheet, height, items).solve(
            spyrrow.StripPackingConfig(total_computation_time=seconds, num_workers=1, seed=SEED)
        )
    except (ValueError, RuntimeError):
        return None
    if len(solved.placed_items) != len(job.pieces):
        return None
    spots: list[Spot] = []
    for item in solved.placed_items:
        x, y = item.translation
        spots.append((0, int(item.id), round(x + inset, 3), round(y + inset, 3), round(float(item.rotation) % 360.0, 6)))
    laid = Laid((stock,), tuple(sorted(spots, key=lambda spot: spot[1])), (), ())
    return laid if keeps_apart(job, laid) else None


def _cost(laid: Laid, job: Job) -> tuple[int, float]:
    last = len(laid.stocks) - 1
    far = max(job.pieces[k].at(x, y, turn).bounds[2] for sheet, k, x, y, turn in laid.spots if sheet == last)
    return len(laid.stocks), far - SLACK_MM
