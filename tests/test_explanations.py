"""Explanations: every number of the report is worked out again from places and rows, by the formula that is printed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.fixture_text import compiled
from tests.oracles.test_climbers_sampled import edits
from tests.test_use_stop import PLAY, TALL, THROUGH

from trivet.checks._check import all_checks
from trivet.checks._examples import example_text
from trivet.commands._report_for import report_for
from trivet.files import DiskFiles
from trivet.pipeline import Compilation, check
from trivet.rules import all_rules
from trivet.source import LibraryRow, SourceFile, Span
from trivet.tables.explanation import Number, in_order, reported
from trivet.tables.explanation_all import NOT_EXPLAINED, TOGETHER, all_entries
from trivet.tables.explanation_entries import entries
from trivet.tables.formula import put_in, shown, work_out

SLUGS = sorted(item.rule.slug for item in all_checks())
ROOT = Path(__file__).resolve().parents[1]
FIXTURES = [*sorted((ROOT / "examples").glob("*.trivet")), *sorted((ROOT / "grammar").glob("start_*.trivet"))]
RISER = "examples/outfeed_riser.trivet"
# A riser by the page that beginners write from, in ways that the examples do not have: shifts, stated distances, two tooth forms' lines.
ODD = """\
fixture odd
read "shared/shop.trivet"
tooth_form long
  module 4 mm
  pressure_angle 25 deg
  backlash 0.4 mm
  tip_shortening 0.2 mm
board top
  outline rectangle 300 by 300 mm
gear hub
  tooth_form long
  teeth 12
  profile_shift 0.3
  at top.centre
  turned_by crank
gear ne, sw
  tooth_form long
  teeth 20
  carries corner
gear nw, se
  tooth_form long
  teeth 20
  profile_shift -0.1
  carries corner
mesh hub
  with ne at 45 deg, centre_distance 66 mm
  with nw at 135 deg
  with sw at 225 deg, centre_distance 66 mm
  with se at 315 deg
"""


# What no example has: two loads beside the middle, metal under a cut zone, a flush that is asked for, a drawer, shop aids; a stop; idlers that climb.
LOADED = """
+ 
+ load tool
+   force 300 N at (100, 250) mm
+ 
+ load clamp
+   force 100 N at (150, 150) mm
+ 
+ cut_zone kerf
+   into deck
+   edge left, width 90 mm, depth 2 mm
+ 
+ require flush within 0.5 mm
+ have 2 of ISO 4017 M8, length 30 mm
+ helper shims
+ helper guide_block
+ helper centring_bar
"""
SMALL_MACHINE = "- teeth 16\n+   teeth 16\n+   machine small\n- backlash 0.5 mm\n+   backlash 0.5 mm\n+ \n+ machine small\n+   work_area 600 by 400 mm\n"
BOLTED = (
    "- thread ST6.3\n+   thread M6\n- screw ISO 7049, head recessed 7 mm\n+   bolt ISO 4017, head recessed 6 mm\n"
    "+   nut ISO 4032, above board, recessed 8 mm\n"
)
# Its pivot is named by the lower of its two gears.
ABOVE = "+ \n+ gear lower\n+   teeth 16\n+   on_shaft_with east, above\n"
VARIANTS = {
    "bolted": example_text(BOLTED),
    "above": example_text(ABOVE),
    "sawn": example_text(SMALL_MACHINE),
    "loaded": example_text(LOADED),
    "stopped": example_text(THROUGH + TALL.format(drop=30) + PLAY + "+   stop\n"),
    "climbing": edits("M8", 1, 1.0, 25, 20, 30.0),
    "climbing_left": edits("M10", -1, 1.0, 30, 20, 30.0),
}


def _checked(path: Path) -> Compilation:
    files = DiskFiles()
    source = files.read(str(path))
    assert isinstance(source, SourceFile), source
    return check(source, files)


def _odd() -> Compilation:
    files = DiskFiles()
    return check(SourceFile(str(ROOT / "examples" / "odd.trivet"), ODD), files)


def _numbers(value: object, path: tuple[str | int, ...]) -> Iterator[tuple[str | int, ...]]:
    """Paths of all numbers."""
    if isinstance(value, dict):
        for key, held in value.items():
            yield from _numbers(held, (*path, key))
    elif isinstance(value, (list, tuple)):
        for index, held in enumerate(value):
            yield from _numbers(held, (*path, index))
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        yield path


def _holds(result: Compilation) -> tuple[int, set[str]]:
    """Every number of the report has an explanation, and that gives the number; how many, and the paths that have none."""
    design, derived = result.design, result.derived
    assert design is not None and derived is not None, [item.message for item in result.findings]
    every = all_entries(design, derived)
    whole = report_for(design, derived, every)
    made = [entry for entry in every if entry.path]
    for entry in made:
        number, value = entry.explain(), reported(whole, entry.path)
        assert isinstance(value, (int, float)), entry
        assert math.isclose(number.value, value, rel_tol=0, abs_tol=1e-9), (entry.quantity, entry.parts, value, number)
        seen: dict[str, float] = {}
        for item in in_order(number):
            # One symbol stands for one number within an explanation.
            assert math.isclose(seen.setdefault(item.symbol, item.value), item.value, abs_tol=1e-9), (entry, item.symbol)
            assert item.formula or item.how or item.origin is not None or item.source, (entry, item)
            assert item.source or not (item.formula or item.how), (entry, item)
    # What stands on drawings and cards only has no value here to be held against.
    assert all(math.isfinite(entry.explain().value) for entry in every if not entry.path)
    paths = {entry.path for entry in made}
    assert len(paths) == len(made)
    missing = {".".join(map(str, path)) for path in _numbers(whole, ()) if path not in paths}
    return len(made), missing


@pytest.mark.parametrize("path", FIXTURES, ids=lambda path: path.stem)
def test_every_number_of_the_report_is_explained(path: Path) -> None:
    count, missing = _holds(_checked(path))
    assert count > 150
    assert not {path for path in missing if path.rpartition(".")[2] not in NOT_EXPLAINED}


@pytest.mark.parametrize("name", VARIANTS)
def test_every_number_that_examples_lack_is_explained(name: str) -> None:
    count, missing = _holds(compiled(VARIANTS[name]))
    assert count > 150 and not missing


def test_numbers_that_no_example_has() -> None:
    """Profile shifts, stated centre distances and a shortened tip take other formulas."""
    result = _odd()
    count, missing = _holds(result)
    assert count > 150 and not missing
    assert result.derived is not None and {state.geometry.profile_shift for state in result.derived.train.gears} == {-0.1, 0.0, 0.3}


@pytest.mark.parametrize("slug", SLUGS[::9])
def test_numbers_of_fixtures_with_faults(slug: str) -> None:
    """What can be derived of a fixture with a fault is explained as well, and gives the same numbers."""
    result = compiled(example_text(all_rules()[slug].failing))
    if result.derived is not None and result.derived.train.gears:
        assert _holds(result)[0] > 60


def test_the_reference_names_every_quantity() -> None:
    """Exactly the quantities that some example has, and the words that ask for several."""
    known = set(TOGETHER)
    for result in (*map(_checked, FIXTURES), *map(compiled, VARIANTS.values())):
        assert result.design is not None and result.derived is not None
        known |= {entry.quantity for entry in all_entries(result.design, result.derived)}
    text = (ROOT / "grammar" / "reference.md").read_text(encoding="utf-8")
    section = text[text.index("`explain QUANTITY PART --in FILE` prints") :].split("\n\n")[0]
    listed = {word for line in section.splitlines()[1:] for word in re.findall(r"`([a-z_]+)`", line)}
    # Words of a limit and names of an example's parts.
    assert listed - {"most", "thread_leaves_insert", "hard", "dog"} == known


def test_what_is_left_out_is_named_in_the_readme() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    after = text[text.index("## Not yet") :]
    assert all(f"`{key}`" in after for key in NOT_EXPLAINED)


def test_formulas_are_worked_out_as_printed() -> None:
    """The values are those of arithmetic and of trigonometry: 108 mm between 16 and 20 teeth of module 6, inv 20° = 0.014904."""
    assert work_out("m · (z1 + z2) / 2", {"m": 6, "z1": 16, "z2": 20}) == 108
    assert (
        put_in("m · (z1 + z2) / 2 − x_corner.nw", {"m": 6, "z1": 16, "z2": 20, "x_corner.nw": -1.5}) == "6 · (16 + 20) / 2 − (−1.5)"
    )
    # SDP/SI, Elements of Metric Gear Technology, Table of the involute function: inv 20° = 0.0149044 (from memory; seven places).
    assert abs(work_out("inv(a)", {"a": 20}) - 0.0149044) < 5e-8
    assert abs(work_out("arcinv(0.0149044)", {}) - 20) < 1e-3
    assert work_out("max(0, −2) + min(3, 4) − mod(−30, 360) / 10 + rss(3, 4)^2", {}) == 0 + 3 - 33 + 25
    assert abs(work_out("π · cos(60) + acos(0.5) + atan2(1, 0)", {}) - (math.pi / 2 + 60 + 90)) < 1e-12
    assert shown(-0.0000001) == "0" and shown(-2.5) == "−2.5" and shown(37.4) == "37.4"


def _plain(text: str) -> float:
    """A printed formula with its numbers, by Python's own arithmetic and functions: another reader than the program's."""
    names = {
        "cos": lambda a: math.cos(a * math.pi / 180),
        "sin": lambda a: math.sin(a * math.pi / 180),
        "tan": lambda a: math.tan(a * math.pi / 180),
        "acos": lambda x: math.acos(max(-1, min(1, x))) * 180 / math.pi,
        "atan2": lambda y, x: math.atan2(y, x) * 180 / math.pi,
        "inv": lambda a: math.tan(a * math.pi / 180) - a * math.pi / 180,
        "asin": lambda x: math.asin(max(-1, min(1, x))) * 180 / math.pi,
        "longest": lambda low, high, *held: max(mm for mm in held if low - 1e-5 <= mm <= high + 1e-5),
        "shortest": lambda low, high, *held: min(mm for mm in held if low - 1e-5 <= mm <= high + 1e-5),
        "sqrt": math.sqrt, "floor": math.floor, "max": max, "min": min, "abs": abs,
        "mod": lambda x, y: x - y * math.floor(x / y),
        "rss": lambda *values: math.sqrt(sum(value**2 for value in values)),
    }  # fmt: skip
    code = text.replace("·", "*").replace("−", "-").replace("^", "**").replace("π", repr(math.pi))
    return float(eval(code, {"__builtins__": {}}, names))


@pytest.mark.parametrize("name", ["outfeed_riser", "fine_lift", "inch_table"])
def test_the_numbers_put_in_give_the_number_shown(name: str) -> None:
    """What a reader computes from the printed line is the printed value, within the six decimals that are printed."""
    result = _checked(ROOT / "examples" / f"{name}.trivet")
    assert result.design is not None and result.derived is not None
    done: set[int] = set()
    for entry in all_entries(result.design, result.derived):
        for item in in_order(entry.explain()):
            if item.formula and "arcinv" not in item.formula and id(item) not in done:
                done.add(id(item))
                scale = 1e-6 * max(1.0, *(abs(held.value) for held in item.inputs), 1.0)
                # At 6 decimals of its inputs a phase of 360/z and one of 0 are one.
                assert abs(_plain(item.with_numbers) - item.value) < 100 * scale, (item.formula, item.with_numbers, item.value)
    assert len(done) > 200


# What a search or a choice gives, not one formula: a phase of a whole pitch, the largest cutter, the room to the bench, a socket's depth
# against the gear's, places and screws of stand-offs, dowels that found room, and where metal is highest of all combinations.
SEARCHED = re.compile(r"phase$|D_most_|L_most$|D_right|k_|z_metal$|at_[xy]$|(D|L)_pilot$|L_recess$|L_buy$")


@pytest.mark.parametrize("path", FIXTURES, ids=lambda path: path.stem)
def test_limits_follow_from_their_formulas(path: Path) -> None:
    """A formula that no longer gives the solver's number would be replaced by words: no limit of an example is."""
    result = _checked(path)
    assert result.design is not None and result.derived is not None
    formulas = 0
    for entry in entries(result.design, result.derived):
        for item in in_order(entry.explain()):
            assert item.formula or not item.how or SEARCHED.match(item.symbol), item
            formulas += bool(item.formula) and item.symbol.startswith("e_")
    assert formulas > 10


def test_every_given_number_has_a_place_a_row_or_a_reason() -> None:
    result = _checked(ROOT / RISER)
    assert result.design is not None and result.derived is not None
    leaves: list[Number] = []
    for entry in entries(result.design, result.derived):
        leaves += [item for item in in_order(entry.explain()) if not item.formula and not item.how]
    assert any(isinstance(item.origin, Span) for item in leaves) and any(isinstance(item.origin, LibraryRow) for item in leaves)
    assert all(item.origin is not None or item.source for item in leaves)
