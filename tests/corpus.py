"""The texts of all other tests in one place: of each rule, those that it finds and those that it does not; the sound and the spoilt ones."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from tests.laws.hairs_more import MORE as HAIRS_MORE
from tests.laws.hairs_rest import REST
from tests.laws.hairs_shop import SHOP
from tests.laws.hairs_train import TRAIN
from tests.laws.hairs_wood import WOOD
from tests.laws.sound_texts import sound_text
from tests.laws.spoilt_texts import spoilt_text
from tests.laws.test_hairs_breadth import HARDWARE
from tests.laws.violations import GENERATORS, texts
from tests.messages.build import in_inches
from tests.test_messages import CASES, MORE

from trivet.checks._check import all_checks
from trivet.checks._examples import example_text

HAIRS = (*WOOD, *SHOP, *HARDWARE, *TRAIN, *REST, *HAIRS_MORE)
SEED = 77


class Text(NamedTuple):
    """A fixture, and whether it is worth a full run."""

    text: str
    full: bool


def of_rule(slug: str) -> tuple[Text, ...]:
    """The page's examples, cases of the messages in both units, what lies a hair on the wrong side, one generated text for each border."""
    return tuple(_of_rule(slug))


def _of_rule(slug: str) -> Iterator[Text]:
    (check,) = (item for item in all_checks() if item.rule.slug == slug)
    always = check.full_only
    yield Text(example_text(check.rule.failing), True)
    yield Text(example_text(check.rule.passing), False)
    other = in_inches(check.rule.failing)
    if other is not None:
        yield Text(example_text(other), always)
    yield from (Text(example_text(case.edits), always or case.full) for case in (*CASES, *MORE) if case.rule == slug)
    yield from (Text(hair.text(hair.bad), always) for hair in HAIRS if hair.rule == slug)
    borders = len(GENERATORS.get(slug, ()))
    yield from (Text(text, always) for text in (texts(slug, borders, SEED, True) if borders else ()))


def sound(first: int, count: int) -> tuple[Text, ...]:
    """Fixtures that are right by construction, every fourth in full."""
    return tuple(Text(sound_text(seed), seed % 4 == 0) for seed in range(first, first + count))


def spoilt(first: int, count: int) -> tuple[Text, ...]:
    """Fixtures with several faults, every fourth in full."""
    return tuple(Text(spoilt_text(seed), seed % 4 == 0) for seed in range(first, first + count))


def named(name: str, number: str) -> Text:
    """The text of a mark in `tests/golden/everything_*.txt`: the first word of its line, and its place in it, from 0."""
    kind, _, first = name.rpartition("-")
    return {"sound": sound, "spoilt": spoilt}[kind](int(first) + int(number), 1)[0] if first.isdigit() else of_rule(name)[int(number)]
