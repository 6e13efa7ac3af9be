"""The small values that nouns are made of, and the types of their fields."""

from __future__ import annotations

from typing import Annotated, Any

from trivet.model.noun import Checked as Checked
from trivet.model.noun import Noun as Noun
from trivet.record import field, record
from trivet.source import Origin
from trivet.units import DIMENSION_WORDS, Quantity


@record
class Ref:
    """A name as used or declared, with its place."""

    text: str
    origin: Origin | None = field(default=None, compare=False)

    def __str__(self) -> str:
        return self.text


@record
class Point:
    """A place in the world frame, mm: x to the right, y away from you, seen from above; the origin is the first board's lower left."""

    x: float
    y: float
    origin: Origin | None = field(default=None, compare=False)


@record
class Band:
    """A length that varies: its mean and its limits, mm."""

    mean: float
    least: float
    most: float
    origin: Origin | None = field(default=None, compare=False)

    @property
    def spread(self) -> float:
        """most - least."""
        return self.most - self.least


def exactly(mm: float, origin: Origin | None = None) -> Band:
    """A length that does not vary."""
    return Band(mm, mm, mm, origin)


def _quantity(dimension: str, low: float | None, strict: bool, whole: bool) -> Any:
    def validate(value: object) -> Quantity:
        if not isinstance(value, Quantity) or value.dimension != dimension:
            raise ValueError(f"expects {DIMENSION_WORDS[dimension]}")
        if low is not None and (value.base <= low if strict else value.base < low):
            limit = "more than" if strict else "at least"
            raise ValueError(f"is {value}; {limit} {low:g} is required")
        if whole and value.number.denominator != 1:
            raise ValueError(f"is {value}; a whole number is required")
        return value

    return Checked(validate)


def _instance(kind: type) -> Any:
    def validate(value: object) -> object:
        if not isinstance(value, kind):
            raise ValueError(f"expects a {kind.__name__}")
        return value

    return Checked(validate)


Length = Annotated[Quantity, _quantity("length", None, False, False)]
PositiveLength = Annotated[Quantity, _quantity("length", 0, True, False)]
NonNegativeLength = Annotated[Quantity, _quantity("length", 0, False, False)]
Angle = Annotated[Quantity, _quantity("angle", None, False, False)]
PositiveAngle = Annotated[Quantity, _quantity("angle", 0, True, False)]
Ratio = Annotated[Quantity, _quantity("ratio", None, False, False)]
PositiveRatio = Annotated[Quantity, _quantity("ratio", 0, True, False)]
Count = Annotated[Quantity, _quantity("ratio", 1, False, True)]
Force = Annotated[Quantity, _quantity("force", None, False, False)]
PositiveTorque = Annotated[Quantity, _quantity("torque", 0, True, False)]
PerLength = Annotated[Quantity, _quantity("per length", 0, True, False)]
Named = Annotated[Ref, _instance(Ref)]
Place = Annotated[Point, _instance(Point)]
Varying = Annotated[Band, _instance(Band)]
From = Annotated[Any, Checked(lambda value: value)]
