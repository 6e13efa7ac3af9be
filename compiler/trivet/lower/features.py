"""Everything cut into boards besides holes: pockets, labels, magnets, dowels; and spacers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trivet.lower.boards import CUT, STOCK, TABS, refer_to, straight_cutter, tabs_of
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.holes import FIT, FIT_MM, positive
from trivet.lower.outlines import ARC, OUTLINE, POINT, lower_outline
from trivet.lower.places import INTO, PLACES, face_and_board, lower_places
from trivet.model.board import Dowel, Engrave, MagnetPlace, Pocket, Spacer
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

POCKET = BlockForm(
    "pocket",
    ("{name:name}",),
    (
        INTO,
        OUTLINE,
        POINT,
        ARC,
        FactForm("depth", ("{value:length}",), example="depth 6.5 mm", sets="depth"),
        FactForm("through", ("",), example="through", sets="depth"),
        CUT,
        *PLACES,
    ),
    example="pocket key_rest",
)
ENGRAVE = BlockForm(
    "engrave",
    ("{name:name}",),
    (
        INTO,
        FactForm("text", ("{text:text}",), example='text "Riser #2"'),
        FactForm("height", ("{value:length}",), example="height 8 mm"),
        FactForm("depth", ("{value:length}",), example="depth 0.5 mm"),
        CUT,
        *PLACES,
    ),
    example="engrave label",
)
MAGNET = BlockForm(
    "magnet",
    ("{name:name}",),
    (
        INTO,
        FactForm("disc", ("{diameter:length} by {thickness:length}",), example="disc 10 by 3 mm"),
        FIT,
        FactForm("polarity", ("{pole:north|south}",), example="polarity north"),
        *PLACES,
    ),
    example="magnet key_holder",
)
DOWEL = BlockForm(
    "dowel",
    ("{name:name}",),
    (
        FactForm("diameter", ("{value:length}",), example="diameter 10 mm"),
        FactForm("length", ("{value:length}",), example="length 30 mm"),
        FactForm(
            "into",
            ("{board:name}",),
            details=("fit {fit:press|push|slide|clearance}",),
            example="into base, fit press",
            repeats=True,
        ),
        *PLACES,
    ),
    example="dowel register",
)
SPACER = BlockForm(
    "spacer",
    ("{name:name}",),
    (
        STOCK,
        CUT,
        OUTLINE,
        POINT,
        ARC,
        FactForm("bore", ("{value:length}",), example="bore 8.5 mm"),
        FactForm("quantity", ("{count:count}",), example="quantity 4"),
        TABS,
    ),
    example="spacer shim",
)


def lower_pocket(reader: Reader, context: Context) -> Pocket:
    """A pocket with a depth, or an opening through the board."""
    board, face, _ = face_and_board(reader, context, "topside")
    reader.need("outline")
    reader.need_one("depth", "through")
    return Pocket(
        name=reader.name,
        into=reader.value("into", "board"),
        face=face,
        outline=lower_outline(reader),
        depth=reader.value("depth", "value"),
        cutter=straight_cutter(reader, context) or board.cutter,
        places=lower_places(reader, context, board),
        origin=reader.origin,
    )


def lower_engrave(reader: Reader, context: Context) -> Engrave:
    """A label."""
    board, face, _ = face_and_board(reader, context, "topside")
    reader.need("text", "height", "depth")
    return Engrave(
        name=reader.name,
        into=reader.value("into", "board"),
        face=face,
        text=reader.value("text", "text"),
        height=reader.value("height", "value"),
        depth=reader.value("depth", "value"),
        cutter=refer_to(reader, context, "cutter", "cutter") or board.cutter,
        places=lower_places(reader, context, board),
        origin=reader.origin,
    )


def lower_magnet(reader: Reader, context: Context) -> MagnetPlace:
    """Magnets: the hole is the disc with its fit, and 0.15 mm deeper, so that glue cannot lift it proud (common practice, no source)."""
    board, face, _ = face_and_board(reader, context, "topside")
    reader.need("disc")
    disc = reader.get("disc")
    assert disc is not None
    diameter, thickness = positive(disc.get("diameter"), "disc"), positive(disc.get("thickness"), "disc")
    fit = reader.value("fit", "fit", "push")
    if fit not in FIT_MM:
        raise Fault(
            "value-not-allowed",
            f"the fit {fit} is for clearance holes of threads; here it is press, push, slide or clearance",
            reader.span("fit", "fit"),
        )
    return MagnetPlace(
        name=reader.name,
        into=reader.value("into", "board"),
        face=face,
        disc=context.catalog.magnet(diameter, thickness),
        fit=fit,
        polarity=reader.value("polarity", "pole"),
        hole_diameter_mm=diameter + FIT_MM[fit],
        hole_depth_mm=thickness + 0.15,
        places=lower_places(reader, context, board),
        origin=reader.origin,
    )


def lower_dowel(reader: Reader, context: Context) -> Dowel:
    """Dowels in one board or more."""
    reader.need("diameter", "into")
    into = []
    first = None
    for reading in reader.all("into"):
        board = context.noun(context.refer(reading.get("board"), "board"))
        first = first or board
        into.append((board.name.text, reading.get("fit", "slide")))
    assert first is not None
    return Dowel(
        name=reader.name,
        diameter_mm=positive(reader.value("diameter", "value"), "diameter"),
        into=tuple(into),
        length=reader.value("length", "value"),
        places=lower_places(reader, context, first),
        origin=reader.origin,
    )


def lower_spacer(reader: Reader, context: Context) -> Spacer:
    """Spacers cut with the parts."""
    reader.need("stock", "cutter", "outline")
    bore: Quantity | None = reader.value("bore", "value")
    quantity = reader.value("quantity", "count")
    count = int(quantity.number) if quantity else 1
    context.count_instances(count, reader.origin)
    return Spacer(
        name=reader.name,
        stock=refer_to(reader, context, "stock", "sheet"),
        cutter=straight_cutter(reader, context),
        outline=lower_outline(reader),
        bore_mm=positive(bore, "bore") if bore else None,
        quantity=count,
        tabs=tabs_of(reader),
        origin=reader.origin,
    )
