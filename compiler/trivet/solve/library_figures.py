"""Friction, density and stiffness as the library's tables have them. A test holds each figure to its row.

They stand here too because the solver receives a design, not tables: a fixture names no row of these.
"""

from __future__ import annotations

# Zinc-plated thread in a steel nut, static, table `friction_pairs`: waxed at its lowest, as supplied at its highest (from memory, VDI 2230).
THREAD_FRICTION = (0.08, 0.24)
THREAD_FRICTION_SOURCE = "library table `friction_pairs`, zinc-plated thread in a steel nut, waxed to as supplied, from memory"
# A metal pad or head on a wooden bench, and a wooden gear on a wooden bench or board, dry, static.
METAL_ON_WOOD = (0.2, 0.6)
WOOD_ON_WOOD = (0.25, 0.5)
RUB_SOURCE = "library table `friction_pairs`, wood on metal and wood on wood, dry, found"

# kg/m³ by material, the least of its rows where they differ; table files `sheet_goods`.
DENSITY_KG_M3 = {
    "acrylic_cast": 1190.0,
    "acrylic_extruded": 1190.0,
    "birch_plywood": 680.0,
    "compact_laminate": 1400.0,
    "hdpe": 950.0,
    "inch_plywood": 550.0,
    "mdf": 740.0,
}
DENSITY_SOURCE = "library file `sheet_goods`, densities partly found, partly from memory"

# (mean thickness mm, bending modulus along, across the face grain, N/mm²); table `birch_plywood_panels`.
BIRCH_BENDING = (
    (3.6, 16471.0, 1029.0),
    (6.4, 12737.0, 4763.0),
    (9.2, 11395.0, 6105.0),
    (12.0, 10719.0, 6781.0),
    (14.8, 10316.0, 7184.0),
    (17.6, 10048.0, 7452.0),
    (20.4, 9858.0, 7642.0),
    (23.2, 9717.0, 7783.0),
    (26.0, 9607.0, 7893.0),
    (28.8, 9519.0, 7981.0),
)
# N/mm², the same table: in the plane of the panel, which is also what resists its twisting.
BIRCH_SHEAR = 620.0
# N/mm², table `other_panels`, MDF type MDF >12-19 mm: a least value.
MDF_BENDING = 2200.0
BENDING_SOURCE = "library file `panels`, from memory or derived from figures from memory"

# Percent of a length for each percent of moisture, along and across the grain in the plane of the sheet; tables `movement_panels` and
# `movement_hardwoods`, where a board of solid wood is taken across its grain as the more restless of its directions, tangential.
MOVEMENT_PLYWOOD = (0.0138, 0.0208)
MOVEMENT_MDF = (0.05, 0.05)
MOVEMENT_ALONG_WOOD = 0.005
MOVEMENT_ACROSS_WOOD = {
    "american_beech": 0.431,
    "american_elm": 0.338,
    "basswood": 0.33,
    "black_cherry": 0.248,
    "black_walnut": 0.274,
    "paper_birch": 0.304,
    "red_alder": 0.256,
    "red_maple": 0.289,
    "red_oak_commercial": 0.369,
    "sugar_maple": 0.353,
    "sweetgum": 0.365,
    "sycamore": 0.296,
    "white_ash": 0.274,
    "white_oak_commercial": 0.365,
    "yellow_birch": 0.338,
}
# Moved by heat, not by moisture.
PLASTICS = ("acrylic_cast", "acrylic_extruded", "hdpe")
MOVEMENT_SOURCE = (
    "library file `movement`, for each percent of moisture: plywood found (FPRL tests in The Technique of Furniture Making), hardwoods"
    " found (Wood Handbook, Table 13-5), along the grain of solid wood and MDF from memory"
)

# N/mm²: bending and shear that a tooth cut from a sheet is taken to bear, table `gear_tooth_allowables`: an assumption, no design value.
UNKNOWN_TOOTH = "unknown_plywood"
TOOTH_ALLOWABLES = {"birch_plywood": (10.7, 5.5), UNKNOWN_TOOTH: (3.0, 1.61), "mdf": (3.1, 1.5)}
TOOTH_SOURCE = "library table `gear_tooth_allowables`, an assumption from memory"

# Steel, N/mm² (from memory; every textbook of machine elements has 200 000 to 210 000).
STEEL_MODULUS = 205_000.0


def bending_modulus(material: str, thickness_mm: float) -> tuple[float, float] | None:
    """N/mm² along and across the face grain, of the row nearest in thickness; None where the library has none for both ways."""
    if material == "birch_plywood":
        _, along, across = min(BIRCH_BENDING, key=lambda row: abs(row[0] - thickness_mm))
        return along, across
    return (MDF_BENDING, MDF_BENDING) if material == "mdf" else None


def movement_percent(material: str | None) -> tuple[float, float]:
    """Percent of a length for each percent of moisture, (along, across) the face grain. What is not named or not known is taken as plywood."""
    if material in PLASTICS:
        return 0.0, 0.0
    if material == "mdf":
        return MOVEMENT_MDF
    across = MOVEMENT_ACROSS_WOOD.get(material or "")
    return (MOVEMENT_ALONG_WOOD, across) if across is not None else MOVEMENT_PLYWOOD


def shear_modulus(material: str) -> float | None:
    """N/mm², what resists twisting; for MDF half its bending modulus, as for a material alike every way. None where it is not known."""
    return BIRCH_SHEAR if material == "birch_plywood" else MDF_BENDING / 2.0 if material == "mdf" else None
