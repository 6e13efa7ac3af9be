"""The cut list: what is cut from which sheet, equal gears together."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.base import Band
from trivet.model.design import Design
from trivet.model.shop import Sheet
from trivet.record import record
from trivet.solve.derived import Derived, GearState
from trivet.solve.parts import part_features
from trivet.tables.rows import Cell, Column, Rows
from trivet.tables.wording import band_text

MM_PER_INCH = 25.4


@record
class CutPart:
    """Equal parts. `ids`: each part's id; `quantity`: finished parts, each of `layers` pieces of `thickness` (one sheet's).

    `width_mm`, `height_mm`: the box along x and y; of a gear, the tip diameter. `grain`: how the face grain must run, `any` if no matter.
    """

    ids: tuple[str, ...]
    kind: str
    quantity: int
    sheet: str
    width_mm: float
    height_mm: float
    thickness: Band
    layers: int
    grain: str

    @property
    def part(self) -> str:
        """The ids in a row."""
        return ", ".join(self.ids)

    @property
    def pieces(self) -> int:
        """Pieces to cut: a part's layers are cut one by one."""
        return self.quantity * self.layers

    @property
    def area_mm2(self) -> float:
        """Boxes of all pieces, without room between them."""
        return self.width_mm * self.height_mm * self.pieces


def cut_parts(design: Design, derived: Derived) -> tuple[CutPart, ...]:
    """Boards, gears, keepers, their stand-offs where those are wood, spacers, shop aids, each kind in the order of the file."""
    plates = (*_keepers(design, derived), *_stand_offs(design, derived))
    return (*_boards(design), *_gears(design, derived), *plates, *_spacers(design), *_helpers(design, derived))


def cut_list_rows(design: Design, derived: Derived) -> Rows:
    """One row a group of equal parts; lengths in the fixture's unit, inches with mm beside them."""
    inch = design.units == "in"
    sizes = (Column("width", "in"), Column("height", "in")) if inch else ()
    columns = (
        Column("part"), Column("quantity"), Column("sheet"), *sizes, Column("width", "mm"), Column("height", "mm"),
        Column("sheet thickness, measured"), Column("layers"), Column("face grain"),
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for part in cut_parts(design, derived):
        box = (round(part.width_mm / MM_PER_INCH, 3), round(part.height_mm / MM_PER_INCH, 3)) if inch else ()
        rows.append(
            (part.part, part.quantity, part.sheet, *box, round(part.width_mm, 2), round(part.height_mm, 2),
             band_text(part.thickness, design.units), part.layers, part.grain)
        )  # fmt: skip
    notes = [
        "Width and height are the box that a part fills, along x and y; of a gear, its tip diameter.",
        "Equal gears stand together; each has a drawing of its own, because they differ in phase.",
    ]
    if any(part.layers > 1 for part in cut_parts(design, derived)):
        notes.append("Layers: each part is glued up from so many pieces, each with a drawing of its own; glue lines are neglected.")
    if design.helpers:
        notes.append("Parts whose names begin with `helper.` are shop aids: cut them with the rest, they stay in the shop.")
    return Rows("Cut list", columns, tuple(rows), tuple(notes))


def _boards(design: Design) -> Iterator[CutPart]:
    for board in design.boards:
        yield CutPart(
            (board.name.text,), "board", 1, board.stock.text, board.outline.width_mm, board.outline.height_mm,
            _sheet(design, board.stock.text).thickness, board.layers,
            _grain(board.grain or _sheet(design, board.stock.text).face_grain),
        )  # fmt: skip


def _gears(design: Design, derived: Derived) -> Iterator[CutPart]:
    """Gears are equal when their teeth, sheet, layers, cutter, holes and web are, and one set of hardware serves them."""
    groups: dict[tuple[object, ...], list[GearState]] = {}
    for state in derived.train.gears:
        gear = state.gear
        web = None if gear.web is None else (gear.web.form, gear.web.count.base, gear.web.size.base)
        held = next((str(ref) for ref in (gear.turned_by, gear.turns_on, gear.carries) if ref is not None), f"on {state.shaft}")
        key = (
            state.geometry,
            gear.stock.text,
            gear.layers,
            gear.cutter.text,
            round(state.hole_mm, 6),
            web,
            state.kind,
            held,
            gear.flip,
        )
        groups.setdefault(key, []).append(state)
    for states in groups.values():
        first = states[0]
        across = 2.0 * first.geometry.reached_tip_radius_mm
        yield CutPart(
            tuple(state.id for state in states), "gear", len(states), first.gear.stock.text, across, across,
            _sheet(design, first.gear.stock.text).thickness, first.gear.layers, "any",
        )  # fmt: skip


def _keepers(design: Design, derived: Derived) -> Iterator[CutPart]:
    for foot in design.feet:
        ids = tuple(state.id for state in derived.feet if state.foot.name.text == foot.name.text)
        if foot.keeper is not None and ids:
            outline = foot.keeper.outline
            yield CutPart(
                tuple(f"{name}.keeper" for name in ids), "keeper", len(ids), foot.keeper.stock.text, outline.width_mm,
                outline.height_mm, _sheet(design, foot.keeper.stock.text).thickness, 1,
                _grain(_sheet(design, foot.keeper.stock.text).face_grain),
            )  # fmt: skip


def _stand_offs(design: Design, derived: Derived) -> Iterator[CutPart]:
    """Discs that lie between a keeper and the board, as many as all its screws take."""
    if all(held.stand_off.form != "wood" for held in derived.keepers):
        return
    stated = {spacer.name.text for spacer in design.spacers}
    for part in part_features(design, derived):
        if part.kind == "spacer" and part.part not in stated:
            x_min, y_min, x_max, y_max = part.outline.bounds
            yield CutPart(
                (part.part,), "stand_off", part.quantity, part.sheet.name.text, x_max - x_min, y_max - y_min, part.thickness, 1, "any"
            )


def _spacers(design: Design) -> Iterator[CutPart]:
    for spacer in design.spacers:
        yield CutPart(
            (spacer.name.text,), "spacer", spacer.quantity, spacer.stock.text, spacer.outline.width_mm, spacer.outline.height_mm,
            _sheet(design, spacer.stock.text).thickness, 1, _grain(_sheet(design, spacer.stock.text).face_grain),
        )  # fmt: skip


def _helpers(design: Design, derived: Derived) -> Iterator[CutPart]:
    for part in part_features(design, derived) if design.helpers else ():
        if part.kind == "helper":
            x_min, y_min, x_max, y_max = part.outline.bounds
            yield CutPart(
                (part.part,), "helper", part.quantity, part.sheet.name.text, x_max - x_min, y_max - y_min, part.thickness, 1, "any"
            )


def _grain(axis: str | None) -> str:
    """As the drawing's arrow: the board's own, else the sheet's."""
    return f"along {axis}" if axis else "any"


def _sheet(design: Design, name: str) -> Sheet:
    return next(sheet for sheet in design.sheets if sheet.name.text == name)
