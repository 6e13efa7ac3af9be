"""Explanations of loads, meshes as cut, rings, schedules, cards and sheets: each worked out again here from the inputs that it prints."""

from __future__ import annotations

import math
import re
from pathlib import Path

import numpy as np
import pytest
from tests.fixture_text import compiled
from tests.test_explanations import VARIANTS, _checked

from trivet.checks._check import all_checks
from trivet.checks._examples import example_text
from trivet.cli import main
from trivet.files import DiskFiles
from trivet.pipeline import Compilation, check
from trivet.solve import as_cut_mesh, binding, nest
from trivet.solve.inspection import readings
from trivet.solve.mesh_phase import ring_closure
from trivet.source import SourceFile
from trivet.tables.explanation import Entry, Number, in_order
from trivet.tables.explanation_all import all_entries, entries_for
from trivet.tables.explanation_entries import entries

ROOT = Path(__file__).resolve().parents[1]
DOGS, RISER = ROOT / "examples" / "dog_table.trivet", ROOT / "examples" / "outfeed_riser.trivet"


@pytest.fixture(autouse=True)
def _in_the_checkout(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)


def _entry(result: Compilation, quantity: str, *parts: str) -> Entry:
    assert result.design is not None and result.derived is not None
    held = [item for item in entries_for(result.design, result.derived, quantity) if item.quantity == quantity]
    return next(item for item in held if item.parts == parts or (len(parts) == 1 and parts[0] in item.also))


def _number(result: Compilation, quantity: str, *parts: str) -> Number:
    return _entry(result, quantity, *parts).explain()


def _given(number: Number) -> dict[str, float]:
    """What an explanation prints as given, by symbol."""
    return {item.symbol: item.value for item in in_order(number) if not item.formula and not item.how}


def _step(number: Number, symbol: str) -> float:
    return next(item.value for item in in_order(number) if item.symbol == symbol)


# --- loads ---


def test_shares_are_those_of_a_plane_in_balance() -> None:
    """Four springs under a rigid board: forces lie on a plane over the feet and balance the loads; solved as three equations."""
    result = compiled(VARIANTS["loaded"])
    assert result.derived is not None
    feet = [state.id for state in result.derived.feet]
    held = _given(_number(result, "load_share", feet[0]))
    spots = np.array([[held[f"X_{state.gear}"], held[f"Y_{state.gear}"]] for state in result.derived.feet])
    loads = [(held[f"F_{name}"], held[f"X_{name}"], held[f"Y_{name}"]) for name in ("tool", "clamp")]
    assert loads == [(300.0, 100.0, 250.0), (100.0, 150.0, 150.0)]
    base = np.column_stack((np.ones(len(spots)), spots))
    moments = [sum(force for force, _, _ in loads), sum(force * x for force, x, _ in loads), sum(force * y for force, _, y in loads)]
    plane = base @ np.linalg.solve(base.T @ base, moments)
    assert plane.sum() == pytest.approx(400.0) and plane.std() > 1.0
    for foot, share in zip(feet, plane, strict=True):
        assert _number(result, "load_share", foot).value == pytest.approx(max(100.0, share))


@pytest.mark.parametrize("name", ["loaded", "dogs"])
def test_torque_is_that_of_an_inclined_plane(name: str) -> None:
    """tan(lead angle + friction angle) at the pitch radius, and rubbing summed over rings of a disc: other forms of the same."""
    result = _checked(DOGS) if name == "dogs" else compiled(VARIANTS[name])
    assert result.derived is not None
    foot = result.derived.feet[0].id
    number = _number(result, "torque_to_raise", foot)
    held = _given(number)
    force, d2 = _step(number, f"N_{foot}"), _step(number, f"d2_{foot}")
    lead_angle, friction_angle = math.atan(held[f"lead_{foot}"] / (math.pi * d2)), math.atan(held["mu_high"] / math.cos(math.pi / 6))
    thread = force * d2 / 2 * math.tan(lead_angle + friction_angle)
    radius = _step(number, f"R_{foot}")
    edges = np.linspace(0.0, radius, 20001)
    middles = (edges[1:] + edges[:-1]) / 2
    rubbing = held["mu_pad_high"] * force / radius**2 * float((2 * middles**2 * np.diff(edges)).sum())
    assert number.value == pytest.approx(thread + rubbing, rel=1e-6)
    # 0.24 and 0.6: the high ends of the library's ranges, table `friction_pairs`.
    assert (held["mu_high"], held["mu_pad_high"]) == (0.24, 0.6)


def test_torque_at_the_drive_adds_up_what_each_path_loses() -> None:
    result = compiled(VARIANTS["loaded"])
    assert result.derived is not None
    for end, eta in (("least", 0.95), ("most", 0.85)):
        number = _number(result, f"drive_torque_to_raise_at_{end}")
        held, total = _given(number), 0.0
        for state in result.derived.feet:
            # The hub of 16 teeth drives 20 by one idler: two meshes on the way, 16/20 of a turn.
            assert held[f"k_{state.id}"] == 2
            total += _step(number, f"T_{state.id}_{'low' if end == 'least' else 'high'}") * 0.8 / eta**2
        assert number.value == pytest.approx(total)


# --- meshes as cut, rings ---


def test_as_cut_says_how_it_was_measured_and_adds_up() -> None:
    result = _checked(RISER)
    for at, sign in (("nominal", 0), ("tightest", -1), ("loosest", 1)):
        number = _number(result, "as_cut_backlash", "hub", "east", at)
        free = next(item for item in in_order(number) if item.symbol == "free")
        centres = _number(result, "as_cut_centre_distance", "hub", "east", at).value
        # Hub 16 teeth, east 20: the free turn of the hub on the working circle, radius A 16/36.
        assert number.value == pytest.approx(math.radians(free.value) * centres * 16 / 36)
        assert "points 0.05 mm apart" in free.how and "turned through 4 pitches" in free.how and "32 places a pitch" in free.how
        held = _given(number)
        # Holes 0.15 each; hub's bolt in 8.4, east's 6.25 in 6.45; moisture 6 percent over 108 mm by 0.0070 percent, all one way.
        moved = 0.15 + 0.15 + 0.2 + 0.1 + 0.06 * 108 * 0.0070
        assert held["z_hub"] == 16 and centres == pytest.approx(108 + sign * moved, abs=1e-9)
        touch = _number(result, "as_cut_contact_ratio", "hub", "east", at)
        assert touch.value == pytest.approx(_step(touch, "ends") - _step(touch, "begins")) and 1.3 < touch.value < 1.7
    free_of = _number(result, "as_cut_overlap", "hub", "east")
    assert free_of.value == 0.0 and "everywhere each flank had room" in free_of.how


def test_an_overlap_says_how_outlines_were_laid_over_each_other() -> None:
    rule = next(item.rule for item in all_checks() if item.rule.slug == "mesh-binds")
    result = compiled(example_text(rule.failing))
    assert result.derived is not None
    mesh = result.derived.train.meshes[0]
    number = _number(result, "as_cut_overlap", mesh.a, mesh.b, "tightest")
    assert number.value > 0.0 and "chords at most 0.0005 mm off" in number.how and "12 places of a pitch" in number.how
    assert _number(result, "as_cut_backlash", mesh.a, mesh.b, "tightest").value == 0.0


@pytest.mark.parametrize("slug", ["ring-out-of-phase", "closed-ring"])
def test_what_a_ring_leaves_by_its_angles(slug: str) -> None:
    """The alternating sum of teeth times angles at the gears, from their places: no phases."""
    rule = next(item.rule for item in all_checks() if item.rule.slug == slug)
    result = compiled(example_text(rule.failing))
    assert result.derived is not None and result.derived.train.loops
    for loop in result.derived.train.loops:
        states = [result.derived.train.gear(name) for name in loop.gears]
        closure = ring_closure(
            [state.geometry.teeth for state in states], [(state.x_mm, state.y_mm) for state in states], states[0].geometry.module_mm
        )
        number = _number(result, "loop_residual", *loop.gears)
        assert number.formula and number.value == pytest.approx(closure.residual_arc_mm, abs=1e-6)
        allowed = _number(result, "loop_allowed", *loop.gears)
        assert allowed.value == pytest.approx(max(0.0, sum(_given(allowed).values())) / 2)
    assert slug == "closed-ring" or number.value > 0.1


def test_places_on_a_ring_of_unequal_gears() -> None:
    """Its idlers of 20 teeth: the radius is put in, and gives a whole turn; each direction adds up 2 asin(c / 2R)."""
    text = DOGS.read_text("utf-8").replace("gear i1, i2, i3\n  teeth 24\n", "gear i1, i2, i3\n  teeth 20\n")
    result = check(SourceFile(str(DOGS), text), DiskFiles())
    number = _number(result, "x", "f2")
    radius = next(item for item in in_order(number) if item.symbol == "R_train")
    # f1 to i1 and i1 to f2: 4 · 44 / 2 = 88 mm each; from hub to f1 and f4 to hub 96 mm; f1 stands first.
    assert 6 * 2 * math.asin(88 / 2 / radius.value) + 2 * 2 * math.asin(96 / 2 / radius.value) == pytest.approx(2 * math.pi)
    assert radius.how.endswith(" = 360 deg") and radius.how.count("2 · asin(") == 8
    held = _given(number)
    turned = math.radians(held["first_train"]) + 2 * 2 * math.asin(88 / 2 / radius.value)
    assert number.value == pytest.approx(held["X_train"] + radius.value * math.cos(turned))


# --- schedule, cut list, card, sheets ---


def test_pieces_are_counted_place_by_place() -> None:
    """Three idlers with a washer above and below; two of four screws lie in the drawer."""
    washers = _number(_checked(DOGS), "quantity", "pin-washer")
    assert _given(washers) == {"k_pin.i1": 2, "k_pin.i2": 2, "k_pin.i3": 2} and washers.value == 6
    loaded = compiled(VARIANTS["loaded"])
    assert _number(loaded, "quantity", "corner-screw").value == 4
    assert _number(loaded, "to_buy", "corner-screw").value == 2


def test_area_of_the_boxes() -> None:
    """Board 480 by 350; tips m (z + 2): 6 · 22 = 132 for six gears, 6 · 18 = 108 for the hub."""
    number = _number(_checked(RISER), "sheet_area", "ply18")
    assert number.value == pytest.approx((480 * 350 + 6 * 132**2 + 108**2) / 1e6)


def test_a_bought_length_is_the_longest_that_fits() -> None:
    for path in (RISER, DOGS, ROOT / "examples" / "small_riser.trivet"):
        result = _checked(path)
        assert result.design is not None and result.derived is not None
        for entry in entries(result.design, result.derived):
            number = entry.explain()
            if entry.quantity == "length" and number.formula.startswith("longest("):
                low, high, *listed = (float(word) for word in re.findall(r"[\d.]+", number.with_numbers))
                assert number.value in listed and low - 1e-6 <= number.value <= high + 1e-6
                assert not [mm for mm in listed if number.value < mm <= high]


def test_rows_of_the_card() -> None:
    result = _checked(DOGS)
    # 13 across flats, a 4 mm cutter in sharp corners (2 − √3) · 2, 0.1 of room; profile_offset 0.05 on both sides.
    flats = 13 + (2 - math.sqrt(3)) * 2 + 0.1
    assert _number(result, "card_expect", "f1.hex-pocket.flats").value == pytest.approx(flats)
    assert _number(result, "card_least", "f1.hex-pocket.flats").value == pytest.approx(flats - 0.1)
    # Centres 96 over pins of 8.4 and 11.6: 106; two holes 0.1 off each and 0.05 round both, as the shop's file states them.
    number = _number(result, "card_most", "hub-f1.centres")
    held = _given(number)
    assert number.value == pytest.approx(96 + (8.4 + 11.6) / 2 + 2 * held["hole_position"] + 2 * held["profile_offset"])
    assert (held["hole_position"], held["profile_offset"]) == (0.1, 0.05)


@pytest.mark.parametrize("path", [DOGS, RISER, ROOT / "examples" / "tripod.trivet", ROOT / "examples" / "inch_table.trivet"])
def test_the_card_and_its_explanations_agree(path: Path) -> None:
    result = _checked(path)
    assert result.design is not None and result.derived is not None
    made = {(item.quantity, *item.parts): item for item in entries_for(result.design, result.derived, "card")}
    for row in readings(result.design, result.derived):
        for quantity, mm in (("card_expect", row.nominal_mm), ("card_least", row.least_mm), ("card_most", row.most_mm)):
            number = made[quantity, row.row].explain()
            assert number.value == pytest.approx(mm, abs=1e-6) and not number.how, (row.row, number)


def test_shares_of_a_sheet() -> None:
    """The riser: outlines are smaller than their boxes and larger than half of them; to four decimals of 1220 by 610."""
    number = _number(_checked(RISER), "sheet_share", "ply18-1")
    area = _step(number, "pieces")
    assert (480 * 350 + 6 * 132**2 + 108**2) / 2 < area < 480 * 350 + 6 * 132**2 + 108**2
    assert number.value == round(area / (1220 * 610), 4)


# --- what is slow waits until it is asked for ---


def test_quick_numbers_turn_no_outline_draw_no_train_lay_no_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    """An editor asks for these at every move."""
    result = _checked(ROOT / "examples" / "small_riser.trivet")
    assert result.design is not None and result.derived is not None

    def never(*_: object) -> None:
        raise AssertionError("slow")

    monkeypatch.setattr(as_cut_mesh, "_measured", never)
    monkeypatch.setattr(binding, "_run", never)
    monkeypatch.setattr(nest, "_search", never)
    known = entries(result.design, result.derived)
    assert [entry.explain() for entry in known] and not {"as_cut_overlap", "binding", "lies_x"} & {entry.quantity for entry in known}
    # Without a quantity everything is listed, and nothing slow is worked out for it.
    assert len(entries_for(result.design, result.derived, "")) > len(known)
    with pytest.raises(AssertionError, match="slow"):
        all_entries(result.design, result.derived)


# --- how they are asked for ---


def _said(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> str:
    assert main(["explain", *words, "--in", str(DOGS)]) == code
    out, error = capsys.readouterr()
    return error if code else out


def test_several_and_parts_by_some_of_their_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert _said(capsys, "as_cut", "hub", "f1").count("in report.json: meshes[0].as_cut") == 13
    assert "loop_residual f3 i3 f4 hub f1 i1 f2 i2: 0 mm" in _said(capsys, "loop", "i1")
    assert "live_to = 14 mm" in _said(capsys, "measure", "corner-insert")
    assert _said(capsys, "feature", "platform", "tray").count("see the drawing of the part") == 3
    # A key of the report stands for its quantity.
    assert "in report.json: feet[0].load_share_n = 50\n" in _said(capsys, "load_share_n", "corner.f1")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("load_shar", "corner.f1"), "there is no quantity load_shar; did you mean load_share?"),
        (("card_expect", "f1.spann"), "no card_expect of f1.spann is known; did you mean f1.span?"),
        (("as_cut_backlash", "hub", "i2"), "no as_cut_backlash of hub and i2 is known"),
        (("cut_width", "platfrom"), "did you mean platform?"),
        (("lies",), "lies needs a part"),
    ],
)
def test_the_unknown_gets_the_nearest(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str) -> None:
    assert said in _said(capsys, *words, code=2)
