"""One finding where the same thing is wrong with equal gears: the others are named and stand as related places."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import TypeVar

from trivet.checks._check import place
from trivet.checks._train import named
from trivet.diagnostics import Label
from trivet.source import Origin

Item = TypeVar("Item")
# More places than these are only counted.
MOST_PLACES = 4


def grouped(items: Iterable[tuple[Hashable, Item]]) -> tuple[tuple[Item, ...], ...]:
    """The items of each key, in the order they come."""
    found: dict[Hashable, list[Item]] = {}
    for key, item in items:
        found.setdefault(key, []).append(item)
    return tuple(tuple(held) for held in found.values())


def too(names: Iterable[str]) -> str:
    """Such as "; `b` and `c` too"; empty where there is no other."""
    others = list(dict.fromkeys(names))
    return f"; {named(others)} too" if others else ""


def also_here(places: Iterable[tuple[str, Origin | None]]) -> tuple[Label, ...]:
    """Labels for the others, by name; those that stand at one place share one label."""
    at: dict[Origin | None, list[str]] = {}
    for name, origin in places:
        at.setdefault(place(origin), []).append(name)
    return tuple(
        Label(f"the same holds for {named(dict.fromkeys(names))}", place(origin))
        for origin, names in list(at.items())[:MOST_PLACES]
    )
