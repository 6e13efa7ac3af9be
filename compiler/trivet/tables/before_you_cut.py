"""What a stranger measures before cutting: his sheet, cutter, router and hardware against what the plan counts on."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.design import Design
from trivet.model.hardware import Insert, Nut, Screw, TeeNut
from trivet.solve.derived import Derived
from trivet.tables.bench_words import bench_length
from trivet.tables.cautions import DEFERENCE
from trivet.tables.hardware_schedule import schedule
from trivet.tables.hardware_words import relied_on
from trivet.tables.prose_page import Item, Page, Section
from trivet.tables.rows import Cell, Column, Rows
from trivet.tables.shop_template import own_hardware
from trivet.tables.wording import band_text, range_text

COLUMNS = (Column("measure"), Column("how"), Column("the plan counts on"), Column("yours"), Column("where it goes"))


def before_you_cut(design: Design, derived: Derived, plan: str = "") -> Page:
    """The card, for print and pencil. `plan`: the path of the plan's file from the card's folder, where it is known."""
    name = plan or f"{design.name}.trivet"
    steps = (
        Item("Measure what the table asks for and write it down."),
        Item("Put your figures into `mine.trivet`: it has the plan's own figures now, and each line says what it is. Leave the "
            "names as they are."),
        Item(f"Run `trivet check {name} --shop mine.trivet`. What it finds is about your sheet and your hardware; each finding "
            "names a number that would work."),
        Item(f"Run `trivet compile {name} --shop mine.trivet` and cut from what that writes, not from the files beside this card."),
        Item("Cut one gear and one test hole for each insert first; fill in their lines of `inspection.csv`."),
    )  # fmt: skip
    rows = tuple(_rows(design, derived))
    sections = [Section("In this order", (), steps, 1), Section("Measure", (), rows=Rows("Measure", COLUMNS, rows, _notes(design)))]
    ranges = _ranges(design)
    if ranges:
        sections.append(
            Section("What the author says it holds for",
                    (f"Inside these ranges the plan is meant to work; `trivet check {name} --over` tries it at their ends and "
                        "between. Outside them nobody has.",),
                    ranges)
        )  # fmt: skip
    title = f"Before you cut: {design.title or design.name}" + (f", revision {design.revision}" if design.revision else "")
    return Page(
        title,
        (
            "The plan was checked for the author's sheet, cutter and hardware. Yours differ: that is what this card is for.",
            DEFERENCE,
        ),
        tuple(sections),
    )


def _rows(design: Design, derived: Derived) -> Iterator[tuple[Cell, ...]]:
    unit = design.units
    inwards = "2 in (50 mm)" if unit == "in" else "50 mm (2 in)"
    for sheet in design.sheets:
        yield (f"thickness of {sheet.name}", f"eight places, {inwards} from the edges (EN 324-1): mean, least, most", band_text(sheet.thickness, unit), "",
               f"sheet {sheet.name}, thickness")  # fmt: skip
    for cutter in design.cutters:
        if cutter.diameter is not None:
            yield (
                f"cutter {cutter.name}",
                "the slot that one pass cuts",
                bench_length(cutter.diameter.mm, unit),
                "",
                f"cutter {cutter.name}, diameter",
            )
    shop = design.shop
    yield (
        "size error of a cut side",
        "block and pocket of one size: (block - pocket) / 4",
        f"+/- {bench_length(shop.profile_offset_mm, unit)}",
        "",
        "shop, profile_offset",
    )
    yield (
        "place of a hole",
        "over pins in two holes, against the drawing: half the difference",
        f"+/- {bench_length(shop.hole_position_mm, unit)}",
        "",
        "shop, hole_position",
    )
    yield ("depth of a pocket", "at its middle and at its ends", f"+/- {bench_length(shop.depth_mm, unit)}", "", "shop, depth")
    yield (
        "how inserts are driven",
        "a bolt in a trial insert against a square",
        f"{shop.insert_tilt_deg:g} deg",
        "",
        "shop, inserts",
    )
    for item in own_hardware(design):
        what = "tee nut" if isinstance(item, TeeNut) else "insert"
        sizes = (
            f"outside {range_text(item.outside.least, item.outside.most, unit)}, length {bench_length(item.length_mm, unit)}, "
            "thread from "
            f"{bench_length(item.live_from_mm, unit)} to {bench_length(item.live_to_mm, unit)}, hole "
            f"{bench_length(item.hole_mm, unit)}"
            if isinstance(item, Insert)
            else f"flange {bench_length(item.flange_diameter_mm, unit)}, barrel {bench_length(item.barrel_diameter_mm, unit)}, "
                f"height {bench_length(item.height_mm, unit)}, hole {bench_length(item.hole_mm, unit)}"
        )  # fmt: skip
        table = getattr(item.origin, "table", "")
        yield (f"{what} {item.thread.designation}", "five of the box", sizes, "", f"table {table}")
    for line in schedule(design, derived).lines:
        if isinstance(line.piece.hardware, (Screw, Nut)) and (words := relied_on(line.piece, unit)):
            yield (f"{line.item}", "two of the bag", words, "", "if it differs: a table of your own, as for the inserts")


def _notes(design: Design) -> tuple[str, ...]:
    return ("The square on every drawing must read 100 mm (3.937 in) both ways after import, or the scale is wrong.",)


def _ranges(design: Design) -> tuple[Item, ...]:
    unit = design.units
    found = [
        Item(f"`{parameter.name}`: {parameter.bounds[0]} to {parameter.bounds[1]}, set with "
            "--set" if parameter.bounds else f"`{parameter.name}`: {' or '.join(parameter.choices)}")
        for parameter in design.parameters if parameter.bounds or parameter.choices
    ]  # fmt: skip
    found += [
        Item(f"`{sheet.name}`: mean thickness {range_text(sheet.for_sheets[0].mm, sheet.for_sheets[1].mm, unit)}")
        for sheet in design.sheets if sheet.for_sheets is not None
    ]  # fmt: skip
    found += [
        Item(f"`{cutter.name}`: {range_text(cutter.for_cutters[0].mm, cutter.for_cutters[1].mm, unit)} in diameter")
        for cutter in design.cutters if cutter.for_cutters is not None
    ]  # fmt: skip
    return tuple(found)
