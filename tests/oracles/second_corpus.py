"""What the second calculation works on: some of the generated sound fixtures, chosen for variety, and those written by hand."""

from __future__ import annotations

from functools import cache, lru_cache

from tests.laws.sound_texts import drawn, sound_text
from tests.oracles.second_texts import HAND

from trivet.files import MemoryFiles
from trivet.inputs import load_library, read_parts
from trivet.lower.lower import lower
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.solve import solve
from trivet.source import SourceFile

SEEDS = range(240)


@cache
def chosen() -> tuple[int, ...]:
    """The first seed of each layout with each kind of foot, and of each extra that goes with it."""
    seen: set[tuple[object, ...]] = set()
    found = []
    for seed in SEEDS:
        made = drawn(seed)
        sorts = [
            (made.layout.kind, made.kind, made.gear_layers > 1),
            (made.inch_hardware, made.inch_units, made.two_boards, made.skirt),
            (made.kind, made.board_layers),
            (made.inch_hardware, made.gear_layers),
        ]
        if not seen.issuperset(sorts):
            found.append(seed)
            seen.update(sorts)
    return tuple(found)


NAMES = (*HAND, *(f"seed{seed}" for seed in chosen()))


@cache
def text_of(name: str) -> str:
    return HAND[name] if name in HAND else sound_text(int(name.removeprefix("seed")))


_library = cache(load_library)


@cache
def design_of(name: str) -> Design:
    """The validated model."""
    text = text_of(name)
    parts, read = read_parts(SourceFile(f"{name}.trivet", text), MemoryFiles({f"{name}.trivet": text}), None)
    design, found = lower(parts, _library, {})
    assert design is not None, [item.message for item in (*read, *found)]
    return design


# One only: each test solves its fixture by itself.
@lru_cache(maxsize=1)
def solved(name: str) -> tuple[Design, Derived]:
    """The design and what the solver derives."""
    return design_of(name), solve(design_of(name))
