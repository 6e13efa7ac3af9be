"""Everything cut into boards besides the gears' own holes: holes, pockets, labels, magnets, dowels, spacers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trivet.lower.boards import CUT, STOCK, refer_to, straight_cutter
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.hardware import looked_up, thread_of
from trivet.lower.match import Reading
from trivet.lower.outlines import ARC, OUTLINE, POINT, lower_outline
from trivet.lower.places import INTO, PLACES, face_and_board, lower_places
from trivet.model.board import Counterbore, Dowel, Engrave, Hole, MagnetPlace, Pocket, Spacer
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

# Diametral allowance of a fit in plywood over the measured part, mm (common practice, no source; verify on a test piece).
FIT_MM = {"press": -0.1, "push": 0.05, "slide": 0.2, "clearance": 0.5}
FIT = FactForm("fit", ("{fit:press|push|slide|clearance|fine|medium|coarse}",), example="fit slide")
# Extra depth over the tallest head, so that no head stands proud (common practice, no source).
COUNTERBORE_EXTRA_MM = 1.0

HOLE = BlockForm(
    "hole",
    ("{name:name}",),
    (
        INTO,
        FactForm("dowel", ("{value:length}",), example="dowel 19 mm", sets="size"),
        FactForm("diameter", ("{value:length}",), example="diameter 8 mm", sets="size"),
        FactForm("clearance", ("{thread:thread}",), example="clearance M6", sets="size"),
        FIT,
        FactForm("through", ("",), example="through", sets="depth"),
        FactForm("blind", ("{depth:length}",), example="blind 12 mm", sets="depth"),
        FactForm(
            "counterbore",
            ("{standard:standard}", "diameter {diameter:length}"),
            details=("depth {depth:length}", "{face:topside|underside}"),
            example="counterbore ISO 4762, underside",
        ),
        CUT,
        FactForm("drill", ("{value:length}",), example="drill 5 mm"),
        *PLACES,
    ),
    example="hole dog",
)
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
    ),
    example="spacer shim",
)


def lower_hole(reader: Reader, context: Context) -> Hole:
    """Holes: a dowel's, a clearance hole or a plain diameter."""
    board, face, _ = face_and_board(reader, context, "topside")
    size = reader.need_one("dowel", "diameter", "clearance")
    fit = reader.value("fit", "fit")
    if size == "clearance":
        reading = reader.get("clearance")
        assert reading is not None
        thread = thread_of(context, reading.get("thread"))
        fit = fit or "medium"
        if fit not in ("fine", "medium", "coarse"):
            raise Fault(
                "value-not-allowed",
                f"a clearance hole has the fit fine, medium or coarse, not {fit}",
                reader.span("fit", "fit"),
            )
        diameter, row = looked_up(lambda: context.catalog.clearance_mm(thread, fit), reading.span("thread"))
        because = f"clearance hole {thread.designation}, {fit}"
    else:
        value: Quantity = reader.value(size, "value")
        _positive(value, size)
        allowance = FIT_MM.get(fit, 0.0) if fit else 0.0
        if fit in ("fine", "medium", "coarse"):
            raise Fault(
                "value-not-allowed",
                f"the fit {fit} is for `clearance`; here it is press, push, slide or clearance",
                reader.span("fit", "fit"),
            )
        diameter, row = value.mm + allowance, None
        because = f"{size} {value}" + (f", {fit} fit {allowance:+.2f} mm" if fit else "")
    depth = reader.value("blind", "depth")
    bore = reader.get("counterbore")
    return Hole(
        name=reader.name,
        into=reader.value("into", "board"),
        diameter_mm=diameter,
        because=because,
        fit=fit,
        face=face,
        depth=depth,
        counterbore=_counterbore(bore, size, reader, context) if bore else None,
        cutter=straight_cutter(reader, context) or board.cutter,
        drill_mm=reader.value("drill", "value").mm if reader.get("drill") else None,
        places=lower_places(reader, context, board),
        origin=row or reader.origin,
    )


def _counterbore(reading: Reading, size: str, reader: Reader, context: Context) -> Counterbore:
    face = reading.get("face", "topside")
    depth: Quantity | None = reading.get("depth")
    standard = reading.get("standard")
    if standard is None:
        if depth is None:
            raise Fault(
                "incomplete-fact",
                "a counterbore by its diameter states its depth too",
                reading.line.span,
                remedy="write `counterbore diameter 14 mm, depth 8 mm`",
            )
        return Counterbore(
            face=face,
            diameter_mm=_positive(reading.get("diameter"), "diameter"),
            depth_mm=_positive(depth, "depth"),
            origin=reading.line.span,
        )
    if size != "clearance":
        raise Fault(
            "incomplete-fact",
            "a counterbore by a standard needs the thread: state `clearance`",
            reading.line.span,
            remedy="write `clearance M6`, or `counterbore diameter 14 mm, depth 8 mm`",
        )
    thread = thread_of(context, reader.value("clearance", "thread"))
    name = " ".join(part for part in (standard.text, standard.product) if part)
    diameter, row = looked_up(lambda: context.catalog.counterbore_mm(name, thread), standard.span)
    head = looked_up(lambda: context.catalog.head(name, thread), standard.span)
    deep = depth.mm if depth else head.height_max_mm + COUNTERBORE_EXTRA_MM
    return Counterbore(face=face, diameter_mm=diameter, depth_mm=deep, for_standard=name, origin=row)


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
    diameter, thickness = _positive(disc.get("diameter"), "disc"), _positive(disc.get("thickness"), "disc")
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
        diameter_mm=_positive(reader.value("diameter", "value"), "diameter"),
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
        bore_mm=_positive(bore, "bore") if bore else None,
        quantity=count,
        origin=reader.origin,
    )


def _positive(value: Any, what: str) -> float:
    if value.base <= 0:
        raise Fault("value-not-allowed", f"the {what} is {value}; more than 0 is required", value.origin)
    return float(value.base)
