"""Every example, spoilt in ways that people and editors spoil files, through the whole pipeline: findings, never a fault."""

from __future__ import annotations

import re

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.hard_use import EXAMPLES, SHARED, run

from trivet.outputs import Wanted, outputs

TEXTS = tuple(
    path.read_text(encoding="utf-8").replace('read "shared/shop.trivet"', SHARED["shared/shop.trivet"].decode("utf-8"))
    for path in EXAMPLES
)
NUMBER = re.compile(r"\d+(?:\.\d+)?")
PIECE = re.compile(r"\s+|\w+|[^\w\s]")
VALUES = (
    "0",
    "-1",
    "1",
    "3",
    "0.001",
    "16.5",
    "1000",
    "99999",
    "100000",
    "1000000000",
    "1000000000000",
    "1e400",
    "nan",
    "3/4",
    "7..3",
    "M8",
)
FACTORS = (0.01, 0.1, 0.5, 0.9, 1.1, 1.5, 2.0, 10.0, 100.0, -1.0)


def _number(text: str, at: int, value: str) -> str:
    numbers = list(NUMBER.finditer(text))
    if not numbers:
        return text
    number = numbers[at % len(numbers)]
    return text[: number.start()] + value + text[number.end() :]


def _scaled(text: str, at: int, factor: float) -> str:
    numbers = list(NUMBER.finditer(text))
    return _number(text, at, f"{float(numbers[at % len(numbers)][0]) * factor:g}") if numbers else text


def _moved(parts: list[str], at: int, to: int, how: str) -> list[str]:
    if not parts:
        return parts
    at, to = at % len(parts), to % len(parts)
    changed = list(parts)
    if how == "delete":
        del changed[at]
    elif how == "duplicate":
        changed.insert(to, parts[at])
    else:
        changed[at], changed[to] = parts[to], parts[at]
    return changed


@st.composite
def spoilt(draw: st.DrawFn) -> str:
    """An example after one to four changes."""
    text = draw(st.sampled_from(TEXTS))
    place = st.integers(0, 10**6)
    for _ in range(draw(st.integers(1, 4))):
        kind = draw(st.sampled_from(("number", "scaled", "line", "piece")))
        if kind == "number":
            text = _number(text, draw(place), draw(st.sampled_from(VALUES)))
        elif kind == "scaled":
            text = _scaled(text, draw(place), draw(st.sampled_from(FACTORS)))
        else:
            how = draw(st.sampled_from(("delete", "duplicate", "swap")))
            parts = text.splitlines(keepends=True) if kind == "line" else PIECE.findall(text)
            text = "".join(_moved(parts, draw(place), draw(place), how))
    return text


@settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(TEXTS), st.integers(0, 10**6), st.sampled_from(FACTORS))
def test_what_can_be_derived_can_be_written(text: str, at: int, factor: float) -> None:
    """A model that exists can be drawn and listed, as a draft where errors stand."""
    result = run(_scaled(text, at, factor))
    if result.design is not None and result.derived is not None:
        made = outputs(result.design, result.derived, result.findings, {"fixture.trivet": text}, {}, Wanted(plain=True, draft=True))
        assert "manifest.json" in made


@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(spoilt())
def test_spoilt_examples_are_answered(text: str) -> None:
    run(text)
