"""What the shop has and how well it works: sheets, cutters, machines and errors."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import Angle, Band, From, Named, NonNegativeLength, Noun, PositiveLength, Ratio, Varying


class Sheet(Noun):
    """Sheet stock: thickness as measured (mean and limits), overall size along x then y, and the way its face grain runs.

    `for_sheets`: the mean thicknesses that the plan is declared to hold for. `count`: whole sheets at hand, None for as many as needed;
    `off_cuts`: (width, height) of pieces that are used first. `spacing`: between parts; `registration`: diameter of the index dowels.
    """

    name: Named
    material: Named | None = None
    thickness: Varying
    width: PositiveLength | None = None
    height: PositiveLength | None = None
    face_grain: Literal["x", "y"] | None = None
    count: int | None = None
    off_cuts: tuple[tuple[PositiveLength, PositiveLength], ...] = ()
    spacing: NonNegativeLength | None = None
    edge_margin: NonNegativeLength | None = None
    registration: PositiveLength | None = None
    for_sheets: tuple[PositiveLength, PositiveLength] | None = None

    def layered(self, layers: int) -> Band:
        """Thickness of `layers` glued together; glue lines neglected."""
        t = self.thickness
        return Band(t.mean * layers, t.least * layers, t.most * layers, t.origin)


class Cutter(Noun):
    """A router cutter: straight with a diameter, or a vee with a tip angle; `reach` is how deep it cuts.

    `for_cutters`: the diameters that the plan is declared to hold for, from the one stated up.
    """

    name: Named
    diameter: PositiveLength | None = None
    tip_angle: Angle | None = None
    reach: PositiveLength | None = None
    for_cutters: tuple[PositiveLength, PositiveLength] | None = None


class Shop(Noun):
    """Errors to expect, each as plus or minus a length, and the moisture range (percent). The stated defaults are common practice, no source."""

    hole_position_mm: float = 0.15
    profile_offset_mm: float = 0.05
    run_out_mm: float = 0.0
    bore_clearance_mm: float = 0.20
    depth_mm: float = 0.2
    inserts: Literal["by_hand", "guide_block", "drill_press", "measured"] = "by_hand"
    insert_tilt_deg: float = 1.0
    moisture_least: float = 6.0
    moisture_most: float = 12.0
    stated: tuple[str, ...] = ()
    origins: From = None


class Machine(Noun):
    """A router or a router table: where it can cut and how far off it is."""

    name: Named
    work_area_width: PositiveLength | None = None
    work_area_height: PositiveLength | None = None
    slot_width: PositiveLength | None = None
    scale: Ratio | None = None
    skew: Angle | None = None
    hole_position: NonNegativeLength | None = None
    profile_offset: NonNegativeLength | None = None
    run_out: NonNegativeLength | None = None


class ToothForm(Noun):
    """The rack that a set of gears shares (ISO 53 proportions unless stated). `module_mm` is 25.4 over the diametral pitch where that is given."""

    name: Named
    module_mm: float
    diametral_pitch: float | None = None
    pressure_angle_deg: float = 20.0
    backlash: NonNegativeLength
    face_overlap: PositiveLength | None = None
    tip_shortening_mm: float = 0.0
    addendum: float = 1.0
    dedendum: float = 1.25
    module_origin: From = None
