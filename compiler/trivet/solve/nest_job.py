"""What is to be nested: the pieces of a fixture by sheet and by the face that is cut first."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from trivet.model.board import Face
from trivet.model.design import Design
from trivet.model.shop import Machine, Sheet
from trivet.record import record, replace
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.nest_records import Job, Piece, Stock
from trivet.solve.part_features import PartFeatures, from_datum
from trivet.solve.parts import part_features
from trivet.solve.work_area import boxes_of, cut_down, fits, machines_of

# Between outlines: the cutter, and so much wood beside its path (4 to 6 mm: common practice, no source).
BESIDE_CUTTER_MM = 5.0
# From the sheet's edge, which is bruised and seldom straight (10 to 15 mm: common practice, no source).
EDGE_MM = 10.0
# Index dowels: 6 or 8 mm and 1/4 in are usual (common practice, no source).
DOWELS_MM, INCH_DOWELS_MM = (6.0, 8.0, 10.0, 12.0), (6.35, 7.9375, 9.525, 12.7)
# More pieces of one kind of sheet than this are not nested.
MOST_PIECES = 600
# Orders tried, held to a bound of pieces laid in all, so that the work and not the clock ends the search.
MOST_STARTS, MOST_LAID = 120, 2000


@record
class Jobs:
    """The jobs, the parts with the datum that they have on their sheets, and the sheets whose parts are not nested."""

    jobs: tuple[Job, ...]
    parts: tuple[PartFeatures, ...]
    not_sized: tuple[str, ...]
    too_many: tuple[str, ...]


def jobs_of(design: Design, derived: Derived) -> Jobs:
    """One job for each sheet, first face and machine with a work area; where no machine has one, all parts of a face go together.

    A part without blind cuts goes with the others of its sheet, whatever their face. Off-cuts are for the first machine.
    """
    parts = part_features(design, derived)
    machines = machines_of(design)
    phases = {state.id: state.phase_rad for state in derived.train.gears}
    jobs: list[Job] = []
    laid: list[PartFeatures] = []
    not_sized: list[str] = []
    too_many: list[str] = []
    for sheet in design.sheets:
        mine = [part for part in parts if part.sheet.name.text == sheet.name.text]
        if not mine:
            continue
        stocks = stocks_of(sheet)
        if not stocks:
            not_sized.append(sheet.name.text)
            laid += mine
            continue
        for face, group in _by_first_face(mine):
            laid += group
            if sum(part.quantity for part in group) > MOST_PIECES:
                too_many.append(sheet.name.text)
                continue
            for number, (machine, held) in enumerate(_by_machine(group, machines, stocks)):
                there = stocks if number == 0 else tuple(stock for stock in stocks if not stock.off_cut)
                jobs.append(_job(design, sheet, face, held, phases, on_machine(there, machine, held), machine))
    order = {part.part: index for index, part in enumerate(parts)}
    return Jobs(tuple(jobs), tuple(sorted(laid, key=lambda part: order[part.part])), tuple(not_sized), tuple(dict.fromkeys(too_many)))


def on_machine(stocks: tuple[Stock, ...], machine: Machine | None, parts: Sequence[PartFeatures]) -> tuple[Stock, ...]:
    """What lies ready, cut into pieces that the machine takes."""
    if machine is None or not parts:
        return stocks
    boxes = [boxes_of(part, turns_deg(part)) for part in parts]
    return tuple(cut_down(stock, machine, boxes, margin_mm(parts[0].sheet)) for stock in stocks)


def stocks_of(sheet: Sheet) -> tuple[Stock, ...]:
    """Off-cuts, the smallest first, then whole sheets; nothing where no size is stated."""
    cuts = sorted(((width.mm, height.mm) for width, height in sheet.off_cuts), key=lambda size: (size[0] * size[1], size))
    found = [Stock(width, height, 1, True) for width, height in cuts]
    if sheet.width is not None and sheet.height is not None:
        found.append(Stock(sheet.width.mm, sheet.height.mm, sheet.count, False))
    return tuple(found)


def spacing_mm(sheet: Sheet, parts: Sequence[PartFeatures]) -> float:
    """Between outlines: as stated, or the widest cutter with room beside it."""
    if sheet.spacing is not None:
        return sheet.spacing.mm
    return widest_cutter_mm(parts) + BESIDE_CUTTER_MM


def widest_cutter_mm(parts: Sequence[PartFeatures]) -> float:
    """The widest cutter that runs round a part."""
    return max((part.cutter_diameter_mm for part in parts), default=0.0)


def margin_mm(sheet: Sheet) -> float:
    """From the sheet's edge to the outlines."""
    return sheet.edge_margin.mm if sheet.edge_margin is not None else EDGE_MM


def turns_deg(part: PartFeatures) -> tuple[float, ...]:
    """How a part may be turned: by right angles, as far as its grain allows; where part or sheet has none, it does not matter."""
    along = part.sheet.face_grain
    if part.grain is None or along is None:
        return (0.0, 90.0, 180.0, 270.0)
    return (0.0, 180.0) if part.grain == along else (90.0, 270.0)


def as_laid(part: PartFeatures) -> Contour:
    """The outline seen from the part's datum face, about its own (0, 0)."""
    return part.outline.mirrored_x() if part.datum == "underside" else part.outline


def dowel_mm(design: Design, sheet: Sheet, cutter_mm: float) -> float:
    """The index dowels: as stated, or the thinnest usual one that the cutter can bore."""
    if sheet.registration is not None:
        return sheet.registration.mm
    usual = INCH_DOWELS_MM if design.hardware == "inch" else DOWELS_MM
    return next((size for size in usual if size >= cutter_mm), usual[-1])


def _by_first_face(parts: Sequence[PartFeatures]) -> Iterator[tuple[Face, list[PartFeatures]]]:
    free = [part for part in parts if part.kind != "board" and all(item.through for item in part.features)]
    bound = [part for part in parts if part not in free]
    area = {face: sum(part.outline.area_mm2 for part in bound if part.datum == face) for face in ("underside", "topside")}
    most: Face = "underside" if area["underside"] >= area["topside"] and bound else "topside"
    least: Face = "topside" if most == "underside" else "underside"
    faces: tuple[Face, Face] = (most, least)
    for face in faces:
        chosen = [part for part in parts if (part.datum == face if part in bound else face == most)]
        if chosen:
            yield face, [from_datum(replace(part, datum=face)) for part in chosen]


def _by_machine(
    parts: Sequence[PartFeatures], machines: Mapping[str, Machine], stocks: tuple[Stock, ...]
) -> list[tuple[Machine | None, list[PartFeatures]]]:
    """Parts by the machine that cuts them; keepers, spacers and helpers, which name none, go with the first where it takes them."""
    groups: dict[str, tuple[Machine | None, list[PartFeatures]]] = {}
    others = []
    for part in parts:
        machine = machines.get(part.belongs_to or part.part)
        if machine is None and part.kind not in ("board", "gear"):
            others.append(part)
        else:
            groups.setdefault(machine.name.text if machine is not None else "", (machine, []))[1].append(part)
    for part in others:
        name = next(iter(groups), "")
        first, held = groups.get(name, (None, []))
        there = on_machine(stocks, first, [*held, part])
        if not any(fits(boxes_of(part, turns_deg(part)), stock, margin_mm(part.sheet)) for stock in there):
            name, first = "", None
        groups.setdefault(name, (first, []))[1].append(part)
    return list(groups.values())


def _job(
    design: Design,
    sheet: Sheet,
    face: Face,
    parts: Sequence[PartFeatures],
    phases: dict[str, float],
    stocks: tuple[Stock, ...],
    machine: Machine | None,
) -> Job:
    pieces = tuple(piece for part in parts for piece in _pieces(part, phases))
    cutter = widest_cutter_mm(parts)
    ways = sum(len(piece.turns_deg) for piece in pieces)
    return Job(
        sheet=sheet.name.text,
        first_face=face,
        pieces=pieces,
        stocks=stocks,
        spacing_mm=spacing_mm(sheet, parts),
        margin_mm=margin_mm(sheet),
        cutter_mm=cutter,
        dowel_mm=dowel_mm(design, sheet, cutter),
        two_faced=frozenset(part.part for part in parts if len(part.faces) > 1),
        starts=max(1, min(MOST_STARTS, MOST_LAID // max(1, ways))),
        unit=design.units,
        machine=machine.name.text if machine is not None else "",
    )


def _pieces(part: PartFeatures, phases: dict[str, float]) -> Iterator[Piece]:
    outline, turned, turns = as_laid(part), 0.0, turns_deg(part)
    if part.kind == "gear":
        # Equal gears differ in phase only: laid with a tooth at +x they are one shape, nested faster and alike.
        phase = phases[part.belongs_to or part.part]
        turned = math.degrees(phase if part.datum == "underside" else -phase)
        outline, turns = _plain(outline.rotated(math.radians(turned))), (0.0,)
    for copy in range(1, part.quantity + 1):
        yield Piece(part.part, copy, outline, turns, turned)


def _plain(contour: Contour) -> Contour:
    """Rounded, and begun at its first point from below, so that equal gears are equal."""
    vertices = [replace(v, x=round(v.x, 5) + 0.0, y=round(v.y, 5) + 0.0, bulge=round(v.bulge, 9) + 0.0) for v in contour.vertices]
    first = min(range(len(vertices)), key=lambda k: (round(vertices[k].x, 3), round(vertices[k].y, 3)))
    return Contour(tuple(vertices[first:] + vertices[:first]))
