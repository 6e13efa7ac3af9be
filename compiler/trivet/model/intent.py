"""What the author wants and accepts, and what lies in the drawer."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import From, Named, Noun

RequireKind = Literal["travel", "height_covers", "lift_per_turn", "flush_within", "face_overlap", "turns_for_travel", "binding"]


class Require(Noun):
    """A figure that must be reached: at least `low`, at most `high` (program's own unit; None is open). `unit` is the writer's."""

    kind: RequireKind
    low: float | None = None
    high: float | None = None
    unit: str = "mm"
    strict: bool = False
    origin: From = None


class Accept(Noun):
    """A finding that the author accepts: rule, the part it is about (or all), and why."""

    rule: Named
    on: Named | None = None
    because: str
    origin: From = None


class Have(Noun):
    """Hardware in the drawer: preferred, and subtracted from what to buy."""

    quantity: int
    standard: str
    thread: str
    length_mm: float | None = None
    origin: From = None


class Helper(Noun):
    """A shop aid to be cut with the parts."""

    kind: Literal["guide_block", "shims", "centring_bar"]
    origin: From = None


class Parameter(Noun):
    """A number (or a choice of threads) that `--set` may change, within its range."""

    name: Named
    text: str
    unit: str
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    origin: From = None
