"""The nearest name."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from trivet.suggest import distance, nearest

WORDS = st.text(alphabet="abcd", max_size=7)


def slow_distance(left: str, right: str) -> int:
    """Optimal string alignment by its recursion, sharing nothing with the table under test."""
    if not left or not right:
        return len(left) + len(right)
    best = min(
        slow_distance(left[1:], right) + 1,
        slow_distance(left, right[1:]) + 1,
        slow_distance(left[1:], right[1:]) + (left[0] != right[0]),
    )
    if len(left) > 1 and len(right) > 1 and left[0] == right[1] and left[1] == right[0]:
        best = min(best, slow_distance(left[2:], right[2:]) + 1)
    return best


@given(st.text(alphabet="abc", max_size=5), st.text(alphabet="abc", max_size=5), st.integers(0, 6))
def test_distance_is_that_of_the_recursion(left: str, right: str, limit: int) -> None:
    found = distance(left, right, limit)
    assert min(found, limit + 1) == min(slow_distance(left, right), limit + 1)


def test_distance_beyond_the_limit_is_cut() -> None:
    # Four edits are needed; the answer stops at the limit plus one.
    assert distance("bb", "aaaa", 2) == 3


def test_known_distances() -> None:
    # kitten to sitting is 3: the example commonly printed for the Levenshtein distance, from memory.
    assert distance("kitten", "sitting", 9) == 3
    assert distance("teeth", "teteh", 9) == 1
    assert distance("hub", "", 9) == 3


@given(WORDS, WORDS)
def test_distance_is_symmetric(left: str, right: str) -> None:
    assert distance(left, right, 9) == distance(right, left, 9)


def test_nearest_is_within_a_third() -> None:
    assert nearest("corer", ["corner", "hub"]) == "corner"
    assert nearest("hbu", ["hub", "west"]) == "hub"
    assert nearest("abc", ["xyz"]) is None
    assert nearest("abcdef", ["abxyef"]) == "abxyef"
    assert nearest("abcdef", ["axyzef"]) is None
    assert nearest("Hub", ["hub"]) == "hub"
    assert nearest("hub", ["hub"]) is None
    assert nearest("hub", []) is None


def test_a_tie_does_not_depend_on_order() -> None:
    assert nearest("wst", ["west", "wist"]) == nearest("wst", ["wist", "west"]) == "west"


def test_a_huge_name_costs_nothing() -> None:
    assert nearest("a" * 100_000, ["a" * 100_001]) is None


@given(WORDS, st.lists(WORDS))
def test_nearest_is_one_of_the_known(word: str, known: list[str]) -> None:
    found = nearest(word, known)
    assert found is None or (found in known and found != word)
