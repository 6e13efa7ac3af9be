"""Cut zones of report.json and of page one: how deep a board is free of metal."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.metal import Metal, metal_in_zones, zone_name
from trivet.units import length_text

Record = dict[str, object]


def zone_records(design: Design, derived: Derived) -> list[Record]:
    """One record a zone, at the worst of the sheets and heights."""
    found: list[Record] = []
    for item in metal_in_zones(design, derived):
        zone = item.zone
        found.append(
            {
                "name": zone.name.text,
                "board": zone.into.text,
                "edge": zone.edge,
                "width_mm": zone.width.mm,
                "depth_mm": zone.depth.mm,
                "metal_free_mm": _cover(item.inside),
                "nearest": _part(item.inside),
                "elsewhere_metal_free_mm": _cover(item.outside),
                "elsewhere_nearest": _part(item.outside),
            }
        )
    return found


def zone_lines(design: Design, derived: Derived) -> list[str]:
    """Such as `cut zone kerf of deck: no metal above 12.3 mm (8 mm asked for); elsewhere 0.5 mm, corner.nw`."""
    return [
        f"cut zone{zone_name(item.zone)} of {item.zone.into}: {_free(item.inside, design.units)}"
        f" ({length_text(item.zone.depth.mm, design.units)} asked for); elsewhere {_free(item.outside, design.units)}"
        for item in metal_in_zones(design, derived)
    ]


def _free(metal: tuple[Metal, ...], unit: str) -> str:
    if not metal:
        return "no metal"
    first = metal[0]
    if first.cover_mm <= 0.0:
        return f"no cover over {first.solid.part}"
    return f"{length_text(first.cover_mm, unit)} free of metal, to {first.solid.part}"


def _cover(metal: tuple[Metal, ...]) -> float | None:
    return metal[0].cover_mm if metal else None


def _part(metal: tuple[Metal, ...]) -> str | None:
    return metal[0].solid.part if metal else None
