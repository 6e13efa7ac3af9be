"""Outlines that overlap and trains that bind: from records built by hand. Lengths mm, areas mm²."""

from __future__ import annotations

from typing import Any

import pytest
from tests.sharp.stand_ins import MM, gear, mesh, named, ref, start, starts, trained

from trivet.checks import outlines_overlap, too_few_sheets, train_binds
from trivet.model.intent import Require
from trivet.record import replace
from trivet.solve import as_cut_mesh, as_cut_proofs
from trivet.solve.binding import Binding
from trivet.solve.derived_train import LoopState
from trivet.solve.gear_size import ToothGeometry

HUB, IDLER = ToothGeometry(16, 6.0), ToothGeometry(20, 6.0)


def cut_mesh(overlap: float, distance: float) -> Any:
    return named(overlap_mm2=overlap, centre_distance_mm=distance)


def proof(nominal: float, likely: float, tightest: float, distance: float = 107.7446) -> Any:
    return named(nominal=cut_mesh(nominal, 108.0), likely=cut_mesh(likely, distance), tightest=cut_mesh(tightest, 107.2954))


def meshed(least: float = 0.1, rss: float = 0.2, a: str = "hub", b: str = "west", **figures: Any) -> Any:
    backlash = named(min_mm=least, nominal_mm=0.5, rss_mm=rss)
    return mesh(a, b, centre_distance_mm=108.0, backlash=backlash, tight_centre_distance_mm=108.3, **figures)


@pytest.mark.parametrize(
    ("areas", "least", "found"),
    [
        ((0.02, 0.03, 0.04), 0.1, ("error", "", "0.02 mm²", 107.7446)),
        ((0.01, 0.03, 0.04), 0.1, ("error", "0.255 mm nearer", "0.03 mm²", 107.7446)),
        ((0.01, 0.01, 0.04), 0.1, ("note", "0.705 mm nearer", "0.04 mm²", 107.2954)),
        ((0.01, 0.01, 0.04), 0.0, ("note", "0.705 mm nearer", "0.04 mm²", 107.2954)),
        ((0.01, 0.01, 0.04), -0.01, None), ((0.01, 0.01, 0.01), 0.1, None),
    ],
)  # fmt: skip
def test_severity_of_outlines_that_overlap(areas: tuple[float, float, float], least: float, found: tuple[str, str, str, float] | None) -> None:
    said = outlines_overlap._overlap(MM, named(), meshed(least), proof(*areas))
    if found is None or said is None:
        assert said is found
        return
    assert (said[0], said[2], said[3]) == (found[0], (found[2], "0.01 mm²"), found[3])
    assert found[1] in said[1] and bool(said[1]) == bool(found[1])


def test_areas_are_told_so_that_they_differ() -> None:
    texts = outlines_overlap._area_texts
    assert [texts(area, "mm") for area in (0.5, 0.0104, 0.01004, 0.010004)] == [
        ("0.50 mm²", "0.01 mm²"), ("0.0104 mm²", "0.01 mm²"), ("0.01004 mm²", "0.01 mm²"), ("0.01 mm²", "0.01 mm²"),
    ]  # fmt: skip
    # A square inch is 645.16 mm²: 0.01 mm² are 0.0000155.
    assert [texts(area, "in") for area in (0.5, 0.0104, 0.01)] == [
        ("0.00078 in²", "0.00002 in²"), ("0.0000161 in²", "0.0000155 in²"), ("0.00002 in²", "0.00002 in²"),
    ]  # fmt: skip
    # From the fifth digit to the eighth: 0.0100129 mm² are 0.00001552.
    assert [texts(area, "in")[0] for area in (0.0100129, 0.010001)] == ["0.00001552 in²", "0.00002 in²"]
    assert texts(0.5, "thou")[0] == "0.00078 in²"


@pytest.mark.parametrize(("fits", "limits", "largest"), [(9.0, (5.97, 7.0), 5.9), (3.9, (7.0, 5.0), 3.9), (3.85, (7.0, 5.0), 0.0), (5.0, (9.0, None), 0.0),
                                                         (9.0, (9.0, 9.0), 6.0), (0.1, (0.3, 1.0), 0.1), (0.0, (0.3, 1.0), 0.0)])  # fmt: skip
def test_largest_cutter_that_leaves_room(monkeypatch: pytest.MonkeyPatch, fits: float, limits: tuple[float, float | None], largest: float) -> None:
    """Twelve are tried, a tenth apart, from the least of what the gears are cut with and what the formulas allow."""
    of = dict(zip((16, 20), limits, strict=True))

    def limit(gear_: ToothGeometry, mate: ToothGeometry, distance: float) -> Any:
        found = of[gear_.teeth] if distance == 107.0 and gear_.teeth != mate.teeth else None
        return named(diameter_mm=found) if found is not None else None

    def turned(a: ToothGeometry, b: ToothGeometry, distance: float, radii: tuple[float, float]) -> Any:
        assert (a.teeth, b.teeth, distance) == (16, 20, 107.0) and radii[0] == radii[1] > 0.0
        return cut_mesh(0.01 if 2.0 * radii[0] <= fits + 1e-6 else 0.011, distance)

    monkeypatch.setattr(outlines_overlap, "cutter_limit", limit)
    monkeypatch.setattr(as_cut_mesh, "as_cut_mesh", turned)
    derived = trained((gear("hub", HUB, cutter_diameter_mm=6.0), gear("west", IDLER, cutter_diameter_mm=8.0)))
    assert outlines_overlap._largest_cutter_mm(derived, meshed(), 107.0) == pytest.approx(largest)


def overlaps(*held: Any, largest: float = 5.0) -> list[Any]:
    areas = {"good": (0.0, 0.0, 0.0), "more": (0.9, 1.0, 1.1), "near": (0.5, 0.6, 0.7, 107.6)}
    proofs = {state.id: proof(*areas.get(state.b, (0.5, 0.6, 0.7))) for state in held}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(as_cut_proofs, "as_cut_proofs", lambda derived: proofs)
        patch.setattr(outlines_overlap, "_largest_cutter_mm", lambda derived, state, distance: largest if distance == 107.7446 else 99.0)
        return list(outlines_overlap.check(MM, trained((), held)))


def test_overlaps_that_are_alike_are_said_once() -> None:
    # What has no more backlash than its errors take is said elsewhere.
    (item,) = overlaps(meshed(b="good"), meshed(rss=0.5, b="bound"), meshed())
    assert item.message == "the outlines of `hub` and `west` overlap by up to 0.50 mm² as they turn; 0.01 mm² is allowed"
    assert (item.severity, item.parts, starts(item)) == ("error", ("hub–west", "hub", "west"), (60, []))
    (two,) = overlaps(meshed(), meshed(b="east", place=61))
    assert two.message.endswith("; 1 other mesh is alike") and starts(two) == (60, [61]) and two.parts[3:] == ("hub–east", "east")
    assert two.related[0].message == "the same holds for `hub` and `east`"
    (three,) = overlaps(meshed(), meshed(b="east", place=61), meshed(b="north", place=62))
    assert three.message.endswith("; 2 other meshes are alike")
    # Another area or another distance is another finding.
    found = overlaps(meshed(), meshed(b="more", place=61), meshed(b="near", place=62), meshed(b="east", place=63))
    assert [starts(item) for item in found] == [(60, [63]), (61, []), (62, [])]


def test_slow_checks_run_in_full_runs_alone() -> None:
    assert outlines_overlap.FULL_ONLY and train_binds.FULL_ONLY and too_few_sheets.FULL_ONLY


def test_cures_of_outlines_that_overlap() -> None:
    for largest, stated, cure, place in (
        (5.0, None, "a cutter of 5 mm or less leaves room, errors counted, or more backlash", 60),
        (5.0, 9, "a cutter of 5 mm or less leaves room, errors counted, or more backlash", 60),
        (0.5, 9, "a cutter of 0.5 mm or less leaves room, errors counted, or more backlash", 60),
        (0.0, None, "more backlash, more teeth, or a larger module", 60),
        (0.0, 9, "leave `centre_distance` out: 108.3 mm follows", 9),
    ):
        (item,) = overlaps(meshed(stated=stated), largest=largest)
        assert (item.remedy, start(item.span)) == (cure, place)


def bound(nominal: float = 0.5, rss: float = 0.2, a: str = "hub", b: str = "west", place: int = 60) -> Any:
    return mesh(a, b, place, backlash=named(nominal_mm=nominal, rss_mm=rss))


def trains(chance: float | None, *meshes: Any, loops: tuple[LoopState, ...] = (), requires: tuple[Require, ...] = ()) -> list[Any]:
    held = meshes or (bound(), bound(b="east", place=61))
    found = Binding(chance, 100_000, 20, ((held[-1].id, 0.05), (held[0].id, 0.02)))
    design = named(units="mm", requires=requires, tooth_forms=(named(name=ref("fine")), named(name=ref("coarse"))))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(train_binds, "binding", lambda design, derived: found)
        patch.setattr(train_binds, "binding_labels", lambda design, derived, binding: ())
        patch.setattr(train_binds, "binding_remedy", lambda design, binding, most: f"at most {most:g}")
        return list(train_binds.check(design, named(train=named(meshes=held, loops=loops))))


def test_trains_that_bind_too_often() -> None:
    # 0.0625 is one in 16; five percent itself is allowed.
    (item,) = trains(0.0625)
    assert item.message.startswith("about 1 in 16 trains made to these tolerances would bind somewhere in a turn (6.25 percent of 100000 drawn, seed 20);")
    assert item.message.endswith("; 5 percent is allowed")
    # The likeliest mesh, which need not be the first.
    assert (item.remedy, start(item.span)) == ("at most 0.05", 61) and item.parts == ("hub–east", "hub", "east", "fine", "coarse")
    assert not trains(0.05) and not trains(None) and trains(0.0501) and trains(0.999)[0].message.startswith("nearly every train made to")


def test_what_is_said_elsewhere_of_a_train_that_binds() -> None:
    ring = LoopState(("a", "b"), False, 0.3, 0.2)
    assert not trains(0.2, bound(), bound(0.2, 0.2)) and trains(0.2, bound(0.21, 0.2))
    assert not trains(0.2, loops=(replace(ring, odd=True), ring)) and trains(0.2, loops=(replace(ring, odd=True), replace(ring, residual_mm=0.1)))
    binding_limit, travel = Require("binding", high=0.1), Require("travel", low=5.0)
    assert trains(0.08, requires=(travel, binding_limit)) and not trains(0.12, requires=(travel, binding_limit))
