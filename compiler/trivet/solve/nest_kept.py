"""An accepted placement, as plain data to be kept beside the fixture: used again as long as parts and sheets are what they were."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from typing import Any

from trivet.solve.contour import Contour
from trivet.solve.nest import assembled
from trivet.solve.nest_apart import nearness
from trivet.solve.nest_job import Jobs
from trivet.solve.nest_place import Laid, Spot
from trivet.solve.nest_records import Job, Nest, Stock

FORM = 1


class NotKept(ValueError):
    """Why a placement cannot be used, in words that follow "the placement"."""


def kept_record(jobs: Jobs, nest: Nest) -> dict[str, object]:
    """The placement with a mark of what it holds."""
    return {
        "form": FORM,
        "holds": mark_of(jobs),
        "sheets": [
            ({"machine": sheet.machine} if sheet.machine else {})
            | {
                "sheet": sheet.sheet,
                "first_face": sheet.first_face,
                "width_mm": sheet.width_mm,
                "height_mm": sheet.height_mm,
                "off_cut": sheet.off_cut,
                "pieces": [
                    {"part": item.part, "copy": item.copy, "x_mm": item.x_mm, "y_mm": item.y_mm, "turn_deg": item.turn_deg}
                    for item in sheet.lying
                ],
            }
            for sheet in nest.sheets
        ],
    }


def mark_of(jobs: Jobs) -> str:
    """A hash of all that a placement depends on: outlines to 0.001 mm, quantities, sheets, spacing, margin, faces, dowels."""
    told = [
        (
            job.sheet, job.first_face, round(job.spacing_mm, 3), round(job.margin_mm, 3), round(job.dowel_mm, 3),
            [(round(stock.width_mm, 3), round(stock.height_mm, 3), stock.count, stock.off_cut) for stock in job.stocks],
            sorted((piece.part, piece.copy, _rounded(piece.outline), piece.turns_deg) for piece in job.pieces),
            sorted(job.two_faced), *([job.machine] if job.machine else []),
        )
        for job in jobs.jobs
    ]  # fmt: skip
    return "sha256:" + hashlib.sha256(repr(told).encode("utf-8")).hexdigest()


def kept_nest(jobs: Jobs, record: object) -> Nest:
    """The nest as kept; raises `NotKept` where it does not hold for these parts and sheets, or is not what `kept_record` makes."""
    if not isinstance(record, Mapping) or record.get("form") != FORM:
        raise NotKept("is not in a form that this version reads")
    if record.get("holds") != mark_of(jobs):
        raise NotKept("is for other parts or sheets than these")
    try:
        found = {job: _laid(job, [sheet for sheet in record["sheets"] if _of(sheet, job)]) for job in jobs.jobs}
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError) as error:
        raise NotKept(str(error) if isinstance(error, NotKept) else "is damaged") from None
    return assembled(jobs, found, "kept")


def _of(sheet: Mapping[str, Any], job: Job) -> bool:
    return bool(sheet["sheet"] == job.sheet and sheet["first_face"] == job.first_face and sheet.get("machine", "") == job.machine)


def _laid(job: Job, sheets: Sequence[Mapping[str, Any]]) -> Laid:
    index = {(piece.part, piece.copy): k for k, piece in enumerate(job.pieces)}
    known = {(stock.width_mm, stock.height_mm, stock.off_cut): stock for stock in job.stocks}
    stocks: list[Stock] = []
    spots: list[Spot] = []
    for number, sheet in enumerate(sheets):
        stocks.append(known[float(sheet["width_mm"]), float(sheet["height_mm"]), bool(sheet["off_cut"])])
        for item in sheet["pieces"]:
            k = index.pop((item["part"], item["copy"]))
            turn = (float(item["turn_deg"]) - job.pieces[k].turned_deg) % 360.0
            spots.append((number, k, float(item["x_mm"]), float(item["y_mm"]), turn))
    if any(_used_too_often(stocks, stock) for stock in job.stocks):
        raise NotKept("takes more sheets than there are")
    for number, stock in enumerate(stocks):
        fault = nearness(job, stock, [job.pieces[k].at(x, y, turn) for sheet, k, x, y, turn in spots if sheet == number])
        if fault:
            raise NotKept(fault)
    return Laid(tuple(stocks), tuple(spots), tuple(sorted(index.values())), ())


def _used_too_often(stocks: Sequence[Stock], stock: Stock) -> bool:
    alike = sum(1 for other in stocks if other == stock)
    return stock.count is not None and not stock.off_cut and alike > stock.count


def _rounded(contour: Contour) -> tuple[tuple[float, float, float], ...]:
    return tuple((round(v.x, 3) + 0.0, round(v.y, 3) + 0.0, round(v.bulge, 5) + 0.0) for v in contour.vertices)
