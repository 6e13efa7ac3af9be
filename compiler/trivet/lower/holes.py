"""Round holes: a dowel's, a clearance hole or a plain diameter, with counterbores; and the fits that other features share."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trivet.lower.boards import CUT, straight_cutter
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.hardware import looked_up, thread_of
from trivet.lower.match import Reading
from trivet.lower.places import INTO, PLACES, face_and_board, lower_places
from trivet.model.board import Counterbore, Hole
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
        positive(value, size)
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
            diameter_mm=positive(reading.get("diameter"), "diameter"),
            depth_mm=positive(depth, "depth"),
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


def positive(value: Any, what: str) -> float:
    """A length in mm that is more than 0; `what` names it in the refusal."""
    if value.base <= 0:
        raise Fault("value-not-allowed", f"the {what} is {value}; more than 0 is required", value.origin)
    return float(value.base)
