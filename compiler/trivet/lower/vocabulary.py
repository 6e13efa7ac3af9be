"""Every kind of block, its form and the function that lowers it: the one list that completeness tests walk."""

from __future__ import annotations

from trivet.lower.boards import BOARD, lower_board
from trivet.lower.context import Lower
from trivet.lower.drives import DRIVE, PIVOT, lower_drive, lower_pivot
from trivet.lower.features import (
    DOWEL,
    ENGRAVE,
    MAGNET,
    POCKET,
    SPACER,
    lower_dowel,
    lower_engrave,
    lower_magnet,
    lower_pocket,
    lower_spacer,
)
from trivet.lower.feet import FOOT, lower_foot
from trivet.lower.fixture import FIXTURE, PARAMETER, lower_fixture, lower_parameter
from trivet.lower.forms import BlockForm
from trivet.lower.gears import GEAR, MESH, RING, lower_gear, lower_mesh, lower_ring
from trivet.lower.holes import HOLE, lower_hole
from trivet.lower.intent import (
    ACCEPT,
    CUT_ZONE,
    HAVE,
    HELPER,
    LOAD,
    REQUIRE,
    WORKPIECE,
    lower_accept,
    lower_cut_zone,
    lower_have,
    lower_helper,
    lower_load,
    lower_require,
    lower_workpiece,
)
from trivet.lower.stock import (
    CUTTER,
    MACHINE,
    SHEET,
    SHOP,
    TOOTH_FORM,
    lower_cutter,
    lower_machine,
    lower_sheet,
    lower_shop,
    lower_tooth_form,
)

# kind: (form, lowering, the field of `Design` that holds it; empty where the kind is gathered in its own way)
_ALL: tuple[tuple[BlockForm, Lower, str], ...] = (
    (FIXTURE, lower_fixture, ""),
    (PARAMETER, lower_parameter, ""),
    (SHEET, lower_sheet, "sheets"),
    (CUTTER, lower_cutter, "cutters"),
    (SHOP, lower_shop, ""),
    (MACHINE, lower_machine, "machines"),
    (TOOTH_FORM, lower_tooth_form, "tooth_forms"),
    (BOARD, lower_board, "boards"),
    (GEAR, lower_gear, "gears"),
    (MESH, lower_mesh, ""),
    (RING, lower_ring, "rings"),
    (DRIVE, lower_drive, "drives"),
    (PIVOT, lower_pivot, "pivots"),
    (FOOT, lower_foot, "feet"),
    (HOLE, lower_hole, "holes"),
    (POCKET, lower_pocket, "pockets"),
    (ENGRAVE, lower_engrave, "engravings"),
    (MAGNET, lower_magnet, "magnets"),
    (DOWEL, lower_dowel, "dowels"),
    (SPACER, lower_spacer, "spacers"),
    (WORKPIECE, lower_workpiece, "workpieces"),
    (CUT_ZONE, lower_cut_zone, "cut_zones"),
    (LOAD, lower_load, "loads"),
    (REQUIRE, lower_require, "requires"),
    (ACCEPT, lower_accept, "accepts"),
    (HAVE, lower_have, "have"),
    (HELPER, lower_helper, "helpers"),
)
FORMS: dict[str, BlockForm] = {form.kind: form for form, _, _ in _ALL}
LOWERS: dict[str, Lower] = {form.kind: lower for form, lower, _ in _ALL}
FIELDS: dict[str, str] = {form.kind: field for form, _, field in _ALL if field}
# Headings that are no nouns of the fixture: handled while blocks are collected.
OTHER_HEADINGS = ("read", "default", "table")
