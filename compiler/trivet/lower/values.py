"""What expressions come to: quantities, places, designations and texts."""

from __future__ import annotations

from fractions import Fraction

from trivet.record import record
from trivet.source import Span
from trivet.units import Quantity


@record
class PlaceValue:
    """x and y in mm, exact. `absolute`: in the world frame; otherwise a step, or a place in the frame of the statement's board."""

    x: Fraction
    y: Fraction
    absolute: bool


@record
class DesignationValue:
    """A thread or size designation that a parameter stands for."""

    text: str
    span: Span


@record
class StandardUse:
    """A standard as a fact names it, with the product where the standard covers several and a size where one is given."""

    text: str
    span: Span
    product: str = ""
    size: str = ""
    size_span: Span | None = None


Value = Quantity | PlaceValue | DesignationValue
