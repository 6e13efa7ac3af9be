"""The parts of a fixture laid on its sheets: bounded by work, never by the clock, so that the same fixture is always laid alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache

from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest_apart import keeps_apart
from trivet.solve.nest_job import Jobs, jobs_of
from trivet.solve.nest_place import Bench, Laid, lay
from trivet.solve.nest_records import Job, Lying, Nest, NestedSheet, Piece
from trivet.solve.nest_registration import index_holes, reserve_mm

Progress = Callable[[str, bool], None]
"""Called with a line of words each time an order was tried; the second says whether a wait of many seconds follows."""

SEED = 20
# Multiplier and increment of a linear congruential generator modulo 2^64 (Knuth, MMIX; from memory): the same on every machine.
_MULTIPLY, _ADD = 6364136223846793005, 1442695040888963407


def nest(design: Design, derived: Derived, progress: Progress | None = None) -> Nest:
    """The nest of all parts. Parts of sheets without a size are not nested; what finds no place is in `left_over`."""
    jobs = jobs_of(design, derived)
    return assembled(jobs, {job: laid_job(job, progress) for job in jobs.jobs})


def assembled(jobs: Jobs, found: Mapping[Job, Laid], came_from: str = "computed") -> Nest:
    """The nest that the laid jobs make; sheets of one kind are numbered on through its jobs."""
    sheets: list[NestedSheet] = []
    left: list[tuple[str, str]] = []
    numbers: dict[str, int] = {}
    for job in jobs.jobs:
        laid = found[job]
        sheets += sheets_of(job, laid, numbers.get(job.sheet, 0))
        numbers[job.sheet] = numbers.get(job.sheet, 0) + len(laid.stocks)
        left += [(job.sheet, job.pieces[index].id) for index in laid.left_over]
    return Nest(
        sheets=tuple(sheets),
        parts=jobs.parts,
        left_over=tuple(left),
        not_sized=(*jobs.not_sized, *jobs.too_many),
        least_sheets=tuple((job.sheet, least_sheets(job)) for job in jobs.jobs),
        came_from=came_from,
    )


def least_sheets(job: Job) -> int:
    """Whole sheets that the pieces' area alone asks for, margins and room between pieces left out; off-cuts taken off first."""
    area = sum(piece.outline.area_mm2 for piece in job.pieces)
    area -= sum(stock.width_mm * stock.height_mm * stock.per_sheet for stock in job.stocks if stock.off_cut)
    whole = next((stock.width_mm * stock.height_mm * stock.per_sheet for stock in job.stocks if not stock.off_cut), None)
    return 0 if whole is None or area <= 0.0 else int(-(-area // whole))


def laid_job(job: Job, progress: Progress | None = None) -> Laid:
    """The best of the orders tried. Where a sheet then lacks room for its index holes, all is laid again with room kept for them."""
    found = _search(job, 0.0, progress)
    if any(sheet.no_room for sheet in sheets_of(job, found, 0)):
        again = _search(job, reserve_mm(job), progress)
        if len(again.left_over) <= len(found.left_over):
            return again
    return found


@lru_cache(maxsize=64)
def _known(job: Job, reserved_mm: float) -> Laid:
    return _search_now(job, reserved_mm, None)


def _search(job: Job, reserved_mm: float, progress: Progress | None) -> Laid:
    """Remembered where nobody watches, since rule, drawings, summary and report all ask."""
    return _known(job, reserved_mm) if progress is None else _search_now(job, reserved_mm, progress)


def _search_now(job: Job, reserved_mm: float, progress: Progress | None) -> Laid:
    """Orders by area, by length and by breadth first; then the best with two pieces exchanged, as often as `starts` says."""
    bench = Bench(job, reserved_mm)
    every = range(len(job.pieces))
    sizes = [_size(piece) for piece in job.pieces]
    orders = [
        sorted(every, key=lambda k: (-job.pieces[k].outline.area_mm2, bench.keys[k], k)),
        sorted(every, key=lambda k: (-max(sizes[k]), bench.keys[k], k)),
        sorted(every, key=lambda k: (-min(sizes[k]), bench.keys[k], k)),
    ]
    best: tuple[Laid, list[int]] | None = None
    state = SEED
    tried = set()
    for start in range(job.starts):
        if start < len(orders):
            order = orders[start]
        else:
            order = list(best[1] if best is not None else orders[0])
            for _ in range(1 + start % 3):
                state, a = _draw(state, len(order))
                state, b = _draw(state, len(order))
                order[a], order[b] = order[b], order[a]
        kinds = tuple(bench.keys[k] for k in order)
        if kinds in tried:
            continue
        tried.add(kinds)
        laid = lay(bench, order)
        if (best is None or laid.cost < best[0].cost) and keeps_apart(job, laid):
            best = laid, order
        if progress is not None:
            progress(f"nesting {job.sheet}: {len(job.pieces)} pieces, order {start + 1} of {job.starts}", False)
    return best[0] if best is not None else Laid((), (), tuple(every), ())


@lru_cache(maxsize=16)
def sheets_of(job: Job, laid: Laid, before: int) -> tuple[NestedSheet, ...]:
    """The sheets of a laid job, numbered from `before` + 1, with their index holes. Remembered: they are asked for twice."""
    found = []
    for number, stock in enumerate(laid.stocks):
        spots = [(job.pieces[index], x, y, turn) for sheet, index, x, y, turn in laid.spots if sheet == number]
        outlines = [piece.at(x, y, turn) for piece, x, y, turn in spots]
        boxes = [outline.bounds for outline in outlines]
        used = (
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )
        two_faced = any(piece.part in job.two_faced for piece, *_ in spots)
        found.append(
            NestedSheet(
                sheet=job.sheet,
                number=before + number + 1,
                first_face=job.first_face,
                width_mm=stock.width_mm,
                height_mm=stock.height_mm,
                off_cut=stock.off_cut,
                lying=tuple(
                    Lying(piece.part, piece.copy, x, y, round((turn + piece.turned_deg) % 360.0, 6)) for piece, x, y, turn in spots
                ),
                used_mm=used,
                area_mm2=sum(outline.area_mm2 for outline in outlines),
                two_faced=two_faced,
                spacing_mm=job.spacing_mm,
                margin_mm=job.margin_mm,
                dowel_mm=job.dowel_mm,
                holes=index_holes(job, stock, outlines, used) if two_faced else (),
                machine=job.machine,
                per_sheet=stock.per_sheet,
                cut_from_mm=stock.cut_from_mm,
            )
        )
    return tuple(found)


def _size(piece: Piece) -> tuple[float, float]:
    x0, y0, x1, y1 = piece.outline.bounds
    return x1 - x0, y1 - y0


def _draw(state: int, count: int) -> tuple[int, int]:
    state = (state * _MULTIPLY + _ADD) % 2**64
    return state, (state >> 33) % count
