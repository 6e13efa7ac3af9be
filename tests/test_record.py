"""Records against the standard library's dataclasses: the same class text, the same behaviour."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trivet.record import field, fields, record, replace


@record
class Ours:
    """As `Theirs`."""

    first: int
    second: str = "two"
    place: object = field(default=None, compare=False)

    @property
    def double(self) -> int:
        return 2 * self.first


@dataclasses.dataclass(frozen=True, slots=True)
class Theirs:
    """As `Ours`."""

    first: int
    second: str = "two"
    place: object = dataclasses.field(default=None, compare=False)

    @property
    def double(self) -> int:
        return 2 * self.first


@record
class Longer(Ours):
    """Inherits fields."""

    third: float = 3.0


@record(eq=False)
class Itself:
    """Equal to itself only."""

    first: int


@record
class Filled:
    """Has a default that is made anew."""

    items: dict[str, int] = field(default_factory=dict)


@given(st.integers(), st.text(), st.integers(), st.integers())
def test_equality_and_hash(first: int, second: str, place: int, other: int) -> None:
    for kind in (Ours, Theirs):
        same: Any = kind(first, second, place)
        assert same == kind(first, second, other)
        assert hash(same) == hash(kind(first, second, other))
        assert same != kind(first + 1, second, place)
    assert Ours(first, second) != Theirs(first, second)
    assert repr(Ours(first, second, place)) == repr(Theirs(first, second, place)).replace("Theirs", "Ours")


@pytest.mark.parametrize("kind", [Ours, Theirs])
def test_arguments(kind: Any) -> None:
    assert kind(1).second == "two"
    assert kind(second="x", first=1).first == 1
    assert kind(1).double == 2
    for wrong in ((), (1, "a", None, 4)):
        with pytest.raises(TypeError):
            kind(*wrong)
    with pytest.raises(TypeError):
        kind(1, first=2)
    with pytest.raises(TypeError):
        kind(1, fourth=2)


@pytest.mark.parametrize("kind", [Ours, Theirs])
def test_frozen(kind: Any) -> None:
    item = kind(1)
    with pytest.raises(AttributeError):
        item.first = 2
    with pytest.raises(AttributeError):
        del item.first
    with pytest.raises((AttributeError, TypeError)):
        item.other = 2
    assert not hasattr(item, "__dict__")


def test_inheritance_and_replacement() -> None:
    item = Longer(1, "b", None, 4.0)
    assert fields(item) == ("first", "second", "place", "third")
    assert replace(item, third=5.0) == Longer(1, "b", None, 5.0)
    assert replace(item, third=5.0) != item
    assert item != Ours(1, "b")
    with pytest.raises(TypeError):
        replace(item, fifth=1)


def test_identity_and_copies() -> None:
    assert Itself(1) != Itself(1)
    item = Ours(1, "b")
    assert copy.deepcopy(item) == item
    assert pickle.loads(pickle.dumps(item)) == item
    match item:
        case Ours(first, second):
            assert (first, second) == (1, "b")
    one, other = Filled(), Filled()
    assert one.items is not other.items
