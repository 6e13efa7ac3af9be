"""The nearest name to a misspelt one."""

from __future__ import annotations

from collections.abc import Iterable

# Longer words are cut before they are compared, so that a name of 100,000 letters costs nothing.
_LONGEST = 64


def distance(left: str, right: str, limit: int) -> int:
    """Edit distance (insert, delete, replace, swap of neighbours), or `limit` + 1 when it is larger than `limit`."""
    if abs(len(left) - len(right)) > limit:
        return limit + 1
    before: list[int] = []
    previous = list(range(len(right) + 1))
    for row, letter in enumerate(left, start=1):
        current = [row]
        for column, other in enumerate(right, start=1):
            cost = min(previous[column] + 1, current[column - 1] + 1, previous[column - 1] + (letter != other))
            swapped = row > 1 and column > 1 and letter == right[column - 2] and left[row - 2] == other
            if swapped:
                cost = min(cost, before[column - 2] + 1)
            current.append(cost)
        if min(current) > limit:
            return limit + 1
        before, previous = previous, current
    return min(previous[-1], limit + 1)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known name closest to `word`, if its edit distance is at most a third of its length (at least 1)."""
    if len(word) > _LONGEST:
        return None
    limit = max(1, len(word) // 3)
    best: tuple[int, str] | None = None
    for name in sorted(set(known)):
        found = distance(word.casefold(), name.casefold(), limit)
        if found <= limit and name != word and (best is None or found < best[0]):
            best = (found, name)
    return best[1] if best else None
