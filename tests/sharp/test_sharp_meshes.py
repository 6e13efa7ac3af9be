"""Trains as graphs, what cuts and marks them, how cuts differ, and errors in words: each function alone, figures by hand. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8

from trivet.model.base import Band
from trivet.solve import largest_cutter, mesh_overlap
from trivet.solve.contour import Contour, Vertex
from trivet.solve.cutter_limit import CutterLimit, cutter_limit
from trivet.solve.deviation import cut_deviation_mm, outline_deviation_mm
from trivet.solve.feature import Label, Round, Stroke
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_overlap import with_overlaps, with_tops
from trivet.solve.mesh_phase import mesh_residual_pitches, next_phase_rad, ring_closure
from trivet.solve.phase_marks import marked_mates, phase_marks

A20 = math.radians(20.0)
TOOTH = ToothGeometry(20, 4.0)


# Overlaps.
def world(board: int = 0, **fixed: tuple[float, ...]) -> Any:
    """Fixed gears by (bottom, top) and, where plays count, (lowest top, highest bottom)."""
    states = {
        name: Of(bottom_mm=z[0], top_mm=z[1], lowest_top_mm=(*z, z[1])[2], highest_bottom_mm=(*z, z[1], z[0])[3]) for name, z in fixed.items()
    }
    return Of(corner=Of(board=board) if board else mesh_overlap.MEAN, fixed=states)


def test_overlap_of_fixed_gears_and_their_plays() -> None:
    made: Any = Of(a="a", b="b")
    assert mesh_overlap._overlap(made, {}, world(a=(-20.0, -2.0), b=(-15.0, 3.0)), None, 0) == 13.0
    # Gears 18 wide: one as high as −19 … −1 or as low as −21 … −3, its mate at −15 … 3: −3 + 15 is least; and apart.
    assert mesh_overlap._overlap(made, {}, world(1, a=(-20.0, -2.0, -3.0, -19.0), b=(-15.0, 3.0, 3.0, -15.0)), None, 0) == 12.0
    assert mesh_overlap._overlap(made, {}, world(1, b=(-20.0, -2.0, -3.0, -19.0), a=(-25.0, -7.0, -7.0, -25.0)), None, 0) == 12.0
    assert mesh_overlap._overlap(made, {}, world(a=(-20.0, -2.0)), None, 0) is None
    assert mesh_overlap._overlap(made, {}, world(a=(-40.0, -22.0), b=(-18.0, 0.0)), None, 1) == -4.0


def test_overlaps_over_the_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    """A riding gear goes down by its extension; sheets thicker by 1 put it 1 lower."""
    monkeypatch.setattr(mesh_overlap, "gear_interval_mm", lambda rider, held, name, e: (-18.0 - e - held.low, -e - held.low))
    monkeypatch.setattr(mesh_overlap, "replace", lambda item, **facts: Of(**(vars(item) | facts)))
    keys = [(0, 0), *((c.board, c.gear) for c in mesh_overlap.sheet_corners())]
    worlds: Any = {}
    for key in keys:
        worlds[key] = world(key[0], b=(-20.0, -2.0))
        worlds[key].low = 1.0 if key == (1, 1) else 0.0
    strokes = {key: {"corner": (1.0, 7.0)} for key in keys}
    foot_: Any = Of(id="corner", foot=Of(thread=M8), gear=Of(gear=Of(z=20)))
    made = (Of(a="a", b="b"), Of(a="b", b="a"))
    for found in with_overlaps(made, {"a": foot_}, worlds, strokes):
        # −19 … −1 and −25 … −7 over −20 … −2, and 1 lower at worst.
        assert (found.overlap_at_least_mm, found.overlap_at_most_mm, found.overlap_worst_mm, found.slides) == (17.0, 13.0, 12.0, 1.0)
    (unknown,) = with_overlaps(made[:1], {"a": foot_}, worlds, {key: strokes[key] for key in keys[:-1]})
    assert unknown.overlap_worst_mm is None and unknown.overlap_at_most_mm == 13.0
    (still,) = with_overlaps((Of(a="b", b="b"),), {}, worlds, {})
    assert (still.slides, still.overlap_worst_mm) == (0.0, 18.0)
    (both,) = with_overlaps((Of(a="a", b="c"),), {"a": foot_, "c": foot_}, worlds, strokes)
    assert both.slides == 2.0  # equal leads and hands: 1 + 1
    for rates, slides in (({"a": 0.4}, 0.4), ({"b": 0.4}, 0.6), ({"a": 0.4, "b": 1.5}, 1.1)):
        (climbs,) = with_overlaps(made[:1], {"a": foot_}, worlds, strokes, rates)
        assert climbs.slides == pytest.approx(slides)
    one, two, three = with_tops((Of(id="a"), Of(id="b"), Of(id="x", z_top=7)), {"a": foot_}, worlds, strokes)
    assert (one.z_top, two.z_top, three.z_top) == (Band(-1.0, -2.0, -1.0), Band(-2.0, -2.0, -2.0), 7)
    (rest,) = with_tops((Of(id="a"),), {"a": foot_}, {(0, 0): worlds[0, 0]}, {})
    assert rest.z_top == Band(0.0, 0.0, 0.0)
    play: Any = {(0, 0): world(b=(-20.0, -2.0, -9.0, 9.0)), (1, 1): world(1, b=(-20.0, -2.0, -3.0, -19.0))}
    (fixed,) = with_tops((Of(id="b"),), {}, play, {})
    assert fixed.z_top == Band(-2.0, -3.0, -1.0)


# Phases.
@pytest.mark.parametrize(
    ("teeth", "phase", "towards", "mate", "wanted"),
    [
        # A tooth on the line meets a space: at 180° of the mate, its teeth half a pitch beside it.
        (20, 0.0, 0.0, 20, 9.0),
        (20, 0.0, 0.0, 15, 0.0),
        # A space on the line meets a tooth.
        (20, 9.0, 0.0, 20, 0.0),
        # Turned by a quarter pitch on: the mate turns back by as much.
        (20, 4.5, 0.0, 20, 4.5),
        # Along 90°: a tooth of 20 lies on it, the mate of 10 has a space at 270°, teeth at 18 + 36 k.
        (20, 0.0, 90.0, 10, 0.0),
    ],
)
def test_teeth_stand_in_spaces(teeth: int, phase: float, towards: float, mate: int, wanted: float) -> None:
    found = next_phase_rad(teeth, math.radians(phase), math.radians(towards), mate)
    off = (math.degrees(found) - wanted) % (360 / mate)
    assert min(off, 360 / mate - off) == pytest.approx(0.0, abs=1e-9) and 0 <= found < 2 * math.pi / mate
    out = mesh_residual_pitches(teeth, math.radians(phase), math.radians(towards), mate, found + 0.25 * 2 * math.pi / mate)
    assert out == pytest.approx(-0.25)


@pytest.mark.parametrize(("angle", "residual"), [(90.0, 0.0), (91.0, 2 / 9), (89.0, -2 / 9)])
def test_closure_of_a_rhombus(angle: float, residual: float) -> None:
    c, s = 80 * math.cos(math.radians(angle)), 80 * math.sin(math.radians(angle))
    found = ring_closure((20,) * 4, ((0.0, 0.0), (80.0, 0.0), (80.0 + c, s), (c, s)), 4.0)
    assert abs(found.residual_pitches) == pytest.approx(abs(residual)) and found.residual_arc_mm == pytest.approx(abs(residual) * 4 * math.pi)
    arc = found.residual_arc_mm
    assert found.assembles((arc, arc * 1.001)) and not (arc and found.assembles((arc, arc * 0.999)))
    locked = ring_closure((20,) * 3, ((0.0, 0.0), (80.0, 0.0), (40.0, 69.3)), 4.0)
    assert locked.locked and (locked.residual_pitches, locked.residual_arc_mm) == (0.0, 0.0) and not locked.assembles((9.0,))


def test_marks_of_rings() -> None:
    loops = (Of(gears=("a", "b", "c", "d")), Of(gears=("c", "d", "e", "f")))
    found = marked_mates(Of(loops=loops), frozenset("d"))
    assert found == {"a": ("b",), "b": ("a", "c"), "c": ("b", "f"), "e": ("f",), "f": ("c", "e")}


def test_a_mark_on_the_line_of_centres() -> None:
    state: Any = Of(id="a", geometry=Of(module_mm=5.0), hole_mm=12.0, phase_rad=math.radians(10.0), x_mm=10.0, y_mm=20.0)
    context: Any = Of(states={"b": Of(x_mm=10.0, y_mm=120.0), "c": Of(x_mm=-90.0, y_mm=20.0)})
    # 1.2 modules long, 1 under the root circle of 40: from 33 to 39, at 90° − 10° and 180° − 10°.
    found = phase_marks(context, state, ("b", "c"), 40.0, 9.0)
    for item, angle in zip(found, (80.0, 170.0), strict=True):
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        assert isinstance(item.shape, Stroke) and (item.operation, item.face) == ("engrave", "underside") and item.depth_mm is not None
        assert (item.shape.x1_mm, item.shape.y1_mm, item.shape.x2_mm, item.shape.y2_mm) == pytest.approx((33 * c, 33 * s, 39 * c, 39 * s))
    for hole, reach, marks in ((12.0, 33.0, 0), (66.0, 9.0, 0), (12.0, 32.9, 2), (65.9, 9.0, 2)):
        state.hole_mm = hole
        assert len(phase_marks(context, state, ("b", "c"), 40.0, reach)) == marks


# How far cuts are apart.
BOX = Contour((Vertex(0.0, 0.0), Vertex(10.0, 0.0), Vertex(10.0, 6.0), Vertex(0.0, 6.0)))


def corner(x: float, y: float, bulge: float = 0.0) -> Contour:
    return Contour((*BOX.vertices[:2], Vertex(x, y, bulge), BOX.vertices[3]))


@pytest.mark.parametrize(
    ("old", "new", "apart"),
    [
        (BOX, BOX, 0.0),
        (BOX, corner(10.0009, 6.0012), 0.0015),
        (BOX, corner(13.0, 10.0), 5.0),
        (BOX, corner(10.0, 6.0, 0.2), 1.0),  # an arc of bulge 0.2 over a side of 10 rises by 0.2 · 10/2
        (Round(1.0, 2.0, 8.0), Round(4.0, 6.0, 8.0), 5.0),
        (Round(1.0, 2.0, 8.0), Round(4.0, 6.0, 7.0), 5.5),
        (Stroke(2.0, 1.0, 12.0, 1.0), Stroke(2.0, 4.0, 12.0, 5.0), 4.0),
        (Stroke(2.0, 1.0, 12.0, 1.0), Stroke(12.0, 4.0, 2.0, 3.0), 3.0),
        (Stroke(2.0, 1.0, 12.0, 1.0), Stroke(5.0, 5.0, 12.0, 1.0), 5.0),
        (Label(2.0, 1.0, "deck", 6.0, 0.0), Label(5.0, 5.0, "deck", 6.0, 0.0), 5.0),
        # Turned by 2°, the end of four letters of 6: 12 · 2 · π/180; a whole turn is none.
        (Label(0.0, 0.0, "deck", 6.0, 359.0), Label(0.0, 0.0, "deck", 6.0, 1.0), 12 * math.radians(2.0)),
        (Label(0.0, 0.0, "deck", 6.0, 0.0), Label(0.0, 0.0, "desk", 6.0, 0.0), None),
        (Label(0.0, 0.0, "deck", 6.0, 0.0), Label(0.0, 0.0, "deck", 7.0, 0.0), None),
        (Round(1.0, 2.0, 8.0), BOX, None),
    ],
)
def test_cuts_apart(old: Any, new: Any, apart: float | None) -> None:
    for one, other in ((old, new), (new, old)):
        found = cut_deviation_mm(one, other)
        assert found == (None if apart is None else pytest.approx(apart, rel=1e-6, abs=3e-3 if apart > 0.01 else 1e-9))


def test_outlines_of_other_corners() -> None:
    more = Contour((*BOX.vertices, Vertex(0.0, 3.0)))
    assert outline_deviation_mm(BOX, more) == pytest.approx(0.0, abs=1e-9)
    assert outline_deviation_mm(BOX, Contour(BOX.vertices[:3])) == pytest.approx(6 * 10 / math.hypot(6, 10), abs=1e-6)


# Cutters.
def test_the_mate_that_binds_first(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []

    def limit(own: Any, mate: Any, distance: float) -> CutterLimit | None:
        tried.append(mate.teeth)
        sizes = {30: (6.0, "flank"), 40: (5.0, "bottom"), 50: (5.0, "flank"), 20: (4.0, "bottom")}
        if mate.teeth not in sizes or distance < 50.0:
            return None
        diameter, binds = sizes[mate.teeth]
        return CutterLimit(diameter, binds, 0.0, 0.0)

    monkeypatch.setattr(largest_cutter, "cutter_limit", limit)
    mates = [(name, ToothGeometry(z, 4.0), 2.0 * (20 + z)) for name, z in (("x", 30), ("y", 40), ("z", 50), ("w", 60))]
    memo: Any = {}
    touch, ride = "so high that the tips of {} touch it", "on which the tips of {} ride"
    for _ in range(2):
        size, why = largest_cutter.largest_cutter(TOOTH, mates, memo)
        assert size == 5.0 and why.endswith(touch.format("`y`"))
        assert largest_cutter.largest_cutter(TOOTH, mates[:1], memo)[1].endswith(ride.format("`x`"))
    assert tried == [30, 40, 50, 60]
    size, why = largest_cutter.largest_cutter(TOOTH, mates[3:], memo)
    assert size == 4.0 and why.endswith(touch.format("an equal gear"))
    assert largest_cutter.largest_cutter(ToothGeometry(5, 4.0), (), {}) == (0.0, "no mesh is possible")


def test_cutters_at_their_limits() -> None:
    assert cutter_limit(TOOTH, TOOTH, 70.0) is None
    found, spread, closer = (cutter_limit(TOOTH, TOOTH, at) for at in (80.0, 81.0, 80.0 - 1.01))
    assert found is not None and spread is not None and closer is not None
    assert found.diameter_mm == min(found.flank_diameter_mm, found.bottom_diameter_mm)
    assert found.binds == ("flank" if found.flank_diameter_mm <= found.bottom_diameter_mm else "bottom")
    # Room under the tips is 0.25 m = 1; 1.01 nearer the root itself is in their way, whatever the cutter.
    assert (closer.bottom_diameter_mm, closer.diameter_mm, closer.binds) == (0.0, 0.0, "bottom")
    # Tips that reach less far leave more room, by as much as is kept clear.
    kept = cutter_limit(TOOTH, TOOTH, 80.0, tip_clearance_mm=0.6)
    shorter = cutter_limit(TOOTH, ToothGeometry(20, 4.0, tip_shortening_mm=0.5), 80.0, tip_clearance_mm=0.6)
    assert kept is not None and shorter is not None
    assert shorter.bottom_diameter_mm == pytest.approx(found.bottom_diameter_mm) and kept.bottom_diameter_mm < found.bottom_diameter_mm
    # Teeth as thick as the pitch leave no room at all.
    full = cutter_limit(ToothGeometry(20, 4.0, thinning_mm=-2 * math.pi), TOOTH, 80.0)
    assert full is not None and full.flank_diameter_mm == 0.0
