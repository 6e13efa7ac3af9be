"""Near names for misspelt ones, within a bound: a file of thousands of wrong names must not cost their product."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from trivet.suggest import nearest

# What makers say for words of the language that are spelt quite otherwise (common practice, no source).
_SAID: dict[str, tuple[str, ...]] = {
    "tooth": ("teeth",), "type": ("kind",), "shape": ("outline",), "size": ("outline", "diameter"), "dia": ("diameter",),
    "radius": ("corner_radius",), "t-nut": ("tee_nut",), "t_nut": ("tee_nut",), "tnut": ("tee_nut",), "material": ("stock",),
    "locknut": ("jam_nut",), "lock_nut": ("jam_nut",), "clearance": ("play",), "position": ("at",),
    "location": ("at",), "center": ("centre", "at"), "axle": ("pivot",), "shaft": ("pivot",), "leg": ("foot",), "bit": ("cutter",),
    "plywood": ("sheet",), "top": ("topside",), "bottom": ("underside",),
}  # fmt: skip

# Pairs of names compared in one file, about half a second's work. A fixture of a hundred gears with a hundred slips needs a fifth of it.
MOST_PAIRS = 50_000


def likely(word: str, known: Collection[str]) -> str | None:
    """The nearest known name, else the one that makers call by this word, else None."""
    near = nearest(word, known)
    return near or next((said for said in _SAID.get(word.casefold(), ()) if said in known), None)


def joined(words: Sequence[str], known: Collection[str]) -> str | None:
    """The known name that the first two or three words are, written with spaces: `drill press` for `drill_press`; else None."""
    return next((name for count in (3, 2) if (name := "_".join(words[:count])) in known and len(words) >= count), None)


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
        return likely(word, known) if not self.spent else None
