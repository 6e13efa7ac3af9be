"""No figure of the compiler changes unseen: a mark of all that it works out of each text of the corpus, findings, solids, outlines and all.

The marks say nothing about what is right: the oracles, the laws and the messages do. Where one changes, print what has changed
(`python -m tests.everything RULE NUMBER` before and after, laid side by side), find out why, and run with `--update -k test_marks`.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from tests.conftest import GOLDEN, SIZE_CAP
from tests.corpus import Text, of_rule, sound, spoilt
from tests.everything import everything, mark

from trivet.checks._check import all_checks

RULES = {item.rule.slug: of_rule(item.rule.slug) for item in all_checks()}
BATCH = 8
SOUND = {f"sound-{first:03}": sound(first, BATCH) for first in range(0, 120, BATCH)}
SPOILT = {f"spoilt-{first:03}": spoilt(first, BATCH) for first in range(0, 240, BATCH)}
FILES = {"everything_rules.txt": RULES, "everything_sound.txt": SOUND, "everything_spoilt.txt": SPOILT}


def places(path: str) -> list[object]:
    """One for each mark of a file."""
    return [
        pytest.param(path, name, number, id=f"{name}-{number}{'-full' * text.full}")
        for name, texts in FILES[path].items()
        for number, text in enumerate(texts)
    ]


def marks_of(path: Path) -> dict[str, list[str]]:
    """The marks by the first word of their line."""
    lines = path.read_text("ascii").splitlines() if path.exists() else ()
    return {words[0]: words[1:] for words in map(str.split, lines)}


def update(path: Path, lines: Mapping[str, tuple[Text, ...]]) -> None:
    """Make all marks of a file anew."""
    path.write_text("".join(" ".join((name, *(mark(everything(*text)) for text in texts))) + "\n" for name, texts in lines.items()))


@pytest.mark.parametrize(("path", "name", "number"), [*places("everything_rules.txt"), *places("everything_sound.txt")])
def test_everything(path: str, name: str, number: int) -> None:
    """As the place in the line has it."""
    kept = marks_of(GOLDEN / path)[name]
    assert mark(everything(*FILES[path][name][number])) == kept[number]


@pytest.mark.parametrize(("path", "name", "number"), places("everything_spoilt.txt"))
def test_several_faults(path: str, name: str, number: int) -> None:
    """The same of fixtures with several faults at once; none may end in a fault of the compiler."""
    test_everything(path, name, number)


@pytest.mark.parametrize("path", FILES)
def test_marks(path: str, request: pytest.FixtureRequest) -> None:
    """A mark for each text and nothing else; equal ones of different sound texts would show that nothing is looked at."""
    if request.config.getoption("--update"):
        update(GOLDEN / path, FILES[path])
    kept = marks_of(GOLDEN / path)
    assert {name: len(marks) for name, marks in kept.items()} == {name: len(texts) for name, texts in FILES[path].items()}
    assert (GOLDEN / path).stat().st_size <= SIZE_CAP
    if path == "everything_sound.txt":
        assert len({item for marks in kept.values() for item in marks}) == len(kept) * BATCH


def test_a_hair_changes_the_mark() -> None:
    """A thousandth of a millimetre in the text, and a finding's word, are seen."""
    text = SOUND["sound-000"][0].text
    before = everything(text)
    assert mark(before) == mark(everything(text))
    moved = text.replace("backlash 0.7595 mm", "backlash 0.7605 mm")
    assert moved != text and mark(everything(moved)) != mark(before)
    assert mark(before | {"found": [*before["found"], ""]}) != mark(before)
