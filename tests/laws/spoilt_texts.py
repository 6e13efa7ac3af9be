"""Fixtures with several faults at once: rich ones with numbers made larger or smaller, and the base with edits of several rules together.

Nobody says of them what must be found. They are there to go through every branch: no text may end in a fault of the compiler, and no
figure may change unseen (`tests/test_everything.py`).
"""

from __future__ import annotations

import re
from functools import cache
from random import Random

from tests.hard_use import EXAMPLES, SHARED
from tests.inch_fixture import INCH_FIXTURE
from tests.laws.sound_texts import sound_text
from tests.messages.build import INCHES, whole
from tests.stranger_fixtures import RING, SHELF, SIX_FEET, SOCKETS
from tests.test_messages import CASES, MORE

from trivet.checks._check import all_checks
from trivet.checks._examples import example_text

FACTORS = (0.5, 0.7, 0.85, 0.95, 0.98, 1.02, 1.05, 1.2, 1.4, 2.0)
# How many of the numbers of a text are changed, and how many edits are made of the base.
TWEAKS, EDITS = (1, 1, 2, 3, 4), (3, 4, 5, 6, 8)
_NUMBER = re.compile(r"(?<![\w.,/\-])(\d+(?:\.\d+)?)(?= (?:mm|in|deg|N|kg)\b)|(?<=teeth )(\d+)|(?<=layers )(\d+)|(?<=, )(\d+\.\d+)(?=,|\n)")


@cache
def _rich() -> tuple[str, ...]:
    """Examples with what they read put in its place, and fixtures of other tests."""
    shared = {name: data.decode() for name, data in SHARED.items()}
    found = [SHELF, SIX_FEET, RING, SOCKETS, INCH_FIXTURE]
    for path in EXAMPLES:
        text = path.read_text("utf-8")
        for name, held in shared.items():
            text = re.sub(rf'^read "{re.escape(name)}".*\n', "", text, flags=re.MULTILINE) + (held if f'"{name}"' in text else "")
        found.append(text)
    return tuple(found)


@cache
def _edits() -> tuple[str, ...]:
    pages = [text for item in all_checks() for text in (item.rule.failing, item.rule.passing)]
    return tuple(text.strip("\n") for text in (*pages, *(case.edits for case in (*CASES, *MORE))) if not whole(text))


def spoilt_text(seed: int) -> str:
    """The text of a seed; some do not hold together."""
    rng = Random(f"spoilt {seed}")
    kind = rng.choice(("edited", "edited", "edited", "rich", "sound"))
    if kind == "edited":
        return _tweaked(rng, _edited(rng), rng.choice((0, 0, 1, 2)))
    text = rng.choice(_rich()) if kind == "rich" else sound_text(rng.randrange(1000, 2000))
    return _tweaked(rng, text, rng.choice(TWEAKS))


def _edited(rng: Random) -> str:
    """The base with as many of the edits as find their lines still there, in inches once in five times."""
    done = INCHES if rng.random() < 0.2 else ""
    for edit in rng.sample(_edits(), rng.choice(EDITS)):
        # What is added without a line to stand after comes to the end, wherever the edits before it were made.
        tried = f"{edit}\n{done}" if edit.startswith("+") else f"{done}{edit}\n"
        try:
            example_text(tried)
        except ValueError:
            continue
        done = tried
    return example_text(done)


def _tweaked(rng: Random, text: str, count: int) -> str:
    places = list(_NUMBER.finditer(text))
    for place in sorted(rng.sample(places, min(count, len(places))), key=lambda found: -found.start()):
        value = float(place[0]) * rng.choice(FACTORS)
        new = f"{value:.3f}".rstrip("0").rstrip(".") if place[1] or place[4] else str(max(1, round(value)))
        text = text[: place.start()] + new + text[place.end() :]
    return text
