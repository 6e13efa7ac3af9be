"""The frozen base of every noun: what is plainly of the type of its field is taken, and pydantic judges all else.

Importing pydantic and building its schemas costs more than parsing, solving and checking a fixture. Nearly every value that `lower` gives
is of the very type that its field names, so that is looked at here; `judged` is asked about the others: what it converts is taken as
converted, what it refuses is refused in its words.
"""

from __future__ import annotations

import typing
from collections.abc import Callable, Mapping
from functools import cache
from types import NoneType, UnionType
from typing import Any, ClassVar, Self, dataclass_transform

# Fields that say where something was written: no part of equality.
_PLACES = frozenset({"origin", "origins", "module_origin", "turned_with_origin", "stop_origin"})
_NOTHING: Any = object()

Take = Callable[[Any], Any]


class Checked:
    """Marks a field's type as validated by one function and nothing else; the function raises ValueError for what it refuses.

    The library's own marker builds a schema of the type it replaces as well, which costs more than all our validation.
    """

    def __init__(self, validate: Callable[[object], object]) -> None:
        self.validate = validate

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        from pydantic_core import core_schema

        return core_schema.no_info_plain_validator_function(self.validate)


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Noun:
    """Frozen, nothing extra allowed. Raises pydantic's ValidationError, which is a ValueError, for values that its fields do not allow."""

    model_fields: ClassVar[tuple[str, ...]] = ()
    _defaults: ClassVar[Mapping[str, Any]] = {}

    def __init_subclass__(cls) -> None:
        names = tuple(cls.__dict__.get("__annotations__", {}))  # noqa: RUF063 - importing inspect costs more than all nouns
        cls.model_fields = (*cls.model_fields, *names)
        cls._defaults = {**cls._defaults, **{name: cls.__dict__[name] for name in names if name in cls.__dict__}}

    def __init__(self, **given: Any) -> None:
        cls: Any = type(self)
        values: dict[str, Any] = {}
        known = 0
        try:
            for name, take in _takes_of(cls).items():
                value = given.get(name, _NOTHING)
                if value is not _NOTHING:
                    known += 1
                    values[name] = take(value)
                else:
                    values[name] = cls._defaults[name]
            plain = known == len(given)
        except (ValueError, KeyError):
            plain = False
        if not plain:
            from trivet.model.judged import judged

            values = judged(cls, given)
        self.__dict__.update(values)

    def model_copy(self, *, update: Mapping[str, Any] | None = None) -> Self:
        """A copy with some fields changed; as with pydantic's, the changes are not validated."""
        made = object.__new__(type(self))
        made.__dict__.update(self.__dict__)
        made.__dict__.update(update or {})
        return made

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"cannot change {name} of a {type(self).__name__}: nouns are frozen")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"cannot change {name} of a {type(self).__name__}: nouns are frozen")

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in self.__dict__.items())})"

    def __eq__(self, other: object) -> bool:
        """Equal in everything but the places where it was written."""
        if type(other) is not type(self):
            return NotImplemented
        mine, theirs = self.__dict__, other.__dict__
        return all(mine[name] == theirs[name] for name in mine if name not in _PLACES)

    def __hash__(self) -> int:
        return hash(tuple(value for name, value in self.__dict__.items() if name not in _PLACES))


def hints(cls: type) -> dict[str, Any]:
    """The types of a noun's fields, by name in order."""
    found = typing.get_type_hints(cls, include_extras=True)
    return {name: found[name] for name in cls.model_fields}  # type: ignore[attr-defined]  # set by Noun on each class


@cache
def _takes_of(cls: Any) -> dict[str, Take]:
    return {name: _take(hint) for name, hint in hints(cls).items()}


def _take(hint: Any) -> Take:
    """What gives a value of this type back, and raises ValueError for one that pydantic must judge."""
    if hint is Any:
        return lambda value: value
    origin, parts = typing.get_origin(hint), typing.get_args(hint)
    if origin is typing.Annotated:
        (mark,) = hint.__metadata__
        taken: Take = mark.validate
        return taken
    if origin is typing.Literal:
        return _one_of(frozenset(parts))
    if origin is typing.Union or origin is UnionType:
        others = tuple(_take(part) for part in parts if part is not NoneType)
        return _union(others, NoneType in parts)
    if origin is tuple:
        return _items(_take(parts[0])) if parts[1] is Ellipsis else _fixed(tuple(_take(part) for part in parts))
    return _float if hint is float else _exact(hint) if hint in (bool, int, str) else _instance(hint)


def _float(value: Any) -> float:
    if type(value) is float:
        return value
    if type(value) is int:
        return float(value)
    raise ValueError


def _exact(kind: type) -> Take:
    def take(value: Any) -> Any:
        if type(value) is kind:
            return value
        raise ValueError

    return take


def _instance(kind: type) -> Take:
    def take(value: Any) -> Any:
        if isinstance(value, kind):
            return value
        raise ValueError

    return take


def _one_of(words: frozenset[Any]) -> Take:
    kinds = {type(word) for word in words}

    def take(value: Any) -> Any:
        if type(value) in kinds and value in words:
            return value
        raise ValueError

    return take


def _union(takes: tuple[Take, ...], none: bool) -> Take:
    def take(value: Any) -> Any:
        if none and value is None:
            return None
        for each in takes:
            try:
                return each(value)
            except ValueError:
                pass
        raise ValueError

    return take


def _items(each: Take) -> Take:
    def take(value: Any) -> Any:
        if type(value) is tuple:
            return tuple([each(item) for item in value])
        raise ValueError

    return take


def _fixed(takes: tuple[Take, ...]) -> Take:
    def take(value: Any) -> Any:
        if type(value) is tuple and len(value) == len(takes):
            return tuple([each(item) for each, item in zip(takes, value, strict=True)])
        raise ValueError

    return take
