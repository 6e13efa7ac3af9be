"""How near metal comes to the topside of a board, anywhere in the stroke and at every extreme of the sheets."""

from __future__ import annotations

from trivet.model.board import CutZone, MagnetPlace
from trivet.model.design import Design
from trivet.record import record, replace
from trivet.solve.board_levels import BoardZ, boards_at
from trivet.solve.derived import Derived
from trivet.solve.outline_contour import drawn
from trivet.solve.solid import Solid, SolidSet


@record
class Metal:
    """A piece of metal and the wood over it, mm: negative where it stands out. `inside_mm`: how far what it belongs to reaches into the
    zone where it is less deep than the zone, or itself where nothing is.
    """

    solid: Solid
    cover_mm: float
    inside_mm: float


@record
class ZoneMetal:
    """`inside`, `outside`: metal in the zone and elsewhere, one entry a part, the least cover first."""

    zone: CutZone
    inside: tuple[Metal, ...]
    outside: tuple[Metal, ...]


def zone_name(zone: CutZone) -> str:
    """Its name with a space before it; empty for one that has none of its own."""
    return "" if zone.name.text == "cut_zone" else f" {zone.name.text}"


def metal_in_zones(design: Design, derived: Derived) -> tuple[ZoneMetal, ...]:
    """Every cut zone with the metal under it. The zone reaches over the board's whole edge, and from the topside upwards as well."""
    found = []
    for zone in design.cut_zones:
        least: dict[tuple[str, bool], Metal] = {}
        reach: dict[str, float] = {}
        bounds = _bounds(design, zone)
        for solids in derived.solids:
            place = boards_at(design, solids.board).z[zone.into.text]
            for solid in _metal(design, solids, zone.into.text, place):
                inside = _inside_mm(zone, bounds, solid)
                item = Metal(solid, place.top_mm - solid.high_mm, inside)
                if item.cover_mm < zone.depth.mm:
                    reach[solid.part] = max(reach.get(solid.part, inside), inside)
                key = (solid.part, inside > 0.0)
                if key not in least or item.cover_mm < least[key].cover_mm:
                    least[key] = item
        ordered = sorted(least.values(), key=lambda item: (item.cover_mm, item.solid.part))
        found.append(
            ZoneMetal(
                zone,
                tuple(
                    replace(item, inside_mm=reach.get(item.solid.part, item.inside_mm)) for item in ordered if item.inside_mm > 0.0
                ),
                tuple(item for item in ordered if item.inside_mm <= 0.0),
            )
        )
    return tuple(found)


def _metal(design: Design, solids: SolidSet, board: str, place: BoardZ) -> list[Solid]:
    """Metal of screws and hardware, and the magnets of the board; feet only where their stroke is known."""
    found = [item for item in solids.solids if item.metal and (solids.stroke or not item.moves)]
    error = design.shop.depth_mm if solids.board else 0.0
    for magnet in design.magnets:
        if magnet.into.text == board:
            found += _magnets(magnet, place, error)
    return found


def _magnets(magnet: MagnetPlace, place: BoardZ, error_mm: float) -> list[Solid]:
    """A magnet lies on the floor of its hole; it comes nearest to the topside where its own hole is shallow, or the other one deep."""
    thick = magnet.disc.thickness_mm
    floor = place.top_mm - magnet.hole_depth_mm if magnet.face == "topside" else place.under_mm + magnet.hole_depth_mm - thick
    low = floor + error_mm
    radius = magnet.disc.diameter_mm / 2.0
    return [Solid("magnet", at.id, "", at.x_mm, at.y_mm, radius, low, low + thick, origin=magnet.origin) for at in magnet.places]


def _bounds(design: Design, zone: CutZone) -> tuple[float, float, float, float]:
    board = next(item for item in design.boards if item.name.text == zone.into.text)
    return drawn(board.outline).translated(board.x_mm, board.y_mm).bounds


def _inside_mm(zone: CutZone, bounds: tuple[float, float, float, float], solid: Solid) -> float:
    """How far a disc reaches over the zone's inner border, mm; negative when it stays out of it. `bounds` of the zone's board."""
    x0, y0, x1, y1 = bounds
    width, radius = zone.width.mm, solid.radius_mm
    away = {
        "left": x0 + width - solid.x_mm,
        "right": solid.x_mm - (x1 - width),
        "near": y0 + width - solid.y_mm,
        "far": solid.y_mm - (y1 - width),
    }[zone.edge]
    return away + radius
