"""The hardware schedule: what to buy, by standard, with everything a shop asks; then consumables, tools and sheets."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.model.hardware import Nut, Screw
from trivet.solve.derived import Derived
from trivet.tables.hardware_items import HardwareItem, hardware_items
from trivet.tables.hardware_lines import HardwareLine, Schedule, hardware_lines
from trivet.tables.hardware_words import (
    TWO_WIDTHS,
    cutting,
    description,
    head_and_key,
    look_alike,
    relied_on,
    substitutes,
    thread_wanted,
)
from trivet.tables.keeper_items import keeper_notes
from trivet.tables.rows import Cell, Column, Rows
from trivet.tables.shop_lines import ShopLine, consumables, sheets, tools
from trivet.tables.wording import listed, sold_length, source_text, standard_words, thread_text

HEADINGS = (
    "kind", "item", "quantity", "to buy", "description", "thread", "length under head", "thread length wanted", "head and key",
    "measures relied on", "where used", "cutting and remarks", "substitutes", "source of the data",
)  # fmt: skip
COLUMNS = tuple(Column(name) for name in HEADINGS)
SHOP_COLUMNS = (Column("kind"), Column("description"), Column("where used"), Column("remarks"))

CAUTION = (
    "Caution: cut a test piece first; guard eyes, ears and lungs; clamp the work; unplug the router before changing a cutter; "
    "file sawn screw ends."
)


def schedule(design: Design, derived: Derived) -> Schedule:
    """The counted lines, less the drawer."""
    return hardware_lines(hardware_items(design, derived), design.have)


def hardware_rows(design: Design, derived: Derived) -> Rows:
    """Everything in one table, for a file of records: hardware, then consumables, tools and sheets; cells that do not apply are empty."""
    counted = schedule(design, derived)
    rows = [_row(line, design.units) for line in counted.lines]
    rows += [
        (line.section, "", None, None, line.description, "", "", "", "", "", line.where, line.note, "", "")
        for line in _shop(design, derived)
    ]
    return Rows("Hardware schedule", COLUMNS, tuple(rows), _notes(design, derived, counted))


def hardware_tables(design: Design, derived: Derived) -> tuple[Rows, ...]:
    """The same, for reading: hardware with the notes, then a table of what the shop needs."""
    counted = schedule(design, derived)
    hardware = Rows(
        "Hardware schedule",
        COLUMNS[1:],
        tuple(_row(line, design.units)[1:] for line in counted.lines),
        _notes(design, derived, counted),
    )
    shop = tuple((line.section, line.description, line.where, line.note) for line in _shop(design, derived))
    return hardware, Rows("Consumables, tools and sheets", SHOP_COLUMNS, shop)


def hardware_records(design: Design, derived: Derived) -> list[dict[str, object]]:
    """The `hardware` of report.json: one object a line, lengths in mm."""
    return [
        {
            "item": line.item,
            "quantity": line.quantity,
            "description": description(line.piece, design.units),
            "standard": standard_words(line.piece.standard) or None,
            "thread": line.piece.thread.designation if line.piece.thread is not None else None,
            "length_mm": line.piece.length_mm,
            "cut_to_mm": line.piece.cut_to_mm,
            "where": list(line.where),
            "source": _source(line.piece),
            "to_buy": line.to_buy,
        }
        for line in schedule(design, derived).lines
    ]


def _row(line: HardwareLine, unit: str) -> tuple[Cell, ...]:
    piece = line.piece
    length = piece.length_mm if isinstance(piece.hardware, Screw) or piece.kind == "dowel" else None
    return (
        "hardware",
        line.item,
        line.quantity,
        line.to_buy,
        description(piece, unit),
        thread_text(piece.thread) if piece.thread is not None else "",
        sold_length(length, unit) if length is not None else "",
        thread_wanted(piece, unit),
        head_and_key(piece, unit),
        relied_on(piece, unit),
        listed(line.where),
        cutting(piece, unit),
        substitutes(piece),
        _source(piece),
    )


def _source(piece: HardwareItem) -> str:
    text = source_text(piece.origin)
    if isinstance(piece.hardware, Screw) and piece.hardware.stock_origin is not None:
        text += f"; lengths: {source_text(piece.hardware.stock_origin)}"
    return text


def _shop(design: Design, derived: Derived) -> tuple[ShopLine, ...]:
    items = hardware_items(design, derived)
    return (*consumables(design, derived, items), *tools(design, derived, items), *sheets(design, derived))


def _notes(design: Design, derived: Derived, counted: Schedule) -> tuple[str, ...]:
    """The spares policy, the drawer, what is not counted, and cautions."""
    notes = ["Quantities are counted from the model. Spares: none are counted.", CAUTION]
    for item, rest in counted.left_over:
        length = f", {sold_length(item.length_mm, design.units)}" if item.length_mm is not None else ""
        name = f"{standard_words(item.standard)} {item.thread}{length}"
        notes.append(f"Of {item.quantity} {name} in the drawer, {rest} are not used.")
    if any(line.from_drawer for line in counted.lines):
        taken = ", ".join(f"{line.from_drawer} of {line.item}" for line in counted.lines if line.from_drawer)
        notes.append(f"From the drawer: {taken}.")
    notes += keeper_notes(derived, design.units)
    if any(board.layers > 1 for board in design.boards):
        notes.append("What lines up the layers of a laminated board is not in the model and not counted.")
    if any(drive.brake for drive in design.drives):
        notes.append("The parts of the brake are not in the model and not counted.")
    if any(hole.fit in ("fine", "medium", "coarse") for hole in design.holes):
        notes.append("Screws through the board's own clearance holes are not in the model and not counted.")
    threads = tuple(dict.fromkeys(line.piece.designation for line in counted.lines if line.piece.thread is not None))
    for thread in threads:
        other = look_alike(thread)
        if other is not None:
            notes.append(f"Caution: {thread} and {other} look alike, start and then jam: keep them apart.")
        if f"{thread}-LH" in threads:
            notes.append(f"Caution: {thread} and {thread}-LH look alike and do not fit each other: mark the left-hand ones.")
    wide = [
        line.item
        for line in counted.lines
        if isinstance(line.piece.hardware, (Screw, Nut))
        and (isinstance(line.piece.hardware, Nut) or line.piece.hardware.head.form == "hexagon")
        and line.piece.designation.removesuffix("-LH").split("x")[0] in TWO_WIDTHS
    ]
    if wide:
        notes.append(f"Caution: hexagons of this size come in two widths; measure {listed(tuple(wide))} across flats.")
    return tuple(notes)
