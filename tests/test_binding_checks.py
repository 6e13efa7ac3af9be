"""What is said of the chance that a train binds: words, the rule, the requirement, and what a plain check leaves out."""

from __future__ import annotations

import re

import pytest
from tests.edited_base import findings, of_rule, only
from tests.fixture_text import NAME

from trivet.checks._examples import example_text
from trivet.files import MemoryFiles
from trivet.pipeline import check
from trivet.solve.binding import DRAWS, SEED, Binding
from trivet.solve.binding_words import chance_words, eased_words, part_words, percent_words, remedies_words, risk_words
from trivet.source import SourceFile


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.0, "less than 1 in 10000"),
        (0.0001, "about 1 in 10000"),
        (0.0029, "about 1 in 340"),
        (0.052, "about 1 in 19"),
        (1 / 12, "about 1 in 12"),
        (0.25, "about 1 in 4"),
        (0.42, "about 4 in 10"),
        (0.94, "about 9 in 10"),
        (0.96, "nearly every one"),
    ],
)
def test_chances_in_words(chance: float, words: str) -> None:
    assert chance_words(chance) == words


def test_percent_keeps_the_digits_that_differ() -> None:
    assert (percent_words(0.0501), percent_words(0.05)) == ("5.01 percent", "5 percent")


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.02, "a little"), (0.11, "a tenth"), (0.26, "a quarter"), (0.5, "half"), (0.66, "two thirds"), (0.7, "two thirds"), (0.99, "nearly all")],
)
def test_shares_in_words(share: float, words: str) -> None:
    assert part_words(share) == words


def test_what_carries_the_risk_and_its_cure() -> None:
    """One in twelve, of which insert tilt carries two thirds; a guide bore would leave one in 250."""
    found = Binding(
        1 / 12,
        DRAWS,
        SEED,
        (),
        (("insert tilt", 1 / 36), ("hole position", 1 / 18), ("moisture", 0.0833)),
        (("all centres 0.14 mm further apart", 0.001, ()), ("a guide bore", 1 / 250, ("insert tilt",)), ("no help", 1 / 12, ())),
    )
    assert risk_words(found) == "without insert tilt two thirds of the risk would be gone, without hole position a third"
    # The cure against what carries most, though another would do more.
    assert eased_words(found) == "two thirds would be gone without insert tilt; a guide bore would leave about 1 in 250"
    assert remedies_words(found) == ("all centres 0.14 mm further apart would leave about 1 in 1000", "a guide bore would leave about 1 in 250")
    assert eased_words(Binding(0.0, DRAWS, SEED, ())) == "" == risk_words(Binding(0.0, DRAWS, SEED, ()))


def tight_base(backlash: str, *more: str) -> str:
    return "\n".join((f"- backlash 0.5 mm\n+   backlash {backlash}", *more))


def test_rule_names_chance_limit_and_what_would_do() -> None:
    item = only("train-binds", tight_base("0.36 mm"))
    assert f"seed {SEED}" in item.message and f"of {DRAWS} drawn" in item.message and item.message.endswith("5 percent is allowed")
    assert "`backlash 0.45 mm` in the tooth form" in item.remedy
    assert "bores with half the clearance would leave about 1 in " in item.remedy
    assert re.search(r"all centres 0\.14 mm further apart would leave about 1 in \d+; a guide bore .* would leave about 1 in \d+;", item.remedy)
    assert re.search(r"without profile offset [a-z ]+ of the risk would be gone, without insert tilt [a-z ]+, without hole ", item.remedy)
    assert not of_rule("train-binds", tight_base("0.45 mm"))


def test_no_echo_of_a_mesh_that_binds() -> None:
    rules = {item.rule for item in findings(tight_base("0.3 mm"))}
    assert "mesh-binds" in rules and "train-binds" not in rules


def test_requirement_is_judged_in_full_runs() -> None:
    assert not of_rule("require-not-met", "+ require binding <= 5 percent")
    assert not of_rule("require-not-run", "+ require binding <= 5 percent")
    item = only("require-not-met", tight_base("0.4 mm", "+ require binding <= 1 percent"))
    assert "at most 1 percent is required" in item.message and "about 1 in " in item.message
    assert "`backlash 0.5 mm` in the tooth form" in item.remedy
    # A limit that is stated and not kept says it all.
    rules = [item.rule for item in findings(tight_base("0.36 mm", "+ require binding <= 1 percent"))]
    assert "require-not-met" in rules and "train-binds" not in rules


def test_a_plain_check_says_that_it_was_not_run() -> None:
    text = example_text(tight_base("0.36 mm", "+ require binding <= 1 percent"))
    found = check(SourceFile(NAME, text), MemoryFiles({NAME: text})).findings
    notes = [item for item in found if item.rule == "require-not-run"]
    assert len(notes) == 1 and "--full" in notes[0].message and notes[0].severity == "note"
    assert not [item for item in found if item.rule in ("train-binds", "require-not-met")]
