"""The frozen base of every noun, and the small values that nouns are made of."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from trivet.record import field, record
from trivet.source import Origin
from trivet.units import DIMENSION_WORDS, Quantity

# Fields that say where something was written: no part of equality.
_PLACES = frozenset({"origin", "origins", "module_origin"})


class Noun(BaseModel):
    """Frozen, nothing extra allowed; schemas are built when first used, since most files use few of the nouns."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, defer_build=True)

    def __eq__(self, other: object) -> bool:
        """Equal in everything but the places where it was written."""
        if type(other) is not type(self):
            return NotImplemented
        mine, theirs = self.__dict__, other.__dict__
        return all(mine[name] == theirs[name] for name in mine if name not in _PLACES)

    def __hash__(self) -> int:
        return hash(tuple(value for name, value in self.__dict__.items() if name not in _PLACES))


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


class Checked:
    """Marks a field's type as validated by one function and nothing else.

    The library's own marker builds a schema of the type it replaces as well, which costs more than all our validation.
    """

    def __init__(self, validate: Callable[[object], object]) -> None:
        self._validate = validate

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._validate)


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
PerLength = Annotated[Quantity, _quantity("per length", 0, True, False)]
Named = Annotated[Ref, _instance(Ref)]
Place = Annotated[Point, _instance(Point)]
Varying = Annotated[Band, _instance(Band)]
From = Annotated[Any, Checked(lambda value: value)]
