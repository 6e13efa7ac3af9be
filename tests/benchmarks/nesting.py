"""`python -m tests.benchmarks.nesting` compares the nest of each example with boxes packed and with what the area alone asks for.

Boxes: each part's upright box grown by the spacing, packed by rectpack with every one of its algorithms and orders; the best is taken.
Length: how far along the sheet the parts reach; the area bound is the parts' area over the sheet's height, margins and gaps left out.
"""

from __future__ import annotations

import sys
import time

from tests.part_samples import EXAMPLES, example

from trivet.solve.nest import laid_job
from trivet.solve.nest_job import jobs_of
from trivet.solve.nest_place import Laid
from trivet.solve.nest_records import Job


def packed_boxes(job: Job) -> tuple[int, float]:
    """Sheets and the length used of the last, mm, when boxes are packed; turned where the grain allows."""
    import rectpack
    from rectpack import guillotine, maxrects, skyline

    stock = next(stock for stock in job.stocks if not stock.off_cut)
    inner = (stock.width_mm - 2 * job.margin_mm + job.spacing_mm, stock.height_mm - 2 * job.margin_mm + job.spacing_mm)
    sizes = []
    for piece in job.pieces:
        x0, y0, x1, y1 = piece.outline.bounds
        sizes.append((x1 - x0 + job.spacing_mm, y1 - y0 + job.spacing_mm))
    free = all(len(piece.turns_deg) != 2 for piece in job.pieces)
    best: tuple[int, float] | None = None
    algorithms = (maxrects.MaxRectsBl, maxrects.MaxRectsBssf, maxrects.MaxRectsBaf, skyline.SkylineBl, guillotine.GuillotineBssfSas)
    for algorithm in algorithms:
        for order in (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI):
            # Upright, so that the lowest place comes first along the sheet's length.
            packer = rectpack.newPacker(pack_algo=algorithm, sort_algo=order, rotation=free)
            for k, (wide, high) in enumerate(sizes):
                packer.add_rect(round(high * 1000), round(wide * 1000), k)
            packer.add_bin(int(inner[1] * 1000), int(inner[0] * 1000), count=len(sizes))
            packer.pack()
            if len(packer.rect_list()) != len(sizes):
                continue
            last = len(packer) - 1
            far = max(y + high for bin_, _, y, _, high, _ in packer.rect_list() if bin_ == last) / 1000.0
            found = (len(packer), job.margin_mm + far - job.spacing_mm)
            best = found if best is None or found < best else best
    assert best is not None
    return best


def used(job: Job, laid: Laid) -> tuple[int, float]:
    """Sheets and the length used of the last, mm."""
    last = len(laid.stocks) - 1
    return len(laid.stocks), max(job.pieces[k].at(x, y, turn).bounds[2] for number, k, x, y, turn in laid.spots if number == last)


def main() -> int:
    """Measure and print; nothing is asserted."""
    rows = [("example", "pieces", "nest", "boxes", "area alone", "time")]
    for path in EXAMPLES:
        design, derived, _ = example(path)
        for job in jobs_of(design, derived).jobs:
            begun = time.perf_counter()
            laid = laid_job(job)
            took = time.perf_counter() - begun
            stock = next(stock for stock in job.stocks if not stock.off_cut)
            area = sum(piece.outline.area_mm2 for piece in job.pieces) / stock.height_mm
            (sheets, length), (box_sheets, box_length) = used(job, laid), packed_boxes(job)
            rows.append(
                (
                    f"{path.stem}, {job.first_face} first", str(len(job.pieces)), f"{sheets} sheets, {length:.0f} mm",
                    f"{box_sheets} sheets, {box_length:.0f} mm", f"{area:.0f} mm", f"{took:.2f} s",
                )
            )  # fmt: skip
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
    print("lengths are of the last sheet; the area's is of all sheets together, without margins and without room for the cutter")
    return 0


if __name__ == "__main__":
    sys.exit(main())
