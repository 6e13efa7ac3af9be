"""Boards and their frames."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trivet.lower.fault import Echo, Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.outlines import ARC, OUTLINE, POINT, lower_outline
from trivet.model.base import Ref
from trivet.model.board import Board
from trivet.model.tabs import Tabs
from trivet.source import Span

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

STOCK = FactForm("stock", ("{name:name}",), example="stock ply18")
CUT = FactForm("cutter", ("{name:name}",), example="cutter straight6")
MACHINE_FACT = FactForm("machine", ("{name:name}",), example="machine bench_router")
LAYERS = FactForm("layers", ("{count:count}",), example="layers 2")
TABS = FactForm(
    "tabs",
    ("{count:count}",),
    details=("width {width:length}", "height {height:length}"),
    example="tabs 4, width 8 mm, height 3 mm",
)

BOARD = BlockForm(
    "board",
    ("{name:name}",),
    (
        STOCK,
        CUT,
        OUTLINE,
        POINT,
        ARC,
        FactForm("datum", ("{face:topside|underside}",), example="datum underside"),
        LAYERS,
        FactForm("under", ("{board:name}",), details=("centred", "at {at:place}"), example="under platform, centred", place=True),
        FactForm("clear", ("{value:length}",), example="clear 2 mm"),
        FactForm("bow", ("{value:length}",), example="bow 0.5 mm"),
        FactForm("grain", ("along {axis:x|y}",), example="grain along x"),
        MACHINE_FACT,
        TABS,
    ),
    example="board deck",
)


def lower_board(reader: Reader, context: Context) -> Board:
    """A board; its frame's origin lies in the world where `under` puts it, or at the world's own origin."""
    reader.need("stock", "cutter", "outline")
    outline = lower_outline(reader)
    under = reader.get("under")
    x, y, upper = 0.0, 0.0, None
    if under is not None:
        upper = context.noun(context.refer(under.get("board"), "board"))
        at = under.get("at")
        if at is not None:
            point = context.world(at, under.span("at"), upper.name.text)
            x, y = point.x, point.y
        else:
            x = upper.x_mm + (upper.outline.width_mm - outline.width_mm) / 2
            y = upper.y_mm + (upper.outline.height_mm - outline.height_mm) / 2
    return Board(
        name=reader.name,
        stock=refer_to(reader, context, "stock", "sheet"),
        cutter=straight_cutter(reader, context),
        outline=outline,
        datum=reader.value("datum", "face", "underside"),
        layers=layers_of(reader),
        x_mm=x,
        y_mm=y,
        under=under.get("board") if under else None,
        clear=reader.value("clear", "value"),
        bow=reader.value("bow", "value"),
        grain=reader.value("grain", "axis"),
        machine=refer_to(reader, context, "machine", "machine"),
        tabs=tabs_of(reader),
    )


def refer_to(reader: Reader, context: Context, word: str, *kinds: str) -> Any:
    """The name in a fact, checked to be declared as one of the kinds; None when the fact is not stated."""
    name = reader.value(word, "name")
    if name is not None:
        context.noun(context.refer(name, *kinds))
    return name


def straight_cutter(reader: Reader, context: Context, word: str = "cutter") -> Any:
    """The name of a cutter that cuts outlines: one with a diameter."""
    name = reader.value(word, "name")
    if name is None:
        return None
    cutter = context.noun(context.refer(name, "cutter"))
    if cutter.diameter is None:
        assert isinstance(name.origin, Span)
        raise Fault(
            "vee-cutter-for-outline",
            f"`{name.text}` is a vee cutter; an outline needs a straight one",
            name.origin,
            remedy="name a cutter with a `diameter`",
        )
    return name


def tabs_of(reader: Reader) -> Tabs | None:
    """The tabs that are stated."""
    reading = reader.get("tabs")
    if reading is None:
        return None
    return Tabs(count=reading.get("count"), width=reading.get("width"), height=reading.get("height"), origin=reading.line.span)


def layers_of(reader: Reader) -> int:
    """The number of layers glued together, 1 to 6."""
    reading = reader.get("layers")
    if reading is None:
        return 1
    count = int(reading.get("count").number)
    if not 1 <= count <= 6:
        raise Fault("value-not-allowed", f"{count} layers are stated; 1 to 6 are allowed", reading.span("count"))
    return count


def board_named(reader: Reader, context: Context, word: str, to_do: str, unsaid: str) -> Ref:
    """The board that a fact names, or the only one. `to_do` and `unsaid` word what a missing board is wanted for."""
    stated = reader.get(word)
    if stated is not None:
        name: Ref = stated.get("board")
        context.refer(name, "board")
        return name
    boards = context.collected.of_kind("board")
    if len(boards) == 1:
        context.used.add(boards[0].name.text)
        return Ref(boards[0].name.text, reader.origin)
    if not boards and context.collected.broken_headings:
        raise Echo
    what = f"the {reader.form.kind} `{reader.name.text}`"
    if not boards:
        raise Fault("missing-fact", f"{what} has no board to {to_do}", reader.origin, remedy="declare a `board`")
    names = " or ".join(f"`{word} {board.name.text}`" for board in boards)
    raise Fault("missing-fact", f"{what} does not say {unsaid}", reader.origin, remedy=f"add {names}")
