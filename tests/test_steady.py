"""Torque, twist, tipping, sag and sway against sums by hand and published figures. N, mm, N·mm.

The base: 480 by 350, 17.8 thick; hub 16 in the middle, idlers and feet of 20 teeth, module 6; two meshes from hub to foot; M8 x 1.25.
"""

from __future__ import annotations

import math

import pytest
from tests.edited_base import of_rule
from tests.fixture_text import check_text, compiled, findings_of

from trivet.checks._examples import BASE, example_text
from trivet.inputs import load_library
from trivet.model.design import Design
from trivet.solve import library_figures as figures
from trivet.solve.derived import Derived
from trivet.solve.load_shares import shares
from trivet.solve.plate import Stiffness, plate_sags_mm, sheet_stiffness
from trivet.solve.sway import bend_mm, rock_mm
from trivet.solve.tipping import tip_edges, weight_of
from trivet.solve.torque import drive_torque, foot_holds
from trivet.solve.twist import gap_mm, residual_mm
from trivet.tables.report import report

BIRCH = "- size 1220 by 610 mm\n+   size 1220 by 610 mm\n+   material birch_plywood\n"
SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def solved(edits: str) -> tuple[Design, Derived]:
    found = compiled(example_text(edits))
    assert found.design is not None and found.derived is not None, [item.message for item in found.findings]
    return found.design, found.derived


def load(force: str, more: str = "") -> str:
    return f"{more}+ load plank\n+   force {force}\n"


# --- what stands in the library ---


def test_figures_are_the_librarys() -> None:
    """Each constant of the solver is read again from the tables."""
    pairs = {(row.key, row.text("condition")): row for table in load_library("friction") for row in table.rows}
    thread = "zinc_plated_screw_thread_in_steel_nut"
    assert (
        pairs[thread, "waxed_or_greased"].number("static_low"),
        pairs[thread, "as_supplied"].number("static_high"),
    ) == figures.THREAD_FRICTION
    for name, got in (("wood_on_metal", figures.METAL_ON_WOOD), ("wood_on_wood", figures.WOOD_ON_WOOD)):
        row = pairs[name, "dry"]
        assert got == (row.number("static_low"), row.number("static_high"))
    density: dict[str, list[float]] = {}
    for table in load_library("sheet_goods"):
        for row in table.rows if table.kind == "sheet" else ():
            density.setdefault(row.key, []).append(row.number("density_kg_m3") or 0.0)
    assert {name: min(found) for name, found in density.items()} == figures.DENSITY_KG_M3
    panels = {table.name: table for table in load_library("panels")}
    birch = panels["birch_plywood_panels"].rows
    assert (
        tuple(
            (row.mm("thickness_mean"), row.number("bending_modulus_along_N_mm2"), row.number("bending_modulus_across_N_mm2"))
            for row in birch
        )
        == figures.BIRCH_BENDING
    )
    assert {row.number("shear_modulus_N_mm2") for row in birch} == {figures.BIRCH_SHEAR}
    mdf = [r for r in panels["other_panels"].rows if r.key == "mdf" and r.text("property") == "bending modulus min"]
    assert [row.number("low") for row in mdf] == [figures.MDF_BENDING]


def test_modulus_is_of_the_nearest_thickness() -> None:
    assert figures.bending_modulus("birch_plywood", 17.8) == (10048.0, 7452.0)
    assert figures.bending_modulus("oak", 17.8) is None and figures.shear_modulus("oak") is None
    # Alike every way: E = 2 G, without the transverse strain that is not known.
    assert figures.shear_modulus("mdf") == pytest.approx(figures.MDF_BENDING / 2) and figures.shear_modulus("birch_plywood") == 620.0


# --- torque ---


def test_three_feet_share_by_statics() -> None:
    """A force at one foot rests on it alone; the others keep an even share all the same. In the middle each has a third."""
    feet = ((0.0, 0.0), (300.0, 0.0), (0.0, 300.0))
    assert shares(feet, [(90.0, 300.0, 0.0)]) == pytest.approx((30.0, 90.0, 30.0))
    assert shares(feet, [(90.0, 100.0, 100.0)]) == pytest.approx((30.0, 30.0, 30.0))


def test_two_feet_share_along_their_line() -> None:
    """A quarter of the way along, three quarters; what stands beside the line counts by its foot on it."""
    assert shares(((0.0, 0.0), (80.0, 60.0)), [(100.0, 20.0, 15.0)]) == pytest.approx((75.0, 50.0))
    assert shares(((0.0, 0.0), (80.0, 60.0)), [(100.0, 20.0 - 6.0, 15.0 + 8.0)]) == pytest.approx((75.0, 50.0))
    assert shares(((5.0, 5.0),), [(100.0, 20.0, 15.0)]) == (100.0,)


def test_torque_by_hand() -> None:
    """200 N in the middle: 50 N a foot. d2 7.188, f' = 0.24/cos 30 = 0.27713: thread 25 x 7.188 x (1.25 + 6.2581)/(22.5818 - 0.34641)
    = 60.68; dome on a disc of 4, 0.6: 2/3 x 0.6 x 50 x 2 = 40; the foot turns 16/20, two meshes of 0.85:
    4 x 100.68 x 0.8/0.7225 = 445.9.
    """
    design, derived = solved(load("200 N at deck.centre, down"))
    torque = drive_torque(design, derived)
    assert torque is not None and torque.low_nmm is not None and torque.high_nmm is not None
    assert [foot.share_n for foot in torque.feet] == pytest.approx([50.0] * 4)
    assert torque.feet[0].high_nmm == pytest.approx(100.68, abs=0.05)
    assert torque.high_nmm == pytest.approx(445.9, abs=0.3)
    assert torque.low_nmm < torque.high_nmm


def test_a_disc_rubs_on_its_own_size() -> None:
    """Disc of 25: 2/3 x 0.6 x 50 x 12.5 = 250 in place of 40."""
    disc = "- pad dome, drop 3 mm\n+   pad disc diameter 25 mm, drop 3 mm\n"
    design, derived = solved(load("200 N at deck.centre, down") + disc)
    torque = drive_torque(design, derived)
    assert torque is not None and torque.feet[0].high_nmm == pytest.approx(310.68, abs=0.05)


def test_report_of_a_load() -> None:
    def record(edits: str) -> dict[str, object]:
        return report(*solved(edits), findings=(), status="clean", version="1")

    bare = record("+ # nothing is loaded")
    assert bare["load"] is None
    assert [(foot["torque_to_raise_nmm"], foot["holds_by_itself"]) for foot in bare["feet"]] == [(None, True)] * 4
    assert record(load("50 N at deck.centre, along x"))["load"] is None
    loaded = record(load("200 N at deck.centre, down"))
    assert loaded["load"]["down_n"] == 200.0
    assert loaded["feet"][0]["torque_to_raise_nmm"] == pytest.approx(100.68, abs=0.05)


@pytest.mark.parametrize("starts", [1, 2])
def test_holds_as_the_rule_has_it(starts: int) -> None:
    """M8 climbs at 3.17 deg with one start, at 6.32 with two; atan(0.08/cos 30) is 5.28."""
    table = (
        f'+ table own is thread\n+   source "x"\n+   columns thread, diameter mm, pitch mm, starts\n+   row M8, 8, 1.25, {starts}'
    )
    _, derived = solved(table)
    assert {foot_holds(foot) for foot in derived.feet} == {starts == 1}
    assert bool(findings_of(example_text(table), "thread-runs-back")) == (starts == 2)


# --- twist ---


def test_gap_of_a_square_and_of_a_kite() -> None:
    """A square's gap is h1 + h3 - h2 - h4 at each foot; elsewhere the levers are those of the foot within the others' triangle."""
    assert gap_mm(SQUARE, (1.0, 0.2, 0.4, 0.1)) == pytest.approx(1.0 + 0.4 - 0.2 - 0.1)
    assert gap_mm(SQUARE, (0.0, 1.0, 2.0, 1.0)) == pytest.approx(0.0), "a slope is no twist"
    # The foot at (50, 10) stands at 0.45, 0.45 and 0.1 of the others: 1 up there lifts the far one by 10.
    kite = ((0.0, 0.0), (100.0, 0.0), (50.0, 100.0), (50.0, 10.0))
    assert gap_mm(kite, (0.0, 0.0, 0.0, 1.0)) == pytest.approx(10.0)


def test_half_a_step_is_left() -> None:
    """Lead 1.25 over 20 teeth: 0.0625, half of it; the finest step of four unlike ones counts; three feet always stand."""
    assert residual_mm(SQUARE, (0.0625,) * 4) == pytest.approx(0.03125)
    assert residual_mm(SQUARE, (0.2, 0.2, 0.2, 0.05)) == pytest.approx(0.025)
    assert residual_mm(SQUARE[:3], (9.0,) * 3) == 0.0
    assert residual_mm((*SQUARE, (50.0, 50.0)), (0.1, 0.1, 0.1, 0.1, 0.3)) == pytest.approx(0.15)


def test_feet_in_a_line_do_not_rock_the_fourth() -> None:
    """Three in a row and one aside: only the row can rock, by the middle foot's distance from the line of its neighbours."""
    row = ((0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (50.0, 80.0))
    assert gap_mm(row, (0.0, 0.3, 0.0, 7.0)) == pytest.approx(0.6), "the outer ones have half the lever"
    assert residual_mm(row, (0.1, 0.1, 0.1, 9.0)) == pytest.approx(0.1 / 2)


# --- tipping ---


def test_weight_and_edges_by_hand() -> None:
    """480 x 350 x 17.8 at 680 kg/m3 less four round corners of 12: 2.03 kg, 19.9 N, in the middle. Each edge of the feet's rectangle holds
    weight times half its width, and gives way under that over what stands out beyond it.
    """
    design, derived = solved(BIRCH)
    weight, _ = weight_of(design)
    assert weight is not None
    area = 480 * 350 - (4 - math.pi) * 12**2
    newtons = area * 17.8 * 680e-9 * 9.80665
    assert weight == pytest.approx((newtons, 240.0, 175.0), rel=1e-4)
    xs = [foot.x_mm for foot in derived.feet]
    half = (max(xs) - min(xs)) / 2
    east = next(edge for edge in tip_edges(design, derived, weight) if edge.feet == ("corner.se", "corner.ne"))
    assert east.holds_nmm == pytest.approx(newtons * half, rel=1e-4)
    assert east.lifts_n == pytest.approx(newtons * half / (240 - half), rel=1e-4)


def test_the_load_that_just_tips() -> None:
    """What `tips-at` says lifts the feet across: 2 % less at that place stands, 2 % more tips."""
    design, derived = solved(BIRCH)
    weight, _ = weight_of(design)
    assert weight is not None
    edge = next(item for item in tip_edges(design, derived, weight) if item.feet == ("corner.se", "corner.ne"))
    assert edge.lifts_n is not None
    for factor, tips in ((0.98, False), (1.02, True)):
        text = load(f"{edge.lifts_n * factor:.3f} N at (480, 175) mm, down", BIRCH)
        assert bool(of_rule("load-tips-board", text)) == tips


def test_a_load_outside_the_feet_is_no_finding_of_itself() -> None:
    assert not of_rule("load-tips-board", load("5 N at (475, 175) mm, down", BIRCH))


def test_loads_that_tip_only_together() -> None:
    design, derived = solved(BIRCH)
    weight, _ = weight_of(design)
    assert weight is not None
    edge = next(item for item in tip_edges(design, derived, weight) if item.feet == ("corner.se", "corner.ne"))
    assert edge.lifts_n is not None
    part = edge.lifts_n * 0.6
    one = f"force {part:.3f} N at (480, 175) mm, down"
    text = BIRCH + f"+ load left\n+   {one}\n+ load right\n+   {one}"
    (found,) = of_rule("load-tips-board", text)
    assert "`left` and `right` tip the board over" in found.message


def test_a_push_at_the_greatest_height_tips() -> None:
    """60 N x 48 mm is 2.9 Nm; the board's 20 N hold 164 mm along x, 3.3 Nm, and 106 mm along y, 2.1 Nm."""
    assert not of_rule("load-tips-board", load("60 N at deck.centre, along x", BIRCH))
    (found,) = of_rule("load-tips-board", load("60 N at deck.centre, along y", BIRCH))
    assert "0.8 Nm more" in found.message


def test_unknown_density_is_said() -> None:
    assert "no density is known for the sheet `ply18`" in of_rule("tips-at", load("60 N at deck.centre, down"))[0].message


# --- sag and sway ---


def test_sag_of_a_plate_on_its_corners() -> None:
    """Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells: square plate on its corners, even load: 0.0249 to 0.0257 q a^4/D at
    Poisson's ratio 0.3 (from memory; the book's series is cut short): 3 %.
    """
    n, side, d = 20, 1000.0, 1e6
    even = [(side * side / n / n, (i + 0.5) * side / n, (j + 0.5) * side / n) for i in range(n) for j in range(n)]
    stiffness = Stiffness(d, d, 0.3 * d, 0.7 * d / 2)
    corners = [(0.0, 0.0), (side, 0.0), (0.0, side), (side, side)]
    (sag,) = plate_sags_mm(side, side, stiffness, corners, [(even, (side / 2, side / 2))])
    assert sag * d / side**4 == pytest.approx(0.0253, rel=0.03)


@pytest.mark.parametrize("turned", [False, True])
def test_sag_of_a_strip_is_a_beams(turned: bool) -> None:
    """F L^3 / (48 E I) in the middle (any textbook of strength), along x with its modulus and along y with the other; 1 %."""
    stiffness = sheet_stiffness(10_000.0, 5_000.0, 620.0, 18.0)
    size = (20.0, 1000.0) if turned else (1000.0, 20.0)
    corners = [(0.0, 0.0), (size[0], 0.0), (0.0, size[1]), size]
    middle = (size[0] / 2, size[1] / 2)
    (sag,) = plate_sags_mm(*size, stiffness, corners, [([(100.0, *middle)], middle)])
    modulus = 5_000.0 if turned else 10_000.0
    assert sag == pytest.approx(100.0 * 1000.0**3 / (48 * modulus * 20.0 * 18.0**3 / 12), rel=0.01)


def test_grain_makes_a_board_stiffer_along_it() -> None:
    """Lower modulus both ways where it is not stated; a load outside the feet gives no sag."""
    clamp = load("500 N at deck.centre, down", BIRCH)
    outline = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
    edge = f"\n- {outline}\n+   {outline}\n+   grain along x"
    assert "7452 N/mm2 along x and 7452 along y" in of_rule("board-sags", clamp)[0].related[0].message
    stated = of_rule("board-sags", clamp + edge)
    assert "10048 N/mm2 along x and 7452 along y" in stated[0].related[0].message
    assert not of_rule("board-sags", load("500 N at (5, 175) mm, down", BIRCH))


@pytest.mark.parametrize(("major", "pitch", "published"), [(6.0, 1.0, 0.40), (8.0, 1.25, 0.12), (10.0, 1.5, 0.05)])
def test_bending_of_screws(major: float, pitch: float, published: float) -> None:
    """50 N at 50 mm: derived elsewhere for M6, M8, M10 and rounded to 0.01."""
    assert bend_mm(50.0, 50.0, major - 1.226869 * pitch) == pytest.approx(published, abs=0.005)


def test_rocking() -> None:
    assert rock_mm(40.0, 8.0) == pytest.approx(0.15 * 5) and rock_mm(40.0, 0.0) == 0.0


def test_nothing_is_said_without_a_load() -> None:
    rules = {"tips-at", "load-tips-board", "board-sags", "screws-sway", "feet-rock"}
    assert [item.rule for item in check_text(BASE) if item.rule in rules] == []
    assert [item.rule for item in check_text(example_text(BIRCH)) if item.rule in rules] == []


def test_an_outline_that_crosses_itself_weighs_nothing() -> None:
    """Another check says what is wrong; these do not crash on it."""
    crossed = "- outline rectangle 480 by 350 mm, corner_radius 12 mm\n+   outline polygon\n" + "".join(
        f"+   point ({x}, {y}) mm\n" for x, y in ((0, 0), (480, 350), (480, 0), (0, 350))
    )
    found = check_text(example_text(load("60 N at (240, 175) mm, down", BIRCH) + crossed))
    assert found and [item.message for item in found if item.rule == "check-crashed"] == []
