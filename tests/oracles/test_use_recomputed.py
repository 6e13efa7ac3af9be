"""Flush, over-travel and strength in the examples' reports against a second calculation; formulas against published examples.

Tolerances: 1e-6 for closed forms; 0.02 mm (over a turn's rise) where a stroke is found by trial; the form factor's as beside its table.
"""

from __future__ import annotations

import math

import pytest
from tests.oracles import recompute_use as use
from tests.oracles.recompute_facts import FIXTURES
from tests.oracles.test_report_recomputed import NAMES, STROKE_MM, reported

from trivet.inputs import load_library
from trivet.solve import library_figures as figures
from trivet.solve.tooth_strength import LEWIS_20, lewis_bending, lewis_form_factor

DIALS = {"dog_table": 10}


@pytest.mark.parametrize("name", NAMES)
def test_parts_of_flush(name: str) -> None:
    flush = reported(name)["flush"]
    parts = {row["part"]: row["mm"] for row in flush["parts"]}
    for key, mm in use.off_flush(FIXTURES[name], DIALS.get(name)).items():
        assert parts.pop(key) == pytest.approx(mm, rel=0.005), key
    # Only a fixture with a load sags; no example has a bow or a flat foot.
    assert set(parts) <= {"sag"}
    every = [row["mm"] for row in flush["parts"]]
    assert every == sorted(every, reverse=True)
    assert flush["worst_mm"] == pytest.approx(sum(every)) and flush["rss_mm"] == pytest.approx(math.hypot(*every))


@pytest.mark.parametrize("name", NAMES)
def test_turns_past_the_travel(name: str) -> None:
    f, lift = FIXTURES[name], reported(name)["lift"]
    expected = use.turns_past(f)
    found = {(row["end"], "bench" if row["cause"].startswith("bench") else row["cause"]): row for row in lift["beyond"]}
    assert set(found) == set(expected)
    for key, row in found.items():
        assert row["turns"] == pytest.approx(expected[key], abs=STROKE_MM / f.per_turn[0]), key
        assert row["mm"] == pytest.approx(row["turns"] * lift["per_turn_mm"])
        assert row["restores"] and row["happens"] and ";" not in row["restores"]
    for end in ("least", "most"):
        turns = [row["turns"] for row in lift["beyond"] if row["end"] == end]
        assert turns == sorted(turns)
        assert f"{turns[0]:.1f} turns" in lift[f"beyond_{end}"] or turns[0] < 0.05


@pytest.mark.parametrize("name", NAMES)
def test_teeth_when_a_foot_jams(name: str) -> None:
    f, strength = FIXTURES[name], reported(name)["strength"]
    expected = use.jam(f, strength["drive_torque_nmm"])
    assert strength["drive_torque_nmm"] == 20_000 and "no source" in strength["drive_torque_from"]
    rows = {(row["gear"], row["mate"]): row for row in strength["teeth"]}
    assert set(rows) <= set(expected)
    shares = []
    for pair, row in rows.items():
        force, bending, shear = expected[pair]
        assert row["force_n"] == pytest.approx(force)
        room = use.LEWIS_TOLERANCE / row["form_factor"] + STROKE_MM / row["face_mm"]
        assert row["bending_n_per_mm2"] == pytest.approx(bending, rel=room)
        assert row["shear_n_per_mm2"] == pytest.approx(shear, rel=STROKE_MM / row["face_mm"] + 1e-6)
        shares.append(max(row["bending_n_per_mm2"] / use.BENDING, row["shear_n_per_mm2"] / use.SHEAR))
    assert strength["clutch_nmm"] == pytest.approx(20_000 / max(shares))


def test_every_mesh_on_the_way_counts() -> None:
    """A ring is reached both ways round; its far meshes count too when some foot lies behind them."""
    pairs = {frozenset((row["gear"], row["mate"])) for row in reported("fine_lift")["strength"]["teeth"]}
    assert pairs == {frozenset(mesh) for mesh in FIXTURES["fine_lift"].meshes}


def test_lewis_published() -> None:
    """F-t: Jindal, Machine Design, example 25-3, p. 670: m 5, b 60, Y 0.358, 150 N/mm2: 16110 N. Wentzell, Machine Elements, example 12.3,
    p. 258 (inches, lb): 47.5 ksi, b 1, Pd 8, Y 0.320: 1900 lb; 44 ksi, Y 0.421: 2315.5 lb; example 12.5, p. 263: 27.5 ksi, b 0.75, Pd 12,
    Y 0.302: 519.06 lb. Exact but for the last printed digit.
    """
    assert lewis_bending(16110.0, 60.0, 5.0, 0.358) == pytest.approx(150.0)
    assert lewis_bending(1900.0, 1.0, 1 / 8, 0.320) == pytest.approx(47_500.0)
    assert lewis_bending(2315.5, 1.0, 1 / 8, 0.421) == pytest.approx(44_000.0)
    assert lewis_bending(519.0625, 0.75, 1 / 12, 0.302) == pytest.approx(27_500.0)


@pytest.mark.parametrize(("teeth", "form"), [(20, 0.320), (24, 0.337), (30, 0.358), (60, 0.421)])
def test_form_factors_of_other_books(teeth: int, form: float) -> None:
    """Wentzell uses 0.320, 0.421 and, at 24 teeth, 0.337; Jindal 0.358 at 30: books differ by 0.003."""
    assert lewis_form_factor(teeth, 20.0) == pytest.approx(form, abs=0.003)


def test_form_factor_between_and_outside_its_table() -> None:
    """π(0.154 − 0.912/z) (Jindal, example 25-2) meets the table at 12 teeth: 0.24504; it never falls with more teeth."""
    assert lewis_form_factor(11, 20.0) == pytest.approx(math.pi * (0.154 - 0.912 / 11))
    assert math.pi * (0.154 - 0.912 / 12) == pytest.approx(LEWIS_20[0][1], abs=1e-4)
    values = [lewis_form_factor(z, 20.0) or 0.0 for z in range(8, 500)]
    assert values == sorted(values) and values[-1] == 0.480
    assert lewis_form_factor(7, 20.0) is None
    assert lewis_form_factor(30, 14.5) == pytest.approx(math.pi * (0.124 - 0.684 / 30))
    # Steeper teeth are thicker at the root: no more is taken than of 20 degrees.
    assert lewis_form_factor(24, 25.0) == lewis_form_factor(24, 20.0)


def test_allowables_are_the_librarys() -> None:
    found: dict[str, set[tuple[float | None, float | None]]] = {}
    for table in load_library("tooth_allowables"):
        for row in table.rows:
            found.setdefault(row.key, set()).add((row.number("bending_N_mm2"), row.number("shear_N_mm2")))
    assert found == {name: {pair} for name, pair in figures.TOOTH_ALLOWABLES.items()}
