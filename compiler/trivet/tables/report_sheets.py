"""The `sheets` of report.json, and the lines of the summary that say how much of the sheets is used."""

from __future__ import annotations

from trivet.solve.nest_records import Nest, NestedSheet
from trivet.solve.work_area import whole_sheets

Record = dict[str, object]


def sheet_records(nest: Nest) -> list[Record]:
    """One record a sheet: its pieces with place and turn, seen from the face that is cut first, index holes, and what share is used."""
    return [
        {
            "id": sheet.name,
            "sheet": sheet.sheet,
            "off_cut": sheet.off_cut,
            "machine": sheet.machine or None,
            "cut_from_mm": list(sheet.cut_from_mm) if sheet.cut_from_mm is not None else None,
            "width_mm": sheet.width_mm,
            "height_mm": sheet.height_mm,
            "first_face": sheet.first_face,
            "two_faced": sheet.two_faced,
            "spacing_mm": sheet.spacing_mm,
            "edge_margin_mm": sheet.margin_mm,
            "share_used": round(sheet.share, 4),
            "share_of_used_length": round(sheet.used_share, 4),
            "pieces": [
                {"part": lying.part, "copy": lying.copy, "x_mm": lying.x_mm, "y_mm": lying.y_mm, "turn_deg": lying.turn_deg}
                for lying in sheet.lying
            ],
            "registration": [
                {"x_mm": hole.x_mm, "y_mm": hole.y_mm, "diameter_mm": hole.diameter_mm, "guard": hole.guard} for hole in sheet.holes
            ],
        }
        for sheet in nest.sheets
    ]


def nest_record(nest: Nest) -> Record:
    """How the nest came about, what found no place, and the sheets that the area alone asks for."""
    return {
        "came_from": nest.came_from,
        "left_over": [{"sheet": sheet, "piece": piece} for sheet, piece in nest.left_over],
        "not_nested": list(nest.not_sized),
        "least_sheets_by_area": [{"sheet": sheet, "sheets": count} for sheet, count in nest.least_sheets],
    }


def nest_lines(nest: Nest) -> tuple[str, ...]:
    """A line for each kind of sheet: how many, and how much of them ends in parts; then what found no place."""
    lines = []
    for name in dict.fromkeys(sheet.sheet for sheet in nest.sheets):
        mine = [sheet for sheet in nest.sheets if sheet.sheet == name]
        lines.append(f"sheets: {_count(mine)} of {name}{_cut_down(mine)}; {_shares(mine)}")
    for name in nest.not_sized:
        lines.append(f"sheets: the parts of {name} are not nested: no size is stated, or they are too many")
    if nest.left_over:
        named = ", ".join(piece for _, piece in nest.left_over[:5]) + (" …" if len(nest.left_over) > 5 else "")
        lines.append(f"sheets: no place was found for {named}")
    return tuple(lines)


def nest_notes(nest: Nest) -> tuple[str, ...]:
    """The same lines as sentences, for the cut list."""
    lines = (line.removeprefix("sheets: ") for line in nest_lines(nest))
    return tuple(f"Sheets: {line}." for line in lines)


def _count(sheets: list[NestedSheet]) -> str:
    whole, cuts = whole_sheets(sheets), sum(sheet.off_cut for sheet in sheets)
    parts = ([f"{whole} whole" if cuts else str(whole)] if whole else []) + ([f"{cuts} off-cut{'s' if cuts > 1 else ''}"] if cuts else [])
    return " and ".join(parts)


def _cut_down(sheets: list[NestedSheet]) -> str:
    """Where machines take no whole sheet: how many panels are laid."""
    cut = [sheet for sheet in sheets if sheet.cut_from_mm is not None]
    machines = " and ".join(sorted({sheet.machine for sheet in cut}))
    return f", cut down to {len(cut)} panel{'s' if len(cut) > 1 else ''} for the work area of {machines}" if cut else ""


def _shares(sheets: list[NestedSheet]) -> str:
    whole = sum(sheet.area_mm2 for sheet in sheets) / sum(sheet.width_mm * sheet.height_mm for sheet in sheets)
    used = sum(sheet.area_mm2 for sheet in sheets) / sum(sheet.area_mm2 / sheet.used_share for sheet in sheets)
    return f"parts fill {100.0 * whole:.0f} percent, {100.0 * used:.0f} percent of the length in use"
