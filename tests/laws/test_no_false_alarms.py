"""Fixtures that are right by construction: no check finds an error, and no warning that the generator does not know of.

`python -m tests.benchmarks.corpus` runs many more of them.
"""

from __future__ import annotations

from collections import Counter

import pytest
from tests.laws.sound_texts import drawn, known_warnings, sound_text
from tests.laws.whole import checked

SEEDS = range(240)
BATCH = 20


@pytest.mark.parametrize("first", SEEDS[::BATCH])
def test_no_false_alarms(first: int) -> None:
    for seed in range(first, first + BATCH):
        text = sound_text(seed)
        result = checked(text)
        assert result.derived is not None, (seed, result.findings)
        found = {(item.severity, item.rule): item.message for item in result.findings if item.severity != "note"}
        known = {("warning", rule) for rule in known_warnings(text)}
        assert {key: words for key, words in found.items() if key not in known} == {}, seed
        assert known <= set(found), (seed, "the generator believes in a warning that does not come")


def test_the_corpus_is_wide() -> None:
    """Every layout, kind of foot, count of feet and unit system is there several times."""
    counts: Counter[str] = Counter()
    for seed in SEEDS:
        made = drawn(seed)
        counts.update((made.layout.kind, made.kind, f"{len(made.layout.feet)} feet"))
        counts["inch hardware"] += made.inch_hardware
        counts["inch units"] += made.inch_units
        counts["laminated gears"] += made.gear_layers > 1
        counts["two boards"] += made.two_boards
        counts["skirt"] += made.skirt
    wanted = [
        "cross",
        "arms",
        "line",
        "ring",
        "compound",
        "riding",
        "captured_nut",
        "sliding_hex",
        "3 feet",
        "4 feet",
        "5 feet",
        "6 feet",
    ]
    wanted += ["inch hardware", "inch units", "laminated gears", "two boards", "skirt"]
    assert {name: counts[name] for name in wanted if counts[name] < 4} == {}


def test_a_spoilt_fixture_is_found() -> None:
    """The same texts are not silent because nothing looks: one length made wrong is found in each that has it."""
    found = 0
    for seed in SEEDS[:20]:
        text = sound_text(seed)
        spoilt = text.replace("backlash ", "backlash 0.05 mm # ")
        found += any(item.rule == "mesh-binds" for item in checked(spoilt).findings)
    assert found == 20
