"""Small records that stand in for a fixture's, with places that can be told apart: the one at `at(7)` begins at the seventh letter."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from tests.designs import mm

from trivet.diagnostics import Diagnostic
from trivet.model.base import Ref
from trivet.model.intent import Require
from trivet.solve.gear_size import ToothGeometry
from trivet.source import SourceFile, Span
from trivet.units import Quantity

FILE = SourceFile("f.trivet", "x" * 200)


def named(**values: Any) -> Any:
    """A record of just these values."""
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    """A place."""
    return Span(FILE, start, start + 1)


def require(kind: Any, low: float | None = None, high: float | None = None, **facts: Any) -> Require:
    """What is asked for, stated at the tenth letter."""
    return Require(kind, low, high, origin=at(9), **facts)


def ref(name: str, start: int | None = None) -> Ref:
    """A name, written at a place or nowhere."""
    return Ref(name, None if start is None else at(start))


def length(number: float | str, start: int | None = None) -> Quantity:
    """A length in mm, written at a place or nowhere."""
    return mm(number).at(None if start is None else at(start))


def starts(item: Diagnostic) -> tuple[int | None, list[int | None]]:
    """Where a finding stands, and its related places."""
    return start(item.span), [start(label.span) for label in item.related]


def start(span: Span | None) -> int | None:
    """Where a place begins."""
    return None if span is None else span.start


def gear(name: str, teeth: ToothGeometry, place: int = 0, **facts: Any) -> Any:
    """The state of a gear."""
    noun = named(name=ref(name, place), teeth=named(origin=at(place + 1)), z=teeth.teeth, profile_shift=None, tooth_form=ref("form"))
    return named(id=name, geometry=teeth, gear=noun, **facts)


def mesh(a: str, b: str, place: int = 60, stated: int | None = None, **figures: Any) -> Any:
    """The state of a mesh; it stands where it names its second gear."""
    distance = None if stated is None else length(108, stated)
    return named(id=f"{a}–{b}", a=a, b=b, mesh=named(b=ref(b, place), origin=None, centre_distance=distance), **figures)


def trained(gears: tuple[Any, ...], meshes: tuple[Any, ...] = ()) -> Any:
    """What is derived of a train."""
    return named(train=named(gears=gears, meshes=meshes, gear={item.id: item for item in gears}.__getitem__, loops=()))


MM: Any = named(units="mm")
