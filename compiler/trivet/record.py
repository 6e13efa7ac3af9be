"""Frozen records with slots, as the standard library's dataclasses make them, but without compiling source text for each class.

A dataclass costs 0.4 ms when its module is imported, mostly for compiling its methods; some 150 of them would cost a cold `check` more
than parsing, solving and checking together. Here all classes share a few methods. The semantics are those of
`dataclass(frozen=True, slots=True)`: positional or keyword arguments, defaults, `__post_init__`, equality by compared fields.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")
_MISSING: Any = object()


class _Field:
    """What `field` says of one attribute."""

    __slots__ = ("compare", "default", "factory")

    def __init__(self, default: Any, factory: Callable[[], Any] | None, compare: bool) -> None:
        self.default = default
        self.factory = factory
        self.compare = compare


def field(*, default: Any = _MISSING, default_factory: Callable[[], Any] | None = None, compare: bool = True) -> Any:
    """A default, or what makes a new one for each record, and whether the field takes part in equality and hash."""
    return _Field(default, default_factory, compare)


@overload
def record(cls: type[T], /) -> type[T]: ...
@overload
def record(*, eq: bool = True) -> Callable[[type[T]], type[T]]: ...
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def record(cls: type[T] | None = None, /, *, eq: bool = True) -> Any:
    """Make a class of annotated fields a frozen record. With `eq=False` two records are equal only when they are the same."""
    if cls is None:
        return lambda found: _made(found, eq)
    return _made(cls, eq)


def fields(kind: Any) -> tuple[str, ...]:
    """The names of a record's fields in order; of a record or of its class."""
    names: tuple[str, ...] = kind.__match_args__
    return names


def replace(item: T, **changes: Any) -> T:
    """A copy with some fields changed; TypeError for a name that is no field."""
    values = {name: getattr(item, name) for name in fields(item)}
    return type(item)(**(values | changes))


def _made(cls: type[T], eq: bool) -> type[T]:
    inherited: tuple[str, ...] = getattr(cls, "__match_args__", ())
    defaults: dict[str, Any] = dict(getattr(cls, "_record_defaults", {}))
    uncompared: set[str] = set(inherited) - set(getattr(cls, "_record_compared", inherited))
    space = dict(cls.__dict__)
    own = tuple(name for name in space.get("__annotations__", {}) if name not in inherited)
    for name in own:
        default = space.pop(name, _MISSING)
        if isinstance(default, _Field):
            if not default.compare:
                uncompared.add(name)
            default = default if default.factory is not None else default.default
        if default is not _MISSING:
            defaults[name] = default
    for name in ("__dict__", "__weakref__"):
        space.pop(name, None)
    names = inherited + own
    space |= {
        "__slots__": own,
        "__match_args__": names,
        "_record_defaults": defaults,
        "_record_compared": tuple(name for name in names if name not in uncompared),
        "__setattr__": _refuse,
        "__delattr__": _refuse,
        "__reduce__": _reduced,
    }
    space.setdefault("__repr__", _shown)
    if eq:
        space.setdefault("__eq__", _equal)
        space.setdefault("__hash__", _hashed)
    made: Any = type(cls.__name__, cls.__bases__, space)
    made.__init__ = _initial(made, names, defaults)
    made.__qualname__ = cls.__qualname__
    return made  # type: ignore[no-any-return]  # built by type(), whose result is Any


def _initial(made: Any, names: tuple[str, ...], defaults: dict[str, Any]) -> Callable[..., None]:
    setters = tuple(getattr(made, name).__set__ for name in names)
    count = len(names)
    after = getattr(made, "__post_init__", None)
    # From `least` on every field has a default that all records may share.
    least = count
    while least and names[least - 1] in defaults and not isinstance(defaults[names[least - 1]], _Field):
        least -= 1
    rest = tuple(defaults[name] for name in names[least:])

    def __init__(self: Any, *values: Any, **named: Any) -> None:
        given = len(values)
        if least <= given <= count and not named and after is None:
            # Nearly all records are made so, and a check makes many thousands.
            if given < count:
                values += rest[given - least :]
            for setter, value in zip(setters, values):  # noqa: B905 - `strict` would cost a third of it
                setter(self, value)
            return
        if given > count:
            raise TypeError(f"{made.__name__} takes {count} values, not {given}")
        for index in range(given):
            setters[index](self, values[index])
        for index in range(given, count):
            name = names[index]
            if name in named:
                setters[index](self, named.pop(name))
            elif name in defaults:
                default = defaults[name]
                setters[index](self, default.factory() if isinstance(default, _Field) and default.factory else default)
            else:
                raise TypeError(f"{made.__name__} needs {name}")
        if named:
            raise TypeError(f"{made.__name__} has no {', '.join(named)}, or has it twice")
        if after is not None:
            after(self)

    return _of_three(setters, __init__) if count == 3 and after is None else __init__


def _of_three(setters: tuple[Callable[[Any, Any], None], ...], general: Callable[..., None]) -> Callable[..., None]:
    """The same for three fields, which corners of outlines, places in text and tokens have: half of all that a check makes."""
    first, second, third = setters

    def __init__(self: Any, *values: Any, **named: Any) -> None:
        if named or len(values) != 3:
            general(self, *values, **named)
            return
        one, two, three = values
        first(self, one)
        second(self, two)
        third(self, three)

    return __init__


def _refuse(self: Any, name: str, *_: Any) -> None:
    raise AttributeError(f"cannot change {name} of a {type(self).__name__}: records are frozen")


def _compared(self: Any) -> tuple[Any, ...]:
    return tuple([getattr(self, name) for name in self._record_compared])


def _equal(self: Any, other: object) -> Any:
    return _compared(self) == _compared(other) if type(other) is type(self) else NotImplemented


def _hashed(self: Any) -> int:
    return hash(_compared(self))


def _shown(self: Any) -> str:
    return f"{type(self).__name__}({', '.join(f'{name}={getattr(self, name)!r}' for name in self.__match_args__)})"


def _reduced(self: Any) -> Any:
    return type(self), tuple(getattr(self, name) for name in self.__match_args__)
