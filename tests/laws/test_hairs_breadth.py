"""Every rule with a border in numbers finds what lies a hair's breadth beyond it, says where and by how much, and is silent a hair before it."""

from __future__ import annotations

import pytest
from tests.laws.hairs import found, line_of, spoken
from tests.laws.hairs_inches import INCHES
from tests.laws.hairs_more import MORE
from tests.laws.hairs_names import NAMES
from tests.laws.hairs_rest import REST
from tests.laws.hairs_shop import SHOP
from tests.laws.hairs_strokes import HARDWARE
from tests.laws.hairs_train import TRAIN
from tests.laws.hairs_wood import WOOD

from trivet.checks._check import all_checks

HAIRS = (*WOOD, *SHOP, *HARDWARE, *TRAIN, *REST, *MORE)
BY_NAME = {f"{item.rule}: {item.what}": item for item in HAIRS}
FIRST = {item.rule: name for name, item in reversed(BY_NAME.items())}
IN_INCHES = [name for name, hair in BY_NAME.items() if hair.has_inches]


@pytest.mark.parametrize("name", BY_NAME)
def test_just_beyond(name: str) -> None:
    hair = BY_NAME[name]
    items = found(hair.rule, hair.text(hair.bad))
    assert len(items) == hair.count, [item.message for item in items]
    (rule,) = (check.rule for check in all_checks() if check.rule.slug == hair.rule)
    assert items[0].severity == (hair.severity or rule.severity)
    assert line_of(items[0]) == hair.line.replace("{v}", hair.bad)
    if FIRST[hair.rule] == name:
        assert sorted(items[0].parts) == NAMES[hair.rule].split()
    for words in hair.says:
        assert words.replace("{v}", hair.bad) in spoken(items[0])


@pytest.mark.parametrize("name", [name for name, hair in BY_NAME.items() if hair.good])
def test_just_before(name: str) -> None:
    hair = BY_NAME[name]
    items = found(hair.rule, hair.text(hair.good))
    assert {item.severity for item in items} == ({hair.then} if hair.then else set()), [item.message for item in items]


@pytest.mark.parametrize("name", IN_INCHES)
def test_in_inches(name: str) -> None:
    """The same numbers, exactly, in inches: the border lies where it lay, and the message speaks inches."""
    hair = BY_NAME[name]
    items = found(hair.rule, hair.text(hair.bad, inches=True))
    assert len(items) == hair.count and " in" in items[0].message, [item.message for item in items]
    for words in INCHES.get(name, ()):
        assert words in spoken(items[0])
    if hair.good:
        items = found(hair.rule, hair.text(hair.good, inches=True))
        assert {item.severity for item in items} == ({hair.then} if hair.then else set()), [item.message for item in items]


def test_names_differ() -> None:
    assert len(BY_NAME) == len(HAIRS)
    assert set(INCHES) <= set(IN_INCHES)
    assert set(NAMES) == set(FIRST)
