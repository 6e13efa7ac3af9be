"""Twice the text takes at most 2.3 times the steps, in each phase; steps are calls of functions, so that no clock decides."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import cache
from types import FrameType
from typing import Any

import pytest
from tests.benchmarks.many_gears import many_gears

from trivet.checks._check import run_checks
from trivet.fmt.format import format_text
from trivet.inputs import load_library
from trivet.lower.entries import Part
from trivet.lower.lower import lower
from trivet.model.design import Design
from trivet.outputs import Wanted, outputs
from trivet.solve.derived import Derived
from trivet.solve.solve import solve
from trivet.source import SourceFile
from trivet.syntax.parse import parse

MOST = 2.3
SMALL, LARGE = 48, 96

_library = cache(load_library)


def steps(work: Callable[[], object]) -> int:
    """Calls of functions, Python's own included, while `work` runs."""
    count = 0

    def counted(frame: FrameType, event: str, argument: Any) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(counted)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count


def _source(count: int) -> SourceFile:
    return SourceFile("many.trivet", many_gears(count))


@cache
def _lowered(count: int) -> Design:
    design, found = lower((Part(parse(_source(count))[0], "main"),), _library, {})
    assert design is not None and not found, found
    assert len(design.gears) == count
    return design


@cache
def _solved(count: int) -> Derived:
    return solve(_lowered(count))


def _parse(count: int) -> Callable[[], object]:
    return lambda: parse(_source(count))


def _format(count: int) -> Callable[[], object]:
    return lambda: format_text(_source(count))


def _lower(count: int) -> Callable[[], object]:
    document = parse(_source(count))[0]
    return lambda: lower((Part(document, "main"),), _library, {})


def _solve(count: int) -> Callable[[], object]:
    design = _lowered(count)
    return lambda: solve(design)


def _check(count: int) -> Callable[[], object]:
    design, derived = _lowered(count), _solved(count)
    return lambda: list(run_checks(design, derived))


def _write(count: int) -> Callable[[], object]:
    design, derived = _lowered(count), _solved(count)
    return lambda: outputs(design, derived, (), {}, {}, Wanted())


@pytest.mark.parametrize("phase", [_parse, _format, _lower, _solve, _check, _write], ids=lambda phase: phase.__name__.strip("_"))
def test_twice_the_gears_take_at_most_2_3_times_the_steps(phase: Callable[[int], Callable[[], object]]) -> None:
    small, large = phase(SMALL), phase(LARGE)
    phase(8)()  # what is loaded or kept on first use is no part of the count
    once, twice = steps(small), steps(large)
    assert once > SMALL
    assert twice <= MOST * once, f"{once} steps for {SMALL} gears, {twice} for {LARGE}: {twice / once:.2f} times"


def test_steps_tell_a_loop_in_a_loop() -> None:
    def pairs(count: int) -> Callable[[], object]:
        return lambda: [abs(a - b) for a in range(count) for b in range(count)]

    assert steps(pairs(LARGE)) > MOST * steps(pairs(SMALL))
