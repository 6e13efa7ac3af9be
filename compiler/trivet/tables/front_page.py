"""The front page of a published folder: what the fixture is, its figures, its licence, what to do first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.tables.bench_words import bench_length, names, small
from trivet.tables.cautions import DEFERENCE, building_cautions, cutting_cautions, use_cautions
from trivet.tables.cut_list import cut_parts
from trivet.tables.hardware_schedule import schedule
from trivet.tables.prose_page import Item, Page, Picture, Section
from trivet.tables.raise_table import per_tooth_mm
from trivet.tables.rows import Cell, Column, Rows
from trivet.tables.shop_lines import sheets

NO_LICENCE = "No licence is stated in the file: ask the author before you copy, change or sell it."
_KINDS = {
    "riding": "screws that ride up and down with their gears",
    "captured_nut": "nuts that turn on rods",
    "sliding_hex": "screws whose heads slide in their gears",
}


def front_page(
    design: Design, derived: Derived, findings: Sequence[Diagnostic], version: str, mark: str = "", plan: str = ""
) -> Page:
    """`mark`: what the names of a draft's files begin with; `plan`: the path of the plan's file, where it lies in the folder."""
    title = (design.title or design.name) + (f", revision {design.revision}" if design.revision else "")
    opening = [_what(design, derived)]
    if design.author_note:
        opening.append(f"The author notes: {design.author_note}")
    opening.append(f"Licence: {design.licence}." if design.licence else NO_LICENCE)
    figures = Rows(
        "Figures",
        (Column("figure"), Column("value")),
        tuple(_figures(design, derived)),
        ("At the mean thickness of the author's sheets.",),
    )
    cautions = (*cutting_cautions(), *building_cautions(design, derived), *use_cautions(design, derived))
    sections = (
        Section("Figures", (), rows=figures),
        Section("Before you cut", (), (
            Item(f"Read `{mark}before_you_cut.md`, measure what it asks for, and put it into `{mark}mine.trivet`."),
            Item("Check and compile the plan with your own figures; cut from what that writes."),
            Item(f"Measure the cut parts by `{mark}inspection.md`, put them together by `{mark}assembly.md`."),
        ), 1),
        Section("What is here", (), tuple(Item(text) for text in _files(mark, plan))),
        Section("What was checked", (_checked(findings, version),), tuple(Item(text) for text in _accepted(findings))),
        Section("Cautions", (DEFERENCE,), tuple(Item(text) for text in cautions)),
    )  # fmt: skip
    picture = Picture(f"{mark}preview.svg", f"Plan and section of {design.title or design.name}")
    return Page(title, tuple(opening), sections, (picture,))


def _what(design: Design, derived: Derived) -> str:
    gears, feet = len(derived.train.gears), derived.feet
    kinds = list(dict.fromkeys(_KINDS[state.foot.kind] for state in feet))
    if not design.boards:
        return f"A plan with {gears} gears."
    box = design.boards[0].outline
    text = f"A board of {bench_length(box.width_mm, design.units)} by {bench_length(box.height_mm, design.units)}"
    if feet:
        text += f" on {len(feet)} feet ({', '.join(kinds)})"
    if gears:
        text += f", raised and lowered by {gears} plywood gears" if derived.drives else f", with {gears} plywood gears"
    if derived.drives:
        text += f" that one bolt, {names(state.id for state in derived.drives)}, turns by hand"
    return f"{text}."


def _figures(design: Design, derived: Derived) -> Iterator[tuple[Cell, ...]]:
    unit, lift = design.units, derived.lift
    if lift is not None and lift.travel_mm > 0.0:
        yield "lowest height", bench_length(lift.height_min_mm, unit)
        yield "greatest height", bench_length(lift.height_max_mm, unit)
        yield "travel", f"{bench_length(lift.travel_mm, unit)} in {lift.turns_for_travel:.1f} turns"
        yield "a turn lifts", f"{small(lift.per_turn_mm, unit)}, turned {lift.raises_when} seen from above"
        tooth = per_tooth_mm(derived)
        if tooth is not None:
            yield "a tooth of the drive lifts", small(tooth, unit)
    teeth = Counter(state.gear.z for state in derived.train.gears)
    if teeth:
        yield "gears", ", ".join(f"{count} of {z} teeth" for z, count in sorted(teeth.items()))
    yield "parts to cut", sum(part.pieces for part in cut_parts(design, derived))
    yield "pieces to buy", sum(line.to_buy for line in schedule(design, derived).lines)
    for line in sheets(design, derived):
        yield f"sheet {line.where}", line.description


def _files(mark: str, plan: str) -> tuple[str, ...]:
    there = (f"`{plan}`: the plan itself, and what it reads",) if plan else ()
    return (
        *there,
        f"`{mark}index.html`: the whole plan on one page, to look at",
        "`cut` and `sheets`: drawings at 1:1, mm, as SVG and DXF",
        f"`{mark}hardware.md`, `{mark}cut_list.md`: what to buy and what to cut, each as CSV too",
        f"`{mark}inspection.csv`: what calipers should read; filled in, `trivet check --measured` reads it back",
        f"`{mark}assembly.md`: steps with figures, zeroing, trying, where it binds first",
        f"`{mark}report.json`, `manifest.json`: every figure, and a checksum of every file",
    )


def _checked(findings: Sequence[Diagnostic], version: str) -> str:
    open_ = Counter(item.severity for item in findings if not item.accepted)
    counts = ", ".join(
        f"{open_[severity]} {severity}{'s' if open_[severity] != 1 else ''}"
        for severity in ("error", "warning", "note")
        if open_[severity]
    )
    return (
        f"trivet {version} checked this plan: {counts or 'no findings'} left open; the report has them. A clean check means "
        "that no known failure mode was found within the "
        "stated tolerances, and no more. Whether anyone has built it is not known here."
    )


def _accepted(findings: Sequence[Diagnostic]) -> Iterator[str]:
    for item in findings:
        if item.accepted:
            yield f"accepted by the author: {item.message}, because {item.accepted_because}"
