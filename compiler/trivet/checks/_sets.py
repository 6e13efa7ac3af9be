"""Findings about a set (a foot, a pivot, a drive) are made once, not once for each gear that has one of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol, TypeVar


class HasId(Protocol):
    """A state of one member: its id is the set's name, a dot and the gear's."""

    @property
    def id(self) -> str:
        """Such as `pin.west`."""
        ...


Member = TypeVar("Member", bound=HasId)


def by_set(members: Iterable[Member]) -> Iterator[tuple[str, tuple[Member, ...]]]:
    """The members of each set, in the order they come."""
    found: dict[str, list[Member]] = {}
    for member in members:
        found.setdefault(member.id.partition(".")[0], []).append(member)
    for name, held in found.items():
        yield name, tuple(held)


def ids(members: Iterable[HasId]) -> tuple[str, ...]:
    """Their ids, for a finding's parts."""
    return tuple(member.id for member in members)
