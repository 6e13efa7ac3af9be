"""What a round cutter leaves of corners, outlines and teeth: each figure by plane geometry or by a search of its own. Lengths mm."""

from __future__ import annotations

import math

import pytest
from tests.designs import design, gear, mesh
from tests.sharp.test_sharp_outline import ELL, arc

from trivet.model.outline import Outline, OutlineVertex, Placed
from trivet.solve.as_cut import as_cut_inner, as_cut_outer, narrow_area_mm2
from trivet.solve.as_cut_mesh import as_cut_mesh
from trivet.solve.as_cut_proofs import as_cut_proofs
from trivet.solve.as_cut_tooth import cut_tooth
from trivet.solve.contour_shapes import circle, polygon, rectangle
from trivet.solve.corner_fillet import corner_fillet, turn_rad
from trivet.solve.flank_arcs import flank_arcs
from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.outline_contour import drawn, inner_as_cut, outer_as_cut, placed
from trivet.solve.outline_overlap import outline_overlap_mm2
from trivet.solve.root_form import root_form
from trivet.solve.segment import Segment
from trivet.solve.solve import solve

# What a round of radius 1 takes off a square corner, and what a relief of radius 1 adds to one: half a disc less the triangle in it.
ROUND, RELIEF = 1.0 - math.pi / 4.0, math.pi / 2.0 - 1.0

R24, R48 = math.sqrt(24.0), math.sqrt(48.0)
UP = Segment(0.0, -5.0, R24, -1.0, math.tan((math.pi / 2 - math.atan2(1, R24)) / 4))
CORNERS = [
    # before, after, cutter's radius, centre, touch before, touch after.
    (Segment(-10, 0, 0, 0, 0), Segment(0, 0, 0, -10, 0), 3.0, (-3, -3), (-3, 0), (0, -3)),
    (Segment(-10, 0, 0, 0, 0), Segment(0, 0, -6, -8, 0), 2.0, (-4, -2), (-4, 0), (-2.4, -3.2)),
    # Outside a disc of 5: its centre 10 from the disc's and 5 above the line: (8, 6). Then the same mirrored and run the other way.
    (Segment(20, 1, R24, 1, 0), Segment(R24, 1, 0, 5, UP.bulge), 5.0, (8, 6), (8, 1), (4, 3)),
    (UP, Segment(R24, -1, 20, -1, 0), 5.0, (8, -6), (4, -3), (8, -1)),
    # Within a round of 13, 3 above its flat at −11: 10 from the middle, at (−6, −8).
    (Segment(R48, -11, -R48, -11, 0), arc(0, 0, 13, math.degrees(math.atan2(-11, -R48)), -147.794), 3.0, (-6, -8), (-6, -11), (-7.8, -10.4)),
    # Between discs of 15 and 8, 21 apart: 17 and 10 from their middles, a triangle of 10, 17, 21 with its corner at (6, 8).
    (arc(21, 0, 15, 90, math.degrees(math.atan2(4.422166, -14.333333)) - 90), arc(0, 0, 8, math.degrees(math.atan2(4.422166, 6.666667)), 60),
     2.0, (6, 8), (21 - 15 * 15 / 17, 15 * 8 / 17), (4.8, 6.4)),
]  # fmt: skip


def elsewhere(x: float, y: float) -> tuple[float, float]:
    """Turned by 0.7 and shifted by (31, −17)."""
    return 31 + x * math.cos(0.7) - y * math.sin(0.7), -17 + x * math.sin(0.7) + y * math.cos(0.7)


@pytest.mark.parametrize("moved", [False, True])
@pytest.mark.parametrize(("before", "after", "r", "centre", "touch", "leave"), CORNERS)
def test_arc_that_a_cutter_leaves_in_a_corner(
    before: Segment, after: Segment, r: float, centre: tuple[float, float], touch: tuple[float, float], leave: tuple[float, float], moved: bool
) -> None:
    if moved:
        before, after = (Segment(*elsewhere(s.x0, s.y0), *elsewhere(s.x1, s.y1), s.bulge) for s in (before, after))
        centre, touch, leave = (elsewhere(*point) for point in (centre, touch, leave))
    assert turn_rad(before, after) < 0.0
    found = corner_fillet(before, after, r)
    assert found is not None
    assert found.from_point == pytest.approx(touch, abs=1e-4) and found.to_point == pytest.approx(leave, abs=1e-4)
    left = Segment(*found.from_point, *found.to_point, found.bulge)
    assert left.centre == pytest.approx(centre, abs=1e-4) and left.radius_mm == pytest.approx(r, abs=1e-4)
    assert -math.pi < left.sweep_rad < 0.0
    for piece, along, at in ((before, found.along_before, touch), (after, found.along_after, leave)):
        if piece.is_arc:
            cx, cy = piece.centre
            turned = abs(math.atan2(at[1] - cy, at[0] - cx) - piece.start_angle_rad) % (2 * math.pi)
            share = min(turned, 2 * math.pi - turned) / abs(piece.sweep_rad)
        else:
            share = math.dist(at, (piece.x0, piece.y0)) / piece.chord_mm
        assert along == pytest.approx(share, abs=1e-4)


@pytest.mark.parametrize(
    ("before", "after", "r"),
    [
        (Segment(0, 0, 9, 0, 0), Segment(9, 0, 0, 0, 0), 1.0),
        (Segment(-2, 0, 0, 0, 0), Segment(0, 0, 0, -10, 0), 3.0),
        (Segment(-10, 0, 0, 0, 0), Segment(0, 0, 0, -2, 0), 3.0),
        (arc(0, 0, 8, 0, 90), arc(0, 0, 8, 90, 90), 2.0),
        (arc(0, 0, 8, 0, 90), arc(40, 0, 8, 90, 90), 2.0),
        (Segment(-10, 30, 10, 30, 0), arc(0, 0, 8, 90, 90), 2.0),
    ],
)
def test_corners_that_a_cutter_does_not_reach(before: Segment, after: Segment, r: float) -> None:
    assert corner_fillet(before, after, r) is None


@pytest.mark.parametrize(("turn", "radius", "corners"), [(0.9e-4, 40.0, 5), (1.2e-4, 40.0, 6), (1.2e-4, 10.0, 5), (3e-4, 10.0, 6)])
def test_faint_corners_stay(turn: float, radius: float, corners: int) -> None:
    # Below 0.0001 rad it is a smooth join; an arc of radius times turn below 0.002 is left out.
    bent = polygon([(0, 0), (100, 0), (100, 50), (50, 50 - 25 * turn), (0, 50)])
    cut = as_cut_outer(bent, radius)
    assert len(cut.contour.vertices) == corners and not cut.unreached


def test_what_is_not_reached_is_named_at_its_place() -> None:
    tight = as_cut_inner(circle(7, 8, 2), 2.1)
    assert {(c.x_mm, c.y_mm, c.words) for c in tight.unreached} == {
        (9, 8, "the cutter is wider than this round"), (5, 8, "the cutter is wider than this round")
    }  # fmt: skip
    assert as_cut_inner(circle(7, 8, 2), 2.0).unreached == () and as_cut_inner(circle(7, 8, 2), 0.0).contour == circle(7, 8, 2)
    narrow = as_cut_inner(rectangle(0, 0, 20, 5), 3.0)
    assert {(c.x_mm, c.y_mm) for c in narrow.unreached} == {(0, 0), (20, 0), (20, 5), (0, 5)}
    assert {c.words for c in narrow.unreached} == {"the cutter does not fit into this corner"}
    assert narrow.contour.area_mm2 == pytest.approx(100.0)
    # Rounds of 1 are skipped; where what is beside them fails too, they stay as drawn.
    rounds = as_cut_inner(rectangle(0, 0, 20, 5, 1), 3.0)
    assert len(rounds.unreached) == 4 and rounds.contour.area_mm2 == pytest.approx(100.0 - 4 * ROUND) and len(rounds.contour.vertices) == 8


def test_area_of_a_neck_by_hand() -> None:
    """Ten by two, and at either mouth a cutter of radius 3 reaches in by a segment whose chord is 2: R²/2 (t − sin t), sin(t/2) = 1/3."""
    neck = polygon([(0, 0), (20, 0), (20, 9), (30, 9), (30, 0), (50, 0), (50, 20), (30, 20), (30, 11), (20, 11), (20, 20), (0, 20)])
    t = 2.0 * math.asin(1.0 / 3.0)
    assert narrow_area_mm2(neck, 3.0, inside=True) == pytest.approx(20.0 - 2.0 * 4.5 * (t - math.sin(t)), abs=0.1)
    assert narrow_area_mm2(rectangle(0, 0, 40, 30), 3.0, inside=False) < 0.14


def outline(shape: str, width: float, height: float, **facts: object) -> Outline:
    given = {"vertices": tuple(OutlineVertex(x, y) for x, y in ELL)} if shape == "polygon" else {}
    return Outline(shape=shape, width_mm=width, height_mm=height, **given, **facts)


@pytest.mark.parametrize(
    ("made", "as_drawn", "outside", "inside"),
    [
        (outline("circle", 30, 30), 225 * math.pi, 0.0, 0.0),
        (outline("slot", 30, 8), 22 * 8 + 16 * math.pi, 0.0, 0.0),
        (outline("rectangle", 30, 20), 600.0, 0.0, -16 * ROUND),
        (outline("rectangle", 30, 20, corner_radius_mm=3), 600.0 - 36 * ROUND, 0.0, 0.0),
        (outline("rectangle", 30, 20, relieved=True), 600.0, 0.0, 16 * RELIEF),
        # Five corners stand out and one goes in.
        (outline("polygon", 40, 30), 825.0, 4 * ROUND, -20 * ROUND),
        (outline("polygon", 40, 30, corner_radius_mm=3), 825.0 - 36 * ROUND, 0.0, 0.0),
        (outline("polygon", 40, 30, relieved=True), 825.0, -4 * RELIEF, 20 * RELIEF),
    ],
)
def test_areas_as_drawn_and_as_a_cutter_of_4_leaves_them(made: Outline, as_drawn: float, outside: float, inside: float) -> None:
    assert drawn(made).area_mm2 == pytest.approx(as_drawn)
    assert drawn(made).bounds == pytest.approx((0, 0, made.width_mm, made.height_mm))
    assert outer_as_cut(made, 4.0).area_mm2 == pytest.approx(as_drawn + outside)
    assert inner_as_cut(made, 4.0).area_mm2 == pytest.approx(as_drawn + inside)


@pytest.mark.parametrize("mirrored", [False, True])
def test_an_outline_in_its_place(mirrored: bool) -> None:
    made = outline("polygon", 40, 30)
    shape = placed(drawn(made), made, Placed("p", 110.0, 70.0, 90.0, mirrored), 10.0, 20.0)
    # The middle (20, 15) goes to (100, 50); a quarter turn takes (x, y) to (−y, x); near and far are exchanged before.
    at = [(100 - (y - 15) * (-1 if mirrored else 1), 50 + (x - 20)) for x, y in ELL]
    assert {(round(v.x, 6), round(v.y, 6)) for v in shape.vertices} == {(float(x), float(y)) for x, y in at}
    assert shape.area_mm2 == pytest.approx(825.0)


def tooth_side(teeth: int, module: float, shift: float, thinning: float, addendum: float, dedendum: float) -> list[tuple[float, float]]:
    """Points (radius, angle) of the anticlockwise side of a tooth of 20 degrees from its root circle to its tip, by the textbook's formulas."""
    a, pitch = math.radians(20.0), module * teeth / 2.0
    base, tip, root = pitch * math.cos(a), pitch + module * (addendum + shift), pitch - module * (dedendum - shift)
    half = (module * (math.pi / 2 + 2 * shift * math.tan(a)) - thinning) / (2 * pitch) + math.tan(a) - a
    found = []
    for k in range(20001):
        radius = root + (tip - root) * k / 20000
        at = math.acos(min(1.0, base / radius))
        found.append((radius, half - math.tan(at) + at))
    return found


TEETH = [
    # teeth, module, shift, thinning, addendum, dedendum, cutter's radius: what it touches and whether both sides at once.
    ((12, 6.0, 0.0, 0.2, 1.0, 1.25), 1.0, "radial", False),
    ((12, 6.0, 0.0, 0.2, 1.0, 1.25), 3.0, "radial", False),
    ((40, 4.0, 0.0, 0.2, 1.0, 1.25), 1.0, "involute", False),
    ((60, 4.0, 0.0, 0.2, 1.0, 1.25), 1.2, "involute", False),
    ((10, 4.0, 0.0, 0.2, 1.0, 1.6), 2.5, "radial", True),
    ((20, 5.0, 0.0, 6.0, 0.1, 0.2), 5.0, "tip", False),
    ((24, 4.0, 0.0, 0.2, 1.0, 1.25), 6.0, "involute", True),
    ((20, 5.0, 0.0, 6.0, 0.1, 0.2), 30.0, "tip", True),
    ((30, 4.0, 0.3, 0.1, 1.0, 1.25), 1.0, "involute", False),
]


@pytest.mark.parametrize(("sizes", "cutter", "contact", "full"), TEETH)
def test_where_a_cutter_comes_to_rest(sizes: tuple[float, ...], cutter: float, contact: str, full: bool) -> None:
    """Searched: along the middle of the space, else along the root circle, for the place whose nearest point of the side is a radius off."""
    z, m, shift, thinning, addendum, dedendum = sizes
    form = root_form(ToothGeometry(int(z), m, math.radians(20.0), shift, thinning, addendum, dedendum), cutter)
    assert (form.contact, form.full_round) == (contact, full)
    side = [(r * math.cos(t), r * math.sin(t), r) for r, t in tooth_side(int(z), m, shift, thinning, addendum, dedendum)]
    centre = (form.centre_radius_mm * math.cos(form.centre_angle_rad), form.centre_radius_mm * math.sin(form.centre_angle_rad))
    away, at = min((math.dist(centre, (x, y)), r) for x, y, r in side)
    assert away == pytest.approx(cutter, abs=2e-4)
    assert at == pytest.approx(form.contact_radius_mm, abs=0.02)
    root, base = m * z / 2 - m * (dedendum - shift), m * z / 2 * math.cos(math.radians(20.0))
    assert form.bottom_radius_mm == pytest.approx(form.centre_radius_mm - cutter)
    if full:
        assert form.centre_angle_rad == pytest.approx(math.pi / z) and form.bottom_radius_mm >= root
    else:
        assert form.bottom_radius_mm == pytest.approx(root) and form.centre_angle_rad <= math.pi / z
    pull = math.sqrt(max(form.contact_radius_mm**2 - base**2, 0.0)) if contact != "radial" else 0.0
    assert form.contact_pull_mm == pytest.approx(pull, abs=1e-9)


@pytest.mark.parametrize(("sizes", "cutter", "contact", "full"), TEETH)
def test_outline_passes_the_places_of_its_root(sizes: tuple[float, ...], cutter: float, contact: str, full: bool) -> None:
    z, m, shift, thinning, addendum, dedendum = sizes
    made = ToothGeometry(int(z), m, math.radians(20.0), shift, thinning, addendum, dedendum)
    found, form = gear_outline(made, cutter, 0.3), root_form(made, cutter)
    assert (found.full_round, found.bottom_radius_mm, found.flank_start_radius_mm) == (full, form.bottom_radius_mm, form.contact_radius_mm)
    radii = [math.hypot(x, y) for x, y in found.contour.points(0.0005)]
    assert min(radii) == pytest.approx(form.bottom_radius_mm, abs=0.001) and max(radii) == pytest.approx(made.tip_radius_mm, abs=1e-6)
    assert found.contour.area_mm2 > 0.0 and found.flank_deviation_mm <= 0.0019
    assert (found.flank_deviation_mm == 0.0) == (contact == "tip")
    # The cutter's own arcs turn clockwise, with its radius.
    arcs = [piece for piece in found.contour.segments() if piece.bulge < 0.0]
    assert len(arcs) == (z if full else 2 * z) and all(piece.radius_mm == pytest.approx(cutter, abs=1e-3) for piece in arcs)


@pytest.mark.parametrize(("base", "low", "high"), [(40.0, 2.0, 30.0), (200.0, 30.0, 90.0), (12.0, 0.0, 14.0), (90.0, 28.0, 45.0)])
def test_arcs_of_a_flank_are_as_few_as_hold_it(base: float, low: float, high: float) -> None:
    found = flank_arcs(base, 0.1, high, low)
    ends = [math.sqrt(math.hypot(x, y) ** 2 - base**2) for x, y, _ in (found.nodes[0], found.nodes[-1])]
    assert ends == pytest.approx([high, low], abs=1e-5) and found.nodes[-1][2] == 0.0
    worst = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(found.nodes, found.nodes[1:], strict=False):
        piece = Segment(x0, y0, x1, y1, bulge)
        (cx, cy), first, last = piece.centre, math.sqrt(x0 * x0 + y0 * y0 - base**2), math.sqrt(max(x1 * x1 + y1 * y1 - base**2, 0.0))
        for k in range(101):
            roll = (first + (last - first) * k / 100) / base
            t = 0.1 - roll
            x, y = base * (math.cos(t) - roll * math.sin(t)), base * (math.sin(t) + roll * math.cos(t))
            worst = max(worst, abs(math.hypot(x - cx, y - cy) - piece.radius_mm))
    assert worst <= 0.002 and found.deviation_mm == pytest.approx(worst, abs=2e-4)
    # A curve whose curvature changes by k along it leaves an arc of length s by about k s³ √3/216: 1/(b² t³) over b t dt is dt/(b t²).
    count = len(found.nodes) - 1
    assert count == math.ceil((high - low) / base / math.cbrt(0.0019 / (base * math.sqrt(3.0) / 216.0)) - 0.02)
    (only,) = flank_arcs(base, 0.1, low, low).nodes
    assert only == pytest.approx(found.nodes[-1])


A, B = ToothGeometry(20, 4.0, thinning_mm=0.2), ToothGeometry(30, 4.0, thinning_mm=0.2)


def test_overlap_of_gears_pressed_together_is_a_lens_at_each_contact() -> None:
    """0.4 nearer than without play each flank is over by w = 0.4 sin 20°: a lens of 4/3 w √(2 w r), 1/r = 1/(40 sin 20°) + 1/(60 sin 20°).

    With a contact ratio of 1.6 two pairs of teeth touch at the most, with both flanks each.
    """
    s = math.sin(math.radians(20.0))
    tight = 100.0 - 0.2 / math.tan(math.radians(20.0))
    lens = 4.0 / 3.0 * 0.4 * s * math.sqrt(2.0 * 0.4 * s * s / (1 / 40 + 1 / 60))
    found = outline_overlap_mm2(A, B, tight - 0.4, (1.0, 1.0))
    assert 2.7 * lens < found < 4.1 * lens
    assert outline_overlap_mm2(B, A, tight - 0.4, (1.0, 1.0)) == pytest.approx(found, rel=0.1)
    assert outline_overlap_mm2(A, B, 100.0, (1.0, 1.0)) == 0.0 and outline_overlap_mm2(A, B, tight + 0.01, (1.0, 1.0)) < 0.01


def test_what_a_mesh_as_cut_rests_on() -> None:
    found = as_cut_mesh(B, A, 100.0, (1.0, 1.0))
    # Both thinned by 0.2: 0.4 on the working circle, so much turns the one of 20 teeth, 40 in radius.
    assert found.free_teeth == 20 and found.free_rad == pytest.approx(0.4 / 40.0, abs=2e-4)
    assert found.backlash_mm == pytest.approx(found.free_rad * 40.0) and not found.laid_over and found.overlap_mm2 == 0.0
    assert 0.0 <= found.free_at < 1.0 and found.touch[1] - found.touch[0] == found.contact_ratio
    # Flanks touch either side of the line of centres.
    assert found.touch[0] < -0.3 and found.touch[1] > 0.3
    pressed = as_cut_mesh(B, A, 98.8, (1.0, 1.0))
    assert pressed.laid_over and pressed.overlap_mm2 > 0.0 and pressed.backlash_mm == 0.0 and pressed.free_rad < 0.0
    apart = as_cut_mesh(B, A, 110.0, (1.0, 1.0))
    assert apart.touch == (0.0, 0.0) and apart.contact_ratio == 0.0


def test_a_tooth_as_points() -> None:
    tooth = cut_tooth(A, 1.5)
    form = root_form(A, 1.5)
    assert tooth.bottom_radius_mm == pytest.approx(form.bottom_radius_mm, abs=1e-4) and tooth.tip_radius_mm == pytest.approx(44.0, abs=1e-6)
    for radius, angle in zip(tooth.radii, tooth.half_angles, strict=True):
        if radius > form.contact_radius_mm:
            assert angle == pytest.approx(A.half_angle_at(radius), abs=5e-5)
    assert len(tooth.at_tip) == tooth.around.shape[1] and tooth.around[1][0] == -tooth.half_angles[0]
    tip = tooth.around[1][tooth.at_tip == 1.0]
    assert tip[0] == -tooth.half_angles[-1] and tip[-1] == tooth.half_angles[-1] and abs(tip[1] - tip[0]) * 44.0 <= 0.2
    assert all(radius == 44.0 or abs(radius - 44.0) < 1e-6 for radius in tooth.around[0][tooth.at_tip == 1.0])
    assert not any(abs(radius - 44.0) < 1e-9 for radius in tooth.around[0][tooth.at_tip == 0.0])


def test_proofs_stand_at_the_distances_of_the_budget() -> None:
    derived = solve(design((gear("hub", 20, (100, 100), drive=True), gear("nw", 30, foot=True)), (mesh("hub", "nw", 0),)))
    (state,) = derived.train.meshes
    proof = as_cut_proofs(derived)[state.id]
    told = [item.centre_distance_mm for item in (proof.nominal, proof.likely, proof.tightest, proof.loosest)]
    assert told == pytest.approx(
        [state.centre_distance_mm, state.centre_distance_likely_mm, state.centre_distance_least_mm, state.centre_distance_most_mm]
    )
    assert told[2] < told[1] < told[0] < told[3] and as_cut_proofs(derived, ()) == {}
    a, b = (next(item for item in derived.train.gears if item.id == name).geometry for name in (state.a, state.b))
    assert proof.nominal == as_cut_mesh(a, b, state.centre_distance_mm, (2.0, 2.0))
