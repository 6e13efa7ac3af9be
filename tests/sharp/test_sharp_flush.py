"""What loosens, and what is off flush: each part of the budget alone, figures by hand. N, mm, N·mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8, mm, q
from tests.designs_feet import HEX, JAM, LARGE_WASHER, NUT, TEE, crank, pin
from tests.sharp.test_sharp_stand import D2, LEFT, board, corners, foot, load

from trivet.model.train import DriveNut
from trivet.solve import flush, locking
from trivet.solve.locking import PivotTurn, _holds_nmm, _loosens, _turns_nmm, bearing_mm, nut_hold, pivot_turn

BELOW, ABOVE = DriveNut(hardware=JAM, side="below"), DriveNut(hardware=JAM, side="above")


@pytest.mark.parametrize(
    ("nut", "jam", "hand", "way"),
    [
        # Turned clockwise a right-hand bolt goes down through its first nut: a jam nut below moves off.
        ("above", BELOW, 1, "clockwise"),
        ("above", BELOW, -1, "anticlockwise"),
        ("below", BELOW, 1, "clockwise"),
        # Above the first nut below it is drawn on; above a first nut above it moves off.
        ("below", ABOVE, 1, "anticlockwise"),
        ("above", ABOVE, 1, "clockwise"),
        ("below", ABOVE, -1, "clockwise"),
        # Without a jam nut the bolt leaves its nut anticlockwise.
        ("above", None, 1, "anticlockwise"),
        ("above", None, -1, "clockwise"),
    ],
)
def test_which_way_loosens(nut: str, jam: DriveNut | None, hand: int, way: str) -> None:
    thread = M8 if hand > 0 else LEFT
    assert _loosens(crank(thread=thread, nut=DriveNut(hardware=NUT, side=nut), jam_nut=jam)) == way


@pytest.mark.parametrize(
    ("facts", "wide"),
    [
        ({"nut": DriveNut(hardware=TEE, side="above"), "jam_nut": None}, 22.0),
        ({"nut": DriveNut(hardware=NUT, side="above"), "jam_nut": None}, 13.0),
        ({"nut": DriveNut(hardware=TEE, side="above"), "jam_nut": BELOW}, 13.0),
        ({"jam_nut": BELOW, "washer": LARGE_WASHER, "washer_places": ("below",)}, 18.0),
        ({"jam_nut": BELOW, "washer": LARGE_WASHER, "washer_places": ("above",)}, 13.0),
        ({"jam_nut": None, "washer": LARGE_WASHER, "washer_places": ("above",)}, 22.0),
    ],
)
def test_what_the_jam_nut_bears_on(facts: dict[str, Any], wide: float) -> None:
    assert bearing_mm(crank(**facts)) == wide


def test_what_the_nuts_hold() -> None:
    """Clamped with 100 N: the first nut as on an inclined plane down, and the lesser of the jam nut's face and its thread up."""
    slide, climb = math.atan(math.sqrt(0.08 * 0.24) / math.cos(math.radians(30.0))), math.atan(1.25 / (math.pi * D2))
    down, up = (100.0 * D2 / 2 * math.tan(slide + sign * climb) for sign in (-1, 1))
    # Metal on wood √(0.2 · 0.6) at the mean radius: (13 + 8)/4 = 5.25 with 181.9 is more than the thread's 78.9.
    assert _holds_nmm(crank(jam_nut=BELOW), 100.0) == pytest.approx(down + up, rel=1e-6)
    narrow = DriveNut(hardware=JAM.__class__("narrow", M8, 0.5, 0.6, 4.0, 3.7), side="below")
    assert _holds_nmm(crank(jam_nut=narrow), 100.0) == pytest.approx(down + math.sqrt(0.12) * 100 * 8.5 / 4, rel=1e-6)
    assert _holds_nmm(crank(jam_nut=None), 100.0) is None
    # A thread that runs back by itself holds nothing there.
    steep = M8.__class__("steep", 8.0, 1.25, 10.0, "metric")
    face = math.sqrt(0.12) * 100 * 21 / 4
    assert _holds_nmm(crank(thread=steep, jam_nut=BELOW), 100.0) == pytest.approx(face, rel=1e-6)


def test_hold_of_a_drive(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(locking, "drive_torque", lambda design, derived: Of(low_nmm=300.0, high_nmm=500.0))
    monkeypatch.setattr(locking, "lowering_nmm", lambda design, derived, end: (100.0, 260.0)[end])
    state: Any = Of(id="crank.hub", drive=crank(jam_nut=BELOW))
    # 5 N/mm² under the flats of 13 round a bolt of 8; nut factor 0.2.
    clamp = 5 * math.pi / 4 * (13**2 - 8**2)
    for raises, while_, turns in (("clockwise", "raising", 400.0), ("anticlockwise", "lowering", 180.0)):
        found = nut_hold(None, Of(lift=Of(raises_when=raises)), state)
        assert (found.drive, found.loosens, found.loosens_while, found.turns_nmm) == ("crank.hub", "clockwise", while_, turns)
        assert (found.clamp_n, found.tightened_nmm) == pytest.approx((clamp, 1.6 * clamp))
        assert found.holds_nmm is not None and found.holds_nmm == _holds_nmm(state.drive, found.clamp_n)
        assert found.margin == pytest.approx(found.holds_nmm / turns)
    still = nut_hold(None, Of(lift=None), state)
    assert (still.loosens_while, still.turns_nmm, still.margin) == (None, None, None)
    loose = nut_hold(None, Of(lift=Of(raises_when="clockwise")), Of(id="crank.hub", drive=crank(jam_nut=None)))
    assert loose.holds_nmm is None and loose.margin is None


@pytest.mark.parametrize(("low", "high", "turns"), [(1.0, 3.0, 2.0), (0.0, 3.0, None), (-1.0, 3.0, None), (1.0, math.inf, None), (0.5, 0.5, 0.5)])
def test_torque_that_is_not_known(monkeypatch: pytest.MonkeyPatch, low: float, high: float, turns: float | None) -> None:
    monkeypatch.setattr(locking, "drive_torque", lambda design, derived: Of(low_nmm=low, high_nmm=high))
    monkeypatch.setattr(locking, "lowering_nmm", lambda design, derived, end: (low, high)[end])
    assert [_turns_nmm(None, None, way) for way in ("raising", "lowering")] == [turns, turns]
    monkeypatch.setattr(locking, "drive_torque", lambda design, derived: None)
    assert _turns_nmm(None, None, "raising") is None


@pytest.mark.parametrize(
    ("hand", "direction", "raises", "while_"),
    [
        # Turned clockwise from above, a right-hand screw with its head below comes loose.
        (1, 1, "clockwise", "raising"),
        (1, 1, "anticlockwise", "lowering"),
        (1, -1, "clockwise", "lowering"),
        (-1, 1, "clockwise", "lowering"),
        (-1, -1, "clockwise", "raising"),
        (1, 0, "clockwise", None),
    ],
)
def test_which_way_drags_a_pivot_loose(hand: int, direction: int, raises: str, while_: str | None) -> None:
    thread = M8 if hand > 0 else LEFT
    derived: Any = Of(train=Of(gear=lambda name: Of(direction=direction)), lift=Of(raises_when=raises))
    state: Any = Of(id="pin.west", gear="west", pivot=pin(thread=thread))
    loosens = "clockwise" if hand > 0 else "anticlockwise"
    assert pivot_turn(None, derived, state) == PivotTurn("pin.west", "west", loosens, while_, False)
    for clamped in ({"sleeve_outside": mm(10)}, {"shoulder": mm(10)}):
        assert pivot_turn(None, derived, Of(id="pin.west", gear="west", pivot=pin(**clamped))).clamped
    still: Any = Of(train=derived.train, lift=None)
    assert pivot_turn(None, still, state).loosens_while is None


# Flush.
def pad(kind: str, diameter: Any = None) -> Any:
    return Of(kind=kind, diameter=diameter, origin="its pad")


ROUND_HEAD = Of(across_flats_mm=None, diameter_mm=12.0)


@pytest.mark.parametrize(
    ("facts", "radius"),
    [
        ({"touches": "gear"}, 66.0),
        ({"pad": pad("disc", mm(30))}, 15.0),
        ({"pad": pad("disc")}, 0.0),
        ({"touches": "head", "pad": pad("head"), "screw": Of(head=HEX)}, 6.5),
        ({"touches": "head", "pad": pad("head"), "screw": Of(head=ROUND_HEAD)}, 6.0),
        ({"pad": pad("head")}, 0.0),
        ({"pad": pad("dome", mm(30)), "screw": Of(head=HEX)}, 0.0),
    ],
)
def test_what_stands_flat_on_the_bench(facts: dict[str, Any], radius: float) -> None:
    derived: Any = Of(train=Of(gear=lambda name: Of(tip_radius_mm=66.0)))
    design: Any = Of(shop=Of(insert_tilt_deg=1.0))
    one = foot("a", 0.0, 0.0, **facts)
    assert flush.contact_radius_mm(derived, one) == radius
    assert flush.rock_once_a_turn_mm(design, derived, one) == pytest.approx(2 * radius * math.tan(math.radians(1.0)))
    assert flush.rock_once_a_turn_mm(design, derived, foot("a", 0.0, 0.0, kind="captured_nut", **facts)) == 0.0


def guide(clearance: str, length: str) -> Any:
    return Of(clearance=Of(mm=float(clearance), origin=None), length=Of(mm=float(length), origin=None))


def test_a_guide_bounds_tilt_and_lean() -> None:
    design: Any = Of(shop=Of(insert_tilt_deg=1.0))
    free, held, wide = (foot("a", 0.0, 0.0, guide=item) for item in (None, guide("0.1", "20"), guide("1", "20")))
    assert [flush.tilt_deg(design, item) for item in (free, held, wide)] == pytest.approx([1.0, math.degrees(math.atan(0.005)), 1.0])
    # Play of 0.15 over 10 engaged; a guide that leaves as much changes nothing.
    for item, formula, slope, parts in (
        (free, "play / L", 0.015, (("play", 0.15), ("L", 10.0))),
        (wide, "play / L", 0.015, (("play", 0.15), ("L", 10.0))),
        (held, "c / G", 0.005, (("c", 0.1), ("G", 20.0))),
    ):
        found = flush.lean(item)
        assert found is not None and (found[0], found[2]) == (formula, pytest.approx(slope))
        assert tuple((term.symbol, term.value) for term in found[1]) == parts
    assert flush.lean(foot("a", 0.0, 0.0, engagement_at_most_mm=0.0)) is None
    assert flush.lean(foot("a", 0.0, 0.0, engagement_at_most_mm=0.5)) is not None
    assert [flush.zeroing_steps(foot("a", 0.0, 0.0, zeroed_before_gluing=before)) for before in (False, True)] == [20, 60]


def budget(monkeypatch: pytest.MonkeyPatch, feet: tuple[Any, ...], **facts: Any) -> flush.Flush:
    monkeypatch.setattr(flush, "boards_at", lambda design, sheets: Of(uppermost_mm=lambda name: 18.0 if sheets == 0 else math.nan))
    gear = Of(tip_radius_mm=66.0, gear=Of(teeth=Of(origin="teeth")))
    deck = board("deck", 0.0, 0.0, 300.0, 200.0)
    deck.bow = facts.get("bow")
    deck.origin = None
    top = board("top", 0.0, 0.0, 1.0, 1.0)
    top.bow = facts.get("less_bow")
    design = Of(
        shop=Of(insert_tilt_deg=1.0, origins={"inserts": "shop"}), boards=(top, deck), loads=facts.get("loads", ()),
        units="mm", sheets=(),
    )  # fmt: skip
    drive = Of(name=Of(text="crank"), origin="drive", dial=facts.get("dial"))
    derived = Of(
        lift=Of(travel_mm=20.0, per_turn_mm=1.0, height_max_mm=60.0), feet=feet, drives=(Of(drive=drive),), train=Of(gear=lambda name: gear),
    )  # fmt: skip
    found = flush.flush_of(design, derived, **({"with_sag": facts["with_sag"]} if "with_sag" in facts else {}))
    assert found is not None
    return found


def test_parts_of_the_budget(monkeypatch: pytest.MonkeyPatch) -> None:
    first = foot("sw", 0.0, 0.0, zero_step_mm=1.25 / 10, engagement_at_most_mm=5.0, pad=pad("disc", mm(30)))
    found = budget(monkeypatch, (*corners()[1:], first), bow=Of(mm=0.4, origin="bow"), less_bow=Of(mm=0.1, origin="less"))
    # 1/16; 1.25/10/2; 30 tan 1°; D2/2 · 0.15/5; 0.4.
    wanted = {"setting": 1 / 16, "zeroing": 1.25 / 20, "pad_rock": 30 * math.tan(math.radians(1.0)), "thread_rock": D2 / 2 * 0.03, "bow": 0.4}
    assert {part.key: part.mm for part in found.parts} == pytest.approx(wanted, rel=1e-6)
    assert [part.key for part in found.parts] == ["pad_rock", "bow", "thread_rock", "setting", "zeroing"]
    assert found.worst_mm == pytest.approx(sum(wanted.values()), rel=1e-6) and found.rss_mm == pytest.approx(math.hypot(*wanted.values()), rel=1e-6)
    parts = {part.key: part for part in found.parts}
    assert {key: part.where for key, part in parts.items()} == {
        "setting": ("crank",), "zeroing": ("corner.sw",), "pad_rock": ("corner.sw",), "thread_rock": ("corner.sw",), "bow": ("deck",),
    }  # fmt: skip
    assert {key: tuple((term.symbol, term.value, term.unit) for term in part.terms) for key, part in parts.items()} == {
        "setting": (("rise", 1.0, "mm"), ("n", 16.0, "")),
        "zeroing": (("lead", 1.25, "mm"), ("steps", 10.0, "")),
        "pad_rock": (("r_pad", 15.0, "mm"), ("tilt", 1.0, "deg")),
        "thread_rock": (("r_thread", pytest.approx(D2 / 2, rel=1e-6), "mm"), ("play", 0.15, "mm"), ("L", 5.0, "mm")),
        "bow": (("bow", 0.4, "mm"),),
    }
    # At 42 below the board, 44 out of the live thread that ends at 2, times 0.03.
    assert "shift 1.32 mm sideways" in parts["thread_rock"].words
    assert parts["pad_rock"].words.startswith("the flat pad of `corner.sw`")
    assert found.left_out == ("the bench's own unevenness", "sag: no load down is stated")


def test_small_parts_and_what_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    feet = (*corners()[1:], foot("sw", 0.0, 0.0, zeroed=False))
    found = budget(monkeypatch, feet, dial=Of(marks=q(50), origin="dial"), loads=(load(9.0, 1.0, 1.0),), with_sag=False)
    parts = {part.key: part for part in found.parts}
    assert set(parts) == {"setting", "zeroing", "thread_rock"}
    # Half of one of 50 marks.
    assert (parts["setting"].mm, parts["setting"].words) == (pytest.approx(0.01), "setting the drive to half a mark of its 50")
    assert [(term.symbol, term.value) for term in parts["setting"].terms] == [("rise", 1.0), ("marks", 50.0)]
    assert found.left_out == (
        "the bench's own unevenness", "the bow of the board, which is not stated",
        "sag, which only `compile` and `check --full` work out", "feet that are not zeroed: each is taken as zeroed, which is not stated",
    )  # fmt: skip
    along = budget(monkeypatch, corners(), loads=(load(9.0, 1.0, 1.0, "x"),))
    assert along.left_out[2:] == ("sag: no load down is stated",)
    unknown = budget(monkeypatch, corners(), loads=(load(9.0, -1.0, 1.0),), with_sag=True)
    assert unknown.left_out[2:] == ("sag, which cannot be worked out here",)


def test_the_worst_load_sags(monkeypatch: pytest.MonkeyPatch) -> None:
    from trivet.solve import sag

    made = [sag.Sag(load(1.0, 0.0, 0.0, name=name), board("deck", 0, 0, 9, 9), by, 1.0, 2.0) for name, by in (("a", 0.1), ("b", 0.3), ("c", 0.2))]
    monkeypatch.setattr(sag, "sags", lambda design, derived: tuple(made))
    found = budget(monkeypatch, corners(), loads=(load(9.0, 1.0, 1.0),))
    assert (found.parts[0].key, found.parts[0].mm, found.parts[0].where) == ("sag", 0.3, ("deck", "b"))
    assert not any(words.startswith("sag") for words in found.left_out)


def test_no_budget_without_a_stroke() -> None:
    for lift in (None, Of(travel_mm=0.0)):
        assert flush.flush_of(None, Of(lift=lift)) is None
    lift: Any = Of(height_max_mm=60.0)
    assert flush.sideways_mm(None, lift, foot("a", 0.0, 0.0, engagement_at_most_mm=0.0)) == 0.0
    assert flush.sideways_mm(None, lift, foot("a", 0.0, 0.0, live_z_mm=None)) == 0.0
