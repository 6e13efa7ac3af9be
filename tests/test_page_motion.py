"""What the page moves, as a browser shows it: heights, turns, teeth and sections against the report."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from pathlib import Path

import pytest
from tests import page_tab
from tests.browser_driver import Browser
from tests.page_samples import CHOSEN, NAMES, report_of
from tests.page_scripts import GEARS, SECTION, millimetres, move

# The page prints two decimals of a millimetre.
PRINTED_MM = 0.006

tab = pytest.fixture(scope="module")(page_tab.tab)
folder = pytest.fixture(scope="module")(page_tab.folder)


def _tooth_error_deg(tips: list[list[float]], teeth: int, direction_deg: float) -> float:
    """How far the nearest tooth's middle is from a direction; teeth end in two corners or one point."""
    angles = sorted(math.degrees(math.atan2(y, x)) % 360 for x, y in tips)
    pitch = 360 / teeth
    # The mean of all corners within one pitch, on the circle of that pitch, is the middle of a tooth.
    total = sum(complex(math.cos(math.radians(angle * teeth)), math.sin(math.radians(angle * teeth))) for angle in angles)
    middle = math.degrees(math.atan2(total.imag, total.real)) / teeth
    away = (direction_deg - middle) % pitch
    return min(away, pitch - away)


@pytest.mark.parametrize("name", CHOSEN)
def test_heights_turns_and_teeth_are_the_reports(tab: Browser, folder: Path, name: str) -> None:
    """Tooth centres measured in the drawing stand where phase and ratio put them, at both ends and between."""
    report = report_of(name)
    lift, gears = report["lift"], report["gears"]
    tab.size(1440)
    tab.open(folder / f"{name}.html")
    last = int(tab.run("document.getElementById('slider').max"))
    assert last == math.ceil(lift["turns_for_travel"] * 64)
    sense = {"clockwise": -1, "anticlockwise": 1}[lift["raises_when"]]
    for step in (0, 1, 64, last // 2, last - 1, last):
        move(tab, step)
        turns = min(step / 64, lift["turns_for_travel"])
        height = lift["height_max_mm"] if step == last else lift["height_min_mm"] + turns * lift["per_turn_mm"]
        assert millimetres(tab.run("document.getElementById('height').textContent")) == pytest.approx(height, abs=PRINTED_MM)
        assert millimetres(tab.run("document.getElementById('slider').getAttribute('aria-valuetext')")) == pytest.approx(
            height, abs=PRINTED_MM
        )
        drawn = tab.run(GEARS)
        assert len(drawn) == len(gears)
        for gear in gears:
            there = [
                item for item in drawn
                if math.hypot(item["x"] - gear["x_mm"], item["y"] - gear["y_mm"]) < 0.01
                and abs(2 * item["tip"] - gear["tip_diameter_mm"]) < 0.01
            ]  # fmt: skip
            expected = gear["phase_deg"] + sense * gear["direction"] * gear["turns_per_drive_turn"] * 360 * turns
            errors = [_tooth_error_deg(item["tips"], gear["teeth"], expected) for item in there]
            # A thousandth of a millimetre at the tip of the smallest gear is 0.002 degrees.
            assert errors and min(errors) < 0.01, (step, gear["id"], errors)
            dots = [math.degrees(math.atan2(*reversed(item["dot"]))) for item in there]
            whole = min(abs((expected - dot + 180) % 360 - 180) % (360 / gear["teeth"]) for dot in dots)
            assert min(whole, 360 / gear["teeth"] - whole) < 0.05


def test_a_turn_of_the_drive_turns_its_mark_once(tab: Browser, folder: Path) -> None:
    """A quarter turn is no whole number of pitches on every gear: the mark tells what teeth alone cannot."""
    tab.open(folder / "outfeed_riser.html")
    drive = next(index for index, item in enumerate(tab.run(GEARS)) if (item["x"], item["y"]) == (240, 175))
    angles = []
    for step in (0, 16, 32, 64):
        move(tab, step)
        x, y = tab.run(GEARS)[drive]["dot"]
        angles.append(math.degrees(math.atan2(y, x)))
    turned = [(angle - angles[0]) % 360 for angle in angles]
    # Raises when turned clockwise, so angles fall.
    assert turned == pytest.approx([0, 270, 180, 0], abs=0.1) or turned[-1] == pytest.approx(360, abs=0.1)


@pytest.mark.parametrize("name", NAMES)
def test_the_section_shares_height_as_the_report_says(tab: Browser, folder: Path, name: str) -> None:
    """Face overlap of every mesh shown and thread of every foot shown, at both ends, in words and in the drawing."""
    report = report_of(name)
    overlaps = {frozenset(mesh["gears"]): mesh["face_overlap_mm"] for mesh in report["meshes"]}
    threads = {foot["id"]: foot["engagement_mm"] for foot in report["feet"]}
    tab.open(folder / f"{name}.html")
    rise = report["lift"]["height_max_mm"] - report["lift"]["height_min_mm"]
    for key, step, raised in (("at_least", 0, 0.0), ("at_most", 10**6, rise)):
        move(tab, step)
        read = tab.run("[...document.querySelectorAll('.read li')].map(item => item.textContent)")
        seen = 0
        for line in read:
            mesh = re.match(r"Teeth of (\S+) and (\S+) share", line)
            foot = re.match(r"(\S+) holds by", line)
            if mesh:
                assert millimetres(line) == pytest.approx(overlaps[frozenset(mesh.groups())][key], abs=PRINTED_MM), line
            elif foot:
                assert millimetres(line) == pytest.approx(threads[foot[1]][key], abs=PRINTED_MM), line
            seen += 1
        drawn = tab.run("[...document.querySelectorAll('rect.overlap')].map(mark => Number(mark.getAttribute('height')))")
        said = [millimetres(line) for line in read if line.startswith("Teeth")]
        assert drawn == pytest.approx(said, abs=PRINTED_MM) and seen
        moved = tab.run("[...document.querySelectorAll('[id$=-rises]')].map(part => part.transform.baseVal.consolidate().matrix.f)")
        assert moved == pytest.approx([-raised] * len(moved), abs=1e-3)


def test_keys_move_it(tab: Browser, folder: Path) -> None:
    """1/64 of a turn by arrows, 1/8 by pages, the ends by Home and End; what is read out follows."""
    tab.open(folder / "outfeed_riser.html")
    tab.run("document.getElementById('slider').focus()")
    reading = "document.getElementById('height').textContent"
    for key, height in (
        ("ArrowRight", 38.8 + 1 / 64),
        ("PageUp", 38.8 + 1 / 64 + 1 / 8),
        ("PageDown", 38.8 + 1 / 64),
        ("End", 48.1),
        ("Home", 38.8),
    ):
        tab.key(key)
        # Lift 1 mm a turn (0.8 of M8's 1.25 mm, ISO 261), from 38.8 to 48.1 mm: as the README prints.
        assert millimetres(tab.run(reading)) == pytest.approx(height, abs=PRINTED_MM), key
    tab.run("document.querySelector('[data-steps=\"64\"]').click()")
    assert millimetres(tab.run(reading)) == pytest.approx(39.8, abs=PRINTED_MM)
    tab.run("new Promise(done => setTimeout(done, 600))")
    assert "39.8 mm" in tab.run("document.getElementById('live').textContent")
    assert "39.8 mm" in tab.run("document.getElementById('plan-desc').textContent")


@pytest.mark.parametrize("name", NAMES)
def test_the_section_is_true_to_scale(tab: Browser, folder: Path, name: str) -> None:
    """The feet stand on the bench, the work surface at its height, the axes as far apart as their gears' centres."""
    report = report_of(name)
    lift = report["lift"]
    apart = [mesh["centre_distance_mm"] for mesh in report["meshes"]]
    tab.open(folder / f"{name}.html")
    for step, height in ((0, lift["height_min_mm"]), (10**6, lift["height_max_mm"])):
        move(tab, step)
        for section in tab.run(SECTION):
            assert section["low"] == pytest.approx(0, abs=0.002)
            assert section["work"] == pytest.approx(height, abs=0.002)
            assert section["axes"][0] == 0
            for one, other in pairwise(section["axes"]):
                assert min(abs(other - one - distance) for distance in apart) < 0.002
