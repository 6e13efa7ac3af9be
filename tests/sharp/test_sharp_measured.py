"""What readings change of a plan: which fact, by how much and which way; figures by hand, lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.designs import design, gear, mm
from tests.designs_feet import JAM, NUT, captured, crank, pin, riding, riser, sliding
from tests.sharp.test_sharp_card import row

from trivet.model.shop import Shop
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.measured import _difference, _gear, _mesh, _of_gears, _spacings, _train, _with_thickness
from trivet.solve.measured_facts import _facts, with_depths_and_lengths
from trivet.solve.overlap_depth import levels_down_mm
from trivet.solve.train import solve_train
from trivet.solve.train_parts import train_parts


def test_difference_from_the_printed_figure() -> None:
    assert _difference(row("span", nominal=12.344), (12.5, 12.6), "mm") == pytest.approx(12.55 - 12.34)
    assert _difference(row("span", nominal=1.0), (1.0,), "in") == pytest.approx(1 - 0.0394 * 25.4)


@pytest.mark.parametrize(
    ("values", "band"),
    [
        # One reading moves the band of 17.3 to 18.1; several are its ends.
        ((17.6,), (17.6, 17.1, 17.9)),
        ((17.5, 17.9), (17.7, 17.5, 17.9)),
        ((17.8 + 1e-12,), (17.8, 17.3, 18.1)),
    ],
)
def test_thickness_as_measured(values: tuple[float, ...], band: tuple[float, float, float]) -> None:
    made = riser(riding())
    rows = (row("thickness", "t", ("gears",), nominal=17.8), row("span", "s", ("gears",)), row("thickness", "u", ("ply",), nominal=17.8))
    filled = {"t": values, "s": (9.0,)}
    found = _with_thickness(made, rows, filled, {"t": math.fsum(values) / len(values) - 17.8, "s": -1.0})
    assert found.sheets[0] == made.sheets[0]
    thick = found.sheets[1].thickness
    assert (thick.mean, thick.least, thick.most) == pytest.approx(band)
    assert _with_thickness(made, rows, {"s": (9.0,)}, {"s": -1.0}) is made


def test_readings_of_gears() -> None:
    rows = (
        row("bore", "a1", ("a",), "bore for pin"), row("bore", "a2", ("a",), "bore for pin"), row("bore", "a3", ("a",), "dowel hole"),
        row("span", "s1", ("a",)), row("span", "s2", ("a",)), row("span", "s3", ("b",)), row("span", "s4", ("c",)),
    )  # fmt: skip
    by = {"a1": 0.2, "a2": 0.1, "a3": -5.0, "s1": 0.3, "s2": 0.4, "s3": 1e-12}
    assert _of_gears(rows, by, "bore", min) == {"a": 0.1} and _of_gears(rows, by, "span", max) == {"a": 0.4}
    assert _of_gears(rows, {"s1": -0.5, "s3": 2e-9}, "span", max) == {"a": -0.5, "b": 2e-9}


def test_a_gear_as_measured() -> None:
    shape = ToothGeometry(20, 4.0, thinning_mm=0.2, tip_shortening_mm=0.1)
    state = solve_train(design((gear("a", 20, (0, 0), drive=True),))).gears[0]
    state = replace(state, geometry=shape, hole_mm=8.4)
    found = _gear(state, {"a": 0.1}, {"a": -0.3}, {"a": 0.05})
    # A span 0.1 longer: teeth thicker by 0.1/cos a; 0.3 less over the tips: 0.15 each; the bore as it is.
    assert found.geometry.thinning_mm == pytest.approx(0.2 - 0.1 / math.cos(math.radians(20))) and found.hole_mm == pytest.approx(8.45)
    assert found.geometry.tip_shortening_mm == pytest.approx(0.25) and found.geometry.teeth == 20
    assert _gear(state, {"b": 0.1}, {}, {}) is state and _gear(state, {}, {}, {"a": -9.0}).hole_mm == 0.0
    for one in ({"a": 0.1}, {}), ({}, {"a": 0.1}):
        assert _gear(state, one[0], one[1], {}) != state
    assert _gear(state, {}, {}, {"a": -8.0}).hole_mm == pytest.approx(0.4)


def test_centres_less_half_of_their_holes() -> None:
    first, second = "hole for the insert of corner.nw, 13.50 mm", "hole for the drive bolt crank, 8.40 mm"
    rows = (
        row("hole", "h1", ("deck",), "hole for the insert of corner.se, 13.50 mm"), row("hole", "h2", ("deck",), second),
        row("hole", "h3", ("deck",), "hole for the insert of corner.se, 14.00 mm"), row("spacing", "c1", ("a-b", first, second)),
        row("spacing", "c2", ("b-c", "other", "more")), row("spacing", "c3", ("c-d", first, first)), row("spacing", "c4", ("d-e", first, first)),
    )  # fmt: skip
    by = {"h1": 0.1, "h2": 0.06, "h3": 9.0, "c1": 0.5, "c2": -0.2, "c3": 0.1}
    assert _spacings(rows, by) == {"a-b": pytest.approx(0.42), "b-c": -0.2}


def test_a_mesh_as_measured() -> None:
    made = riser(riding(), shop=Shop(hole_position_mm=0.1))
    train = solve_train(made)
    parts, states = train_parts(made), {state.id: state for state in train.gears}
    down = levels_down_mm((state.shaft, state.level, state.face_width.mean) for state in train.gears)
    for item in train.meshes:
        found = _mesh(item, states, parts, down, 0.0)
        assert found == item, "nothing measured, nothing changed"
        wider = _mesh(item, states, parts, down, 0.3)
        assert wider is not None and wider.centre_distance_mm == pytest.approx(item.centre_distance_mm + 0.3)
        assert wider.backlash.nominal_mm - item.backlash.nominal_mm == pytest.approx(0.3 * 2 * math.tan(math.radians(20)), abs=0.005)
        assert wider.working_depth_min_mm == pytest.approx(item.working_depth_min_mm - 0.3, abs=0.002)
        assert wider.tip_clearance_mm == pytest.approx(item.tip_clearance_mm + 0.3)
        assert wider.centre_distance_least_mm == pytest.approx(item.centre_distance_least_mm + 0.3, abs=1e-3)
        assert wider.centre_distance_most_mm == pytest.approx(item.centre_distance_most_mm + 0.3, abs=1e-3)
        assert wider.working_pressure_angle_deg > item.working_pressure_angle_deg and wider.contact_ratio < item.contact_ratio
        assert wider.contact_ratio_min < wider.contact_ratio and wider.moisture_mm == item.moisture_mm
    assert _mesh(train.meshes[0], states, parts, down, -50.0) is None
    rows = (row("spacing", "c", (train.meshes[0].id, "x", "y")), row("spacing", "d", (train.meshes[1].id, "x", "y")))
    changed, apart = _train(made, train, rows, {"c": -50.0, "d": 0.3})
    assert apart == (train.meshes[0].id,) and [item.id for item in changed.meshes] == [item.id for item in train.meshes[1:]]
    assert changed.meshes[1:] == train.meshes[2:] and changed.meshes[0] != train.meshes[1]
    assert _train(made, train, rows, {}) == (train, ()) and _train(made, train, (), {})[0] is train


FULL = {
    "drives": (crank(),),
    "pivots": (pin(nut=DriveNut(hardware=NUT, side="above", recessed=mm(6), round=mm(24))),),
}


@pytest.mark.parametrize(
    ("reading", "fact"),
    [
        (row("hole", of=("hub",), title="hole for the drive bolt crank.hub, 8.40 mm"), ("drives", "crank", "hole_mm", "")),
        (row("bore", of=("hub",), title="hole for the drive bolt crank.hub, 8.40 mm"), None),
        (row("hole", of=("deck",), title="pilot hole for pin.west, 5 mm"), None),
        (row("length", "crank.hub.length", ("crank.hub",)), ("drives", "crank", "length", "")),
        (row("length", "pin.west.sleeve", ("pin.west",)), ("pivots", "pin", "play", "")),
        (row("length", "corner.nw.length", ("corner.nw",)), ("feet", "corner", "length", "")),
        (row("length", "odd.length", ("odd",)), None),
        (row("depth", of=("nw", "underside"), title="hex pocket for the head of corner.nw, 13 mm"), ("feet", "corner", "pocket", "")),
        (row("depth", of=("nw", "underside"), title="hex socket of corner.nw, 13 mm"), ("feet", "corner", "socket_depth", "")),
        (row("depth", of=("nw", "underside"), title="recess of corner.nw, 13 mm"), None),
        (row("depth", of=("deck", "topside"), title="recess for the head of crank.hub, 14 mm"), ("drives", "crank", "head_recessed", "")),
        (row("depth", of=("west", "underside"), title="recess for the head of pin.west, 14 mm"), ("pivots", "pin", "head_recessed", "")),
        (row("depth", of=("hub", "underside"), title="recess for the jam nut of crank.hub, 14 mm"), ("drives", "crank", "jam_nut", "recessed")),
        (row("depth", of=("hub", "topside"), title="recess for the nut of crank.hub, 14 mm"), None),
        (row("depth", of=("deck", "topside"), title="recess for the nut of pin.west, 14 mm"), ("pivots", "pin", "nut", "recessed")),
        (row("depth", of=("deck", "topside"), title="recess of pin.west, 14 mm"), None),
        (row("flats", of=("nw",), title="hex pocket for the head of corner.nw, 13 mm"), None),
        (row("tip", of=("nw",)), None),
    ],
)
def test_fact_that_a_row_was_cut_from(reading: Any, fact: tuple[str, ...] | None) -> None:
    assert _facts(riser(riding(), **FULL), reading) == (() if fact is None else (fact,))


def test_nut_of_either_side() -> None:
    title = "recess for the nut of crank.hub, 14 mm"
    nuts = {"nut": DriveNut(hardware=NUT, side="above", recessed=mm(7)), "jam_nut": DriveNut(hardware=JAM, side="below", recessed=mm(6))}
    made = riser(riding(), drives=(crank(**nuts),))
    for face, nut in (("topside", "nut"), ("underside", "jam_nut")):
        assert _facts(made, row("depth", of=("hub", face), title=title)) == (("drives", "crank", nut, "recessed"),)


def changed(made: Any, *readings: tuple[Any, float | None]) -> Any:
    rows = [item.renamed(f"{index}.{item.row}") for index, (item, _) in enumerate(readings)]
    by = {item.row: given for item, (_, given) in zip(rows, readings, strict=True) if given is not None}
    return with_depths_and_lengths(made, rows, by)


def test_facts_as_measured() -> None:
    made = riser(riding(), **FULL)
    pockets = [row("depth", of=(name, "underside"), title=f"hex pocket for the head of corner.{name}, 13 mm", nominal=5.8) for name in ("nw", "ne")]
    assert changed(made, (pockets[0], 0.2), (pockets[1], None)).feet[0].pocket.mm == pytest.approx(5.9)
    assert changed(made, (pockets[0], -9.0), (pockets[1], -9.0)).feet[0].pocket.mm == 0.0
    for by, kept in ((1e-7, True), (-1e-7, True), (1e-6 * 1.01, False), (-1e-6 * 1.01, False)):
        assert (changed(made, (pockets[0], by)) is made) is kept
    # Of a hole through several layers the narrowest counts.
    holes = [row("hole", of=("hub",), title="hole for the drive bolt crank.hub, 8.40 mm")] * 2
    assert changed(made, (holes[0], 0.3), (holes[1], 0.1)).drives[0].hole_mm == pytest.approx(8.5)
    assert changed(made, (holes[0], -8.0)).drives[0].hole_mm == pytest.approx(0.4) and changed(made, (holes[0], -9.0)).drives[0].hole_mm == 0.0
    jam = row("depth", of=("hub", "underside"), title="recess for the jam nut of crank.hub, 14 mm")
    nuts = changed(made, (jam, 0.25)).drives[0]
    assert nuts.jam_nut.recessed.mm == 6.25 and nuts.nut == made.drives[0].nut
    # A length that the file leaves open is the planned one and the difference.
    length = row("length", "crank.hub.length", ("crank.hub",), nominal=43.0)
    assert changed(made, (length, -0.5)).drives[0].length.mm == 42.5 and made.drives[0].length is None
    play = row("length", "pin.west.sleeve", ("pin.west",), nominal=17.8)
    assert changed(made, (play, 0.123456789)).pivots[0].play.mm == pytest.approx(0.423457, abs=1e-9)
    for foot, title, field, mean in ((sliding(), "hex socket of corner.nw, 13 mm", "socket_depth", 14.1), (captured(), "", "length", 60.1)):
        reading = row("depth", of=("nw", "underside"), title=title) if title else row("length", "corner.nw.length", ("corner.nw",))
        assert getattr(changed(riser(foot), (reading, 0.1)).feet[0], field).mm == pytest.approx(mean)
    other = riser(riding(), pivots=(pin(), pin(name=made.drives[0].name)))
    moved = changed(other, (row("length", "pin.west.sleeve", ("pin.west",)), 0.1)).pivots
    assert [item.play.mm for item in moved] == pytest.approx([0.4, 0.3])
