"""Generated violations of each rule, and their sound neighbours; what is missed or blamed wrongly, one line each."""

from __future__ import annotations

from functools import cache
from random import Random

from tests.fixture_text import NAME
from tests.laws.borders import Border
from tests.laws.violations_feet import FEET_RULES
from tests.laws.violations_hardware import HARDWARE
from tests.laws.violations_keepers import KEEPER_RULES
from tests.laws.violations_more import MORE
from tests.laws.violations_other import OTHER
from tests.laws.violations_reach import REACH
from tests.laws.violations_rings import RINGS
from tests.laws.violations_train import TRAIN
from tests.laws.violations_wood import WOOD

from trivet.checks._check import all_checks, run_checks
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.inputs import load_library, read_parts
from trivet.lower.lower import lower
from trivet.solve.solve import solve
from trivet.source import SourceFile

_TABLES = (TRAIN, RINGS, FEET_RULES, KEEPER_RULES, HARDWARE, WOOD, MORE, OTHER, REACH)
GENERATORS: dict[str, tuple[Border, ...]] = {
    slug: tuple(border for table in _TABLES for border in table.get(slug, ()))
    for slug in sorted({slug for table in _TABLES for slug in table})
}

_library = cache(load_library)


def found_by(slug: str, text: str) -> list[Diagnostic]:
    """What the one check says of a text, in a full run where it has one. AssertionError where the text does not hold together."""
    source = SourceFile(NAME, text)
    parts, read = read_parts(source, MemoryFiles({NAME: text}), None)
    design, found = lower(parts, _library, {})
    assert design is not None, [item.message for item in (*read, *found)]
    (check,) = (item for item in all_checks() if item.rule.slug == slug)
    got = run_checks(design, solve(design), checks=(check,))
    assert all(item.rule in (slug, *(rule.slug for rule in check.more_rules)) for item in got), [item.message for item in got]
    return [item for item in got if item.rule == slug]


def texts(slug: str, count: int, seed: int, violating: bool) -> list[str]:
    """So many fixtures, of all borders of the rule in turn."""
    rng = Random(f"{slug} {seed} {violating}")
    borders = [item for item in GENERATORS[slug] if (item.bad if violating else item.good) is not None]
    return [borders[index % len(borders)].text(rng, violating) for index in range(count if borders else 0)]


def misses(slug: str, count: int, seed: int = 0, show: bool = False) -> list[str]:
    """One line for each violation that is not found and each sound neighbour that is blamed; with `show`, the fixture too."""
    lines = []
    for violating in (True, False):
        for text in texts(slug, count if violating else max(2, count // 3), seed, violating):
            try:
                got = found_by(slug, text)
            except AssertionError as error:
                lines.append(f"{slug}: the fixture does not hold together: {str(error)[:300]}" + show * f"\n{text}")
                continue
            if violating and not got:
                lines.append(f"{slug}: a violation is not found" + show * f"\n{text}")
            if not violating and got:
                lines.append(f"{slug}: a sound fixture is blamed: {got[0].message}" + show * f"\n{text}")
    return lines
