"""Who breaks a constant, a sign or a comparison sees red: slips of the pen in `solve/` and `checks/`, each with the one test that is to catch it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from tests.mutation.mutants import ROOT
from tests.mutation.warm import Home

FEET, TRAIN, HARDWARE, TEXT = (f"tests/sharp/test_sharp_{name}.py::test_" for name in ("feet", "train", "hardware", "text"))
# Where, what stands there, what is written instead, and the test.
SLIPS = (
    ("solve/foot_case", "TIP_BELOW_MM = 0.5", "TIP_BELOW_MM = 0.4", f"{FEET}longest_screw_of_a_foot_stays_under_the_topside"),
    ("solve/foot_sliding_hex", "0.6 * head_mm", "0.5 * head_mm", f"{FEET}head_that_must_stay_in_the_socket"),
    ("solve/thread_zone", "board.top_mm + proud - length", "board.top_mm - proud - length", f"{FEET}insert_standing_out_of_the_topside"),
    ("solve/face_overlap", "max(stated, default=None)", "min(stated, default=None)", f"{FEET}of_two_stated_overlaps_the_greater_counts"),
    ("solve/mesh_geometry", "(backlash / radii[0], ", "(backlash / radii[1], ", f"{TRAIN}the_smaller_gear_turns_further_in_its_play"),
    ("solve/gear_size", "return self.addendum_coefficient - ", "return 1.0 - ", f"{TRAIN}short_teeth_need_less_shift"),
    ("solve/web_openings", "apart < diameter + HUB_WALL_MM", "apart < diameter", f"{HARDWARE}holes_of_a_web_leave_wood_between_them"),
    ("solve/web_openings", "diameter > room.width_mm", "diameter >= room.width_mm", f"{HARDWARE}holes_of_a_web_fit_between_hub_and_rim"),
    ("solve/board_feet", "2.0 * PIN_OUT * pin", "PIN_OUT * pin", f"{HARDWARE}slot_of_a_cross_pin"),
    ("solve/phases", "in_half_pitch=2.0 * residual", "in_half_pitch=residual", f"{HARDWARE}residual_of_a_ring_in_half_pitches"),
    ("checks/meshed_gears_differ", "zip((a, b), forms", "zip((b, a), forms", f"{HARDWARE}each_gear_is_named_with_its_own_teeth"),
    ("checks/part_larger_than_sheet", "tips[whole], tips[whole])", "tips[whole] / 2, tips[whole] / 2)", f"{TEXT}gear_wider_than_its_sheet"),
)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Home]:
    made = Home(tmp_path_factory.mktemp("mutants") / "home")
    yield made
    made.close()


def test_without_a_slip_all_are_green(home: Home) -> None:
    path = "compiler/trivet/solve/foot_case.py"
    assert home.run(path, (ROOT / path).read_text("utf-8"), sorted({test for *_, test in SLIPS})) == "passed"


@pytest.mark.parametrize(("where", "right", "wrong", "test"), SLIPS, ids=[f"{item[0]}: {item[2]}" for item in SLIPS])
def test_slip_is_caught(home: Home, where: str, right: str, wrong: str, test: str) -> None:
    path = f"compiler/trivet/{where}.py"
    text = (ROOT / path).read_text("utf-8")
    assert text.count(right) == 1, f"`{right}` is no longer in {path}: name another place"
    # Red by an assertion of that test, not by a file that cannot be imported.
    assert home.run(path, text.replace(right, wrong), [test]).startswith(f"failed {test}")
