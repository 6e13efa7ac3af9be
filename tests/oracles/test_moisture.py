"""What moisture does to a mesh: published movement, sheets stretched point by point, and the library's rows."""

from __future__ import annotations

import math

import pytest
from tests.designs import design, drive, gear, mesh, tooth_form

from trivet.inputs import load_library
from trivet.model.base import Band, Ref
from trivet.model.board import Board
from trivet.model.design import Design
from trivet.model.outline import Outline
from trivet.model.shop import Sheet, Shop
from trivet.solve import library_figures as figures
from trivet.solve.derived import MeshState
from trivet.solve.train import solve_train

PERFECT = {"hole_position_mm": 0.0, "profile_offset_mm": 0.0, "bore_clearance_mm": 0.0, "insert_tilt_deg": 0.0}


def built(angle: float, board: tuple[str, str | None], gears: str, low: float = 6.0, high: float = 12.0) -> Design:
    """Hub 20 and b 30, module 4, 100 mm apart: a board of one material and grain, gears of another."""
    sheets = (
        Sheet(name=Ref("ply"), thickness=Band(17.8, 17.6, 18.0), material=Ref(gears)),
        Sheet(name=Ref("top"), thickness=Band(17.8, 17.6, 18.0), material=Ref(board[0]), face_grain=board[1]),
    )
    outline = Outline(shape="rectangle", width_mm=480.0, height_mm=350.0)
    deck = Board(name=Ref("deck"), stock=Ref("top"), cutter=Ref("straight"), outline=outline)
    shop = Shop(**PERFECT, moisture_least=low, moisture_most=high)
    return design(
        (gear("hub", 20, (0, 0), drive=True), gear("b", 30)), (mesh("hub", "b", angle),), shop=shop, sheets=sheets, boards=(deck,),
        drives=(drive(hole_mm=8.0),), tooth_forms=(tooth_form(backlash="0.5"),),
    )  # fmt: skip


def one(sample: Design) -> MeshState:
    return solve_train(sample).meshes[0]


def test_figures_are_the_librarys() -> None:
    rows = {(row.key, row.text("direction")): row.number("movement") for table in load_library("movement") for row in table.rows}
    assert (rows["plywood", "along_face_grain"], rows["plywood", "across_face_grain"]) == figures.MOVEMENT_PLYWOOD
    assert (rows["mdf", "in_plane"],) * 2 == figures.MOVEMENT_MDF
    assert rows["solid_wood", "longitudinal"] == figures.MOVEMENT_ALONG_WOOD
    assert {wood: value for (wood, way), value in rows.items() if way == "tangential"} == figures.MOVEMENT_ACROSS_WOOD


def test_plywood_moves_as_published() -> None:
    # FPRL tests quoted in The Technique of Furniture Making: 0.18 % along and 0.27 % across from 7 to 20 percent, a mean of 22 species.
    # Tolerance: the rows are rounded to four decimals.
    assert tuple(13 * value for value in figures.movement_percent("birch_plywood")) == pytest.approx((0.18, 0.27), abs=0.001)
    # Wood Handbook, Table 13-5: American beech, tangential, 0.00431 of a dimension for each percent.
    assert figures.movement_percent("american_beech")[1] == 0.431
    assert figures.movement_percent(None) == figures.movement_percent("birch_plywood") and figures.movement_percent("hdpe") == (0.0, 0.0)


@pytest.mark.parametrize(
    ("angle", "board", "gears"),
    [
        (0.0, ("birch_plywood", "x"), "birch_plywood"),
        (62.0, ("birch_plywood", "x"), "birch_plywood"),
        (30.0, ("birch_plywood", "y"), "birch_plywood"),
        (45.0, ("mdf", None), "birch_plywood"),
        (10.0, ("birch_plywood", "x"), "mdf"),
        (75.0, ("red_maple", "y"), "birch_plywood"),
    ],
)
def test_stretched_sheets_close_the_mesh_by_so_much(angle: float, board: tuple[str, str], gears: str) -> None:
    """Points of both sheets are stretched, each gear turned to every direction of its grain; then the gap on the line of centres.

    Ours is of first order: a plywood's thousandth, squared, on 100 mm is 0.0001 mm; solid wood's two hundredths aslant give 0.001 mm.
    """
    a, b = (value / 100 for value in figures.movement_percent(board[0]))
    c, d = (value / 100 for value in figures.movement_percent(gears))
    way = math.radians(angle)
    ux, uy = math.cos(way), math.sin(way)
    nearest = 0.0
    for change in (6.0, -6.0):
        ex, ey = (a, b) if board[1] in ("x", None) else (b, a)
        apart = math.hypot(100 * ux * (1 + ex * change), 100 * uy * (1 + ey * change))
        for one_grain in range(0, 180, 10):
            for two_grain in range(0, 180, 10):
                reach = 0.0
                for radius, grain in ((40.0, one_grain), (60.0, two_grain)):
                    gx, gy = math.cos(math.radians(grain)), math.sin(math.radians(grain))
                    along, across = gx * ux + gy * uy, gx * uy - gy * ux
                    reach += radius * ((1 + c * change) * along**2 + (1 + d * change) * across**2)
                nearest = max(nearest, reach - apart)
    state = one(built(angle, board, gears))
    # Degrees of the grain are ten apart, so the exact direction along the line may be missed by five.
    assert state.moisture_mm == pytest.approx(nearest, abs=2e-4 + 0.025 * nearest)
    per_mm = 2 * math.tan(math.radians(20)) + 0.5 / 100
    (what, share, _), *more = state.backlash.contributors
    assert (what, more) == ("moisture of board and gears", []) and share == pytest.approx(state.moisture_mm * per_mm)
    assert state.centre_distance_least_mm == pytest.approx(100 - state.moisture_mm)
    assert state.centre_distance_most_mm == pytest.approx(100 + state.moisture_mm)


def test_one_material_alike_every_way_moves_nothing() -> None:
    """Board and gears of MDF grow together: the mesh only changes its size. So do sheets kept at one moisture."""
    assert one(built(30.0, ("mdf", None), "mdf")).moisture_mm == pytest.approx(0.0, abs=1e-12)
    assert one(built(30.0, ("mdf", None), "birch_plywood", low=9.0, high=9.0)).backlash.contributors == ()


def test_unlike_sheets_by_hand() -> None:
    """A plywood board with MDF gears, 100 mm: wetter by six percent MDF grows 0.05 and the board 0.0138 percent a percent along x."""
    state = one(built(0.0, ("birch_plywood", "x"), "mdf"))
    assert state.moisture_mm == pytest.approx(100 * 6 * (0.05 - 0.0138) / 100)
    assert state.closer_mm == pytest.approx((0.0362, -0.0362))


def test_a_run_out_of_the_shop_counts_as_one_of_a_machine() -> None:
    shop = Shop(**PERFECT, run_out_mm=0.04, moisture_least=8.0, moisture_most=8.0)
    sample = design((gear("hub", 20, (0, 0), drive=True), gear("b", 20)), (mesh("hub", "b", 0),), shop=shop, drives=(drive(hole_mm=8.0),))
    assert one(sample).backlash.contributors[0][1] == pytest.approx(4 * 0.02 / math.cos(math.radians(20)))


def test_chance_by_moisture_alone() -> None:
    """Made anywhere in the range and used in all of it: the mesh closes by more than a limit when made in one of both ends of the range."""
    from trivet.solve.binding import binding
    from trivet.solve.solve import solve

    sample = built(0.0, ("birch_plywood", "x"), "mdf", low=4.0, high=16.0)
    sample = sample.model_copy(update={"tooth_forms": (tooth_form(backlash="0.2"),)})
    # MDF gears grow 0.0362 mm more for each percent wetter: lost is what closes 0.2 mm, first by tangent and then exactly.
    base, low, high = 100 * math.cos(math.radians(20)), 0.0, 1.0
    for _ in range(60):
        lost = (low + high) / 2
        at = math.acos(base / (100 - lost))
        left = 0.2 / 100 + 2 * (math.tan(at) - at - math.tan(math.radians(20)) + math.radians(20))
        low, high = (lost, high) if left > 0 else (low, lost)
    made_below = 1 - lost / 0.0362 / 12
    assert 0.1 < made_below < 0.9
    found = binding(sample, solve(sample))
    assert found.chance == pytest.approx(made_below, abs=5 * math.sqrt(0.25 / found.draws))
    assert dict(found.contributors) == {"moisture": 0.0}
    # Plywood of unknown grain closes by 0.007 mm for a percent, wetter or drier: made near either end of the range it closes too far.
    sample = built(0.0, ("birch_plywood", None), "birch_plywood", low=0.0, high=50.0)
    sample = sample.model_copy(update={"tooth_forms": (tooth_form(backlash="0.2"),)})
    made_far = 2 * (1 - lost / (0.007 * 50))
    assert 0.1 < made_far < 0.9
    assert binding(sample, solve(sample)).chance == pytest.approx(made_far, abs=5 * math.sqrt(0.25 / found.draws))
