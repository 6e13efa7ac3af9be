"""Every rule finds generated violations of its own, and is silent on their sound neighbours across the border.

Borders are worked out by hand beside each generator. `python -m tests.benchmarks.corpus` runs more of each.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from tests.laws.violations import GENERATORS, misses, texts
from tests.test_clearance_variants import RULES as CLEARANCE

from trivet.checks._check import all_checks

COUNT = 6
SLUGS = (Path(__file__).parent.parent / "golden" / "slugs.txt").read_text("utf-8").split()


@pytest.mark.parametrize("slug", sorted(GENERATORS))
def test_rule(slug: str) -> None:
    assert misses(slug, COUNT) == []


def test_every_rule_has_violations() -> None:
    """Here or beside the rules of clearance; `checks/` and the list of shipped slugs name the same rules."""
    assert sorted({*GENERATORS, *CLEARANCE}) == SLUGS == sorted(check.rule.slug for check in all_checks())


@pytest.mark.parametrize("slug", sorted(GENERATORS))
def test_variants_differ(slug: str) -> None:
    """Twenty violations are twenty texts, or nearly: a generator that draws nothing proves nothing."""
    assert len(set(texts(slug, 20, 1, violating=True))) >= 15


def test_disguises_keep_the_meaning() -> None:
    """Other names, another order and inches: the base is as silent as it was."""
    from tests.fixture_text import check_text
    from tests.laws.borders import disguised

    from trivet.checks._examples import BASE

    for seed in range(4):
        text = disguised(Random(seed), BASE)
        assert [item.message for item in check_text(text) if item.severity != "note"] == []


def test_a_module_in_inches_meshes_with_the_same_in_mm() -> None:
    """0.23622 in is 6 mm to five digits: no finding, and all that a full run works out stays whole."""
    from tests.fixture_text import compiled
    from tests.laws.violations_train import own_foot

    from trivet.checks._examples import example_text

    form = "tooth_form inches\n  module 0.23622 in\n  backlash 0.5 mm\n"
    text = example_text(own_foot("se", "teeth 20", "tooth_form inches", "carries corner")) + "\n" + form
    found = compiled(text)
    assert found.derived is not None
    assert [item.message for item in found.findings if item.severity != "note"] == []
    spoilt = text.replace("0.23622 in", "0.2364 in")
    assert "meshed-gears-differ" in [item.rule for item in compiled(spoilt).findings]
