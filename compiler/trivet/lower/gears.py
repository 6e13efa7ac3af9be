"""Gears, meshes and rings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trivet.lower.boards import CUT, LAYERS, MACHINE_FACT, STOCK, TABS, board_named, layers_of, refer_to, straight_cutter, tabs_of
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.model.base import Ref
from trivet.model.train import Gear, JoinedBy, Mesh, Ring, Web
from trivet.source import Span
from trivet.syntax.nodes import Name

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

GEAR = BlockForm(
    "gear",
    ("{name:name}",),
    (
        FactForm("teeth", ("{count:count}",), example="teeth 20"),
        STOCK,
        CUT,
        FactForm("tooth_form", ("{name:name}",), example="tooth_form coarse"),
        FactForm("at", ("{at:place}", "{board:name} {at:place}"), example="at deck.centre", place=True),
        FactForm("turned_by", ("{name:name}",), example="turned_by crank", sets="role"),
        FactForm("turns_on", ("{name:name}",), example="turns_on pin", sets="role"),
        FactForm("carries", ("{name:name}",), example="carries corner", sets="role"),
        FactForm(
            "on_shaft_with", ("{name:name}",), details=("{side:below|above}",), example="on_shaft_with wheel, below", sets="role"
        ),
        FactForm("joined_by", ("dowels", "dowels {diameter:length}", "clamped"), example="joined_by dowels 6 mm"),
        FactForm("profile_shift", ("{value:ratio}",), example="profile_shift 0.3"),
        LAYERS,
        FactForm(
            "web",
            ("{form:spokes|holes} {count:count}",),
            details=("width {size:length}", "diameter {size:length}"),
            example="web spokes 5, width 14 mm",
        ),
        FactForm("bore", ("{value:length}",), example="bore 8.2 mm"),
        FactForm("flip", ("{way:alternate|none}",), example="flip alternate"),
        FactForm("under", ("{board:name}",), example="under base"),
        MACHINE_FACT,
        TABS,
    ),
    named="many",
    example="gear hub",
)
MESH = BlockForm(
    "mesh",
    ("{gear:name}",),
    (
        FactForm(
            "with",
            ("{gear:name}", "{gear:name} at {angle:angle}"),
            details=("centre_distance {distance:length}",),
            example="with west at 180 deg",
            repeats=True,
        ),
    ),
    named="none",
    example="mesh hub",
)
RING = BlockForm(
    "ring",
    ("{name:name}",),
    (
        FactForm("gears", ("{gear:name}",), example="gears a, b, c, d", many=True),
        FactForm("around", ("{at:place}", "{board:name} {at:place}"), example="around platform.centre", place=True),
        FactForm("first_at", ("{angle:angle}",), example="first_at 90 deg", place=True),
    ),
    example="ring train",
)

MOST_TEETH = 1000


def lower_gear(reader: Reader, context: Context) -> Gear:
    """A gear and the one thing that turns, holds or rides on it."""
    reader.need("teeth", "stock", "cutter", "tooth_form")
    role = reader.need_one("turned_by", "turns_on", "carries", "on_shaft_with")
    teeth = reader.get("teeth")
    assert teeth is not None
    count = teeth.get("count")
    if not 4 <= count.number <= MOST_TEETH:
        shown = count.number if count.number < 10**9 else "far too many"
        raise Fault(
            "value-not-allowed", f"`{reader.name.text}` has {shown} teeth; 4 to {MOST_TEETH} are allowed", teeth.span("count")
        )
    name = reader.value(role, "name")
    kind = {"turned_by": "drive", "turns_on": "pivot", "carries": "foot", "on_shaft_with": "gear"}[role]
    entry = context.refer(name, kind)
    if entry.name.text == reader.name.text:
        raise Fault("cyclic-names", f"`{name.text}` stands on a shaft with itself", name.origin)
    under = board_named(reader, context, "under", "hang under", "under which board it hangs")
    at = reader.get("at")
    place = None
    if at is not None:
        frame = at.get("board")
        place = context.world(at.get("at"), at.span("at"), context.board_of(frame) if frame else under.text)
    refer_to(reader, context, "stock", "sheet")
    refer_to(reader, context, "tooth_form", "tooth_form")
    return Gear(
        name=reader.name,
        teeth=count,
        stock=reader.value("stock", "name"),
        cutter=straight_cutter(reader, context),
        tooth_form=reader.value("tooth_form", "name"),
        at=place,
        **{role: name},
        on_shaft_side=reader.value("on_shaft_with", "side", "below"),
        joined_by=_joined(reader, role),
        profile_shift=reader.value("profile_shift", "value"),
        layers=layers_of(reader),
        web=_web(reader),
        bore=reader.value("bore", "value"),
        flip=reader.value("flip", "way", "none"),
        under=under,
        machine=refer_to(reader, context, "machine", "machine"),
        tabs=tabs_of(reader),
    )


def _joined(reader: Reader, role: str) -> JoinedBy | None:
    joined = reader.get("joined_by")
    if joined is None:
        return None
    if role != "on_shaft_with":
        raise Fault(
            "facts-exclude", f"`joined_by` is of a gear on another gear's shaft; `{reader.name.text}` has `{role}`", joined.line.word.span,
            remedy="write it in the block that says `on_shaft_with`",
        )  # fmt: skip
    return JoinedBy(form="clamped" if joined.which == 2 else "dowels", diameter=joined.get("diameter"), origin=joined.line.span)


def _web(reader: Reader) -> Web | None:
    web = reader.get("web")
    if web is None:
        return None
    size = web.get("size")
    if size is None:
        word = "width 14 mm" if web.get("form") == "spokes" else "diameter 20 mm"
        raise Fault(
            "incomplete-fact",
            "a web states the size of its spokes or holes",
            web.line.span,
            remedy=f"write `{web.line.span.text}, {word}`",
        )
    return Web(form=web.get("form"), count=web.get("count"), size=size, origin=web.line.span)


def lower_mesh(reader: Reader, context: Context) -> tuple[Mesh, ...]:
    """The meshes of one block: its gear with each that is named."""
    items = reader.entry.heading.phrases[0].items
    if len(items) != 1 or len(reader.entry.heading.phrases) != 1 or not isinstance(items[0], Name):
        raise Fault(
            "name-form",
            "`mesh` is followed by one gear",
            reader.entry.heading.span,
            remedy="write `mesh hub`, and below it `with west at 180 deg`",
        )
    first = Ref(items[0].text, items[0].span)
    context.refer(first, "gear")
    reader.need("with")
    meshes = []
    for reading in reader.all("with"):
        other = reading.get("gear")
        context.refer(other, "gear")
        if other.text == first.text:
            raise Fault("cyclic-names", f"`{other.text}` is in mesh with itself", reading.span("gear"))
        meshes.append(
            Mesh(a=first, b=other, angle=reading.get("angle"), centre_distance=reading.get("distance"), origin=reading.line.span)
        )
    return tuple(meshes)


def lower_ring(reader: Reader, context: Context) -> Ring:
    """A closed ring, anticlockwise in the order of its gears."""
    reader.need("gears", "around", "first_at")
    gears = reader.get("gears")
    assert gears is not None
    names: list[Ref] = [slots["gear"] for slots in gears.repeated]
    seen: set[str] = set()
    for name in names:
        context.refer(name, "gear")
        if name.text in seen:
            assert isinstance(name.origin, Span)
            raise Fault("said-twice", f"`{name.text}` stands in the ring twice", name.origin)
        seen.add(name.text)
    if len(names) < 3:
        raise Fault("incomplete-fact", f"a ring has at least 3 gears; this one has {len(names)}", gears.line.span)
    around = reader.get("around")
    assert around is not None
    frame = around.get("board")
    centre = context.world(around.get("at"), around.span("at"), context.board_of(frame) if frame else None)
    return Ring(name=reader.name, gears=tuple(names), around=centre, first_at=reader.value("first_at", "angle"))
