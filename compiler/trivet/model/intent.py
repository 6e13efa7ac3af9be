"""What the author wants and accepts, and what lies in the drawer."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import Ref
from trivet.record import field, record
from trivet.source import Origin
from trivet.units import Quantity

RequireKind = Literal["travel", "height_covers", "lift_per_turn", "flush_within", "face_overlap", "turns_for_travel", "binding"]


@record
class Require:
    """A figure that must be reached: at least `low`, at most `high` (program's own unit; None is open). `unit` is the writer's."""

    kind: RequireKind
    low: float | None = None
    high: float | None = None
    unit: str = "mm"
    strict: bool = False
    origin: Origin | None = field(default=None, compare=False)


@record
class Accept:
    """A finding that the author accepts: rule, the part it is about (or all), and why."""

    rule: Ref
    because: str
    on: Ref | None = None
    origin: Origin | None = field(default=None, compare=False)


@record
class Have:
    """Hardware in the drawer: preferred, and subtracted from what to buy."""

    quantity: int
    standard: str
    thread: str
    length_mm: float | None = None
    origin: Origin | None = field(default=None, compare=False)


@record
class Helper:
    """A shop aid to be cut with the parts."""

    kind: Literal["guide_block", "shims", "centring_bar"]
    origin: Origin | None = field(default=None, compare=False)


@record
class Parameter:
    """A number (or a choice of threads) that `--set` may change, within its range; `bounds` is the range as written."""

    name: Ref
    text: str
    unit: str
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    origin: Origin | None = field(default=None, compare=False)
    bounds: tuple[Quantity, Quantity] | None = None
