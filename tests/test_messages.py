"""The words of findings: whole reports of the failing example of every rule, in millimetres and inches, and of further cases.

Each golden file holds the rules of one family. A change of a message, number, place, remedy or part shows as a line there: read it as the
woodworker who gets it, work the number out from the text of the case (`tests/messages/`), and run again with `--update`.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from tests.conftest import GOLDEN, SIZE_CAP, Golden
from tests.messages.build import family, further, slips
from tests.messages.case import Case
from tests.messages.feet import CASES as OF_FEET
from tests.messages.feet import FEET, STROKES
from tests.messages.hardware import BOLTS, KEEPERS, PIVOTS
from tests.messages.hardware import CASES as OF_HARDWARE
from tests.messages.meshes import CASES as OF_MESHES
from tests.messages.meshes import MESHES
from tests.messages.rings import CASES as OF_RINGS
from tests.messages.rings import PLACES, TRAIN
from tests.messages.teeth import CASES as OF_TEETH
from tests.messages.teeth import TEETH
from tests.messages.text import SLIPS
from tests.messages.use import CASES as OF_USE
from tests.messages.use import LOADS, MORE, REQUIRED
from tests.messages.wood import CASES as OF_WOOD
from tests.messages.wood import CUTS, SHEETS, WALLS

from trivet.checks._check import all_checks

FAMILIES = {
    "teeth": TEETH,
    "meshes": MESHES,
    "train": TRAIN,
    "places": PLACES,
    "strokes": STROKES,
    "feet": FEET,
    "bolts": BOLTS,
    "pivots": PIVOTS,
    "keepers": KEEPERS,
    "walls": WALLS,
    "cuts": CUTS,
    "sheets": SHEETS,
    "loads": LOADS,
    "required": REQUIRED,
}
CASES = (*OF_TEETH, *OF_MESHES, *OF_RINGS, *OF_FEET, *OF_HARDWARE, *OF_WOOD, *OF_USE)


RULES = [(name, slug) for name, slugs in FAMILIES.items() for slug in slugs]
FURTHER = GOLDEN / "messages_required_more.txt"


def parts_of(path: Path, heads: Sequence[str]) -> dict[str, str]:
    """What a golden file holds under each beginning of a heading."""
    blocks = [f"## {block}" for block in (path.read_text("utf-8") if path.exists() else "").split("## ")[1:]]
    return {head: "".join(block for block in blocks if block.startswith(head)) for head in heads}


def compare(request: pytest.FixtureRequest, path: Path, heads: Sequence[str], head: str, text: str) -> None:
    """A part of a golden file with the same made anew; `--update` rewrites that part."""
    if request.config.getoption("--update"):
        path.write_text("".join((parts_of(path, heads) | {head: text}).values()), "utf-8")
    assert parts_of(path, heads)[head] == text


def heads_of(name: str) -> list[str]:
    return [f"## {slug}:" for slug in FAMILIES[name]]


@pytest.mark.parametrize(("name", "slug"), RULES)
def test_messages(name: str, slug: str, request: pytest.FixtureRequest) -> None:
    """As in `messages_NAME.txt`: one test for each rule, so that a change points at it."""
    (item,) = (item for item in all_checks() if item.rule.slug == slug)
    compare(request, GOLDEN / f"messages_{name}.txt", heads_of(name), f"## {slug}:", family((item,), CASES) + "\n")


@pytest.mark.parametrize("case", MORE, ids=lambda case: case.title)
def test_further_requirements(case: Case, request: pytest.FixtureRequest) -> None:
    """As in `messages_required_more.txt`."""
    (item,) = (item for item in all_checks() if item.rule.slug == case.rule)
    heads = [f"## {other.rule}: {other.title}\n" for other in MORE]
    compare(request, FURTHER, heads, f"## {case.rule}: {case.title}\n", further(item, (case,)) + "\n")


@pytest.mark.parametrize("name", FAMILIES)
def test_golden_file(name: str) -> None:
    """It holds the rules of its family and nothing else, and is short enough to read."""
    path = GOLDEN / f"messages_{name}.txt"
    assert "".join(parts_of(path, heads_of(name)).values()) == path.read_text("utf-8")
    assert path.stat().st_size <= SIZE_CAP and FURTHER.stat().st_size <= SIZE_CAP


def test_slips(golden: Golden) -> None:
    """As in `messages_text.txt`."""
    golden("messages_text.txt", slips(SLIPS).encode())


def test_every_rule_has_its_family() -> None:
    """A new rule gets a place in `FAMILIES`, by way of the lists in `tests/messages/`."""
    listed = [slug for slugs in FAMILIES.values() for slug in slugs]
    assert sorted(listed) == sorted({item.rule.slug for item in all_checks()})
    assert {case.rule for case in CASES} <= set(listed)
    assert len({(case.rule, case.title) for case in CASES}) == len(CASES)
