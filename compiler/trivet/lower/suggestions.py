"""Near names for misspelt ones, within a bound: a file of thousands of wrong names must not cost their product."""

from __future__ import annotations

from collections.abc import Collection

from trivet.suggest import nearest

# Pairs of names compared in one file, about half a second's work. A fixture of a hundred gears with a hundred slips needs a fifth of it.
MOST_PAIRS = 50_000


class Suggestions:
    """Finds near names until `MOST_PAIRS` are compared; after that there are none."""

    def __init__(self) -> None:
        self._pairs = 0

    @property
    def spent(self) -> bool:
        """Whether there are no more: then the names to compare with need not be gathered."""
        return self._pairs > MOST_PAIRS

    def near(self, word: str, known: Collection[str]) -> str | None:
        """The known name nearest to `word`, or None."""
        self._pairs += len(known)
        return nearest(word, known) if not self.spent else None
