"""One row of the inspection card."""

from __future__ import annotations

import re
from typing import Literal

from trivet.record import record, replace

ReadingKind = Literal["thickness", "span", "tip", "bore", "hole", "flats", "depth", "spacing", "length", "aid"]

# The card prints so many decimals; a reading counts from the printed figure, so that one that says the same changes nothing.
DECIMALS = {"mm": 2, "in": 4}
MM_PER_INCH = 25.4  # exact: international yard and pound agreement of 1959


@record
class Reading:
    """What calipers should read, mm. `row`: its id. `of`: what it is about, by `kind`: a sheet; a gear; a part (and face for a depth);
    two gears and the diameters of their holes' ids for a spacing; a bolt's or sleeve's id.

    `alike`: how many such features the part has. `title`: the feature's own, where it is one's.
    """

    row: str
    part: str
    measure: str
    kind: ReadingKind
    nominal_mm: float
    least_mm: float
    most_mm: float
    why: str
    of: tuple[str, ...]
    alike: int = 1
    title: str = ""

    def renamed(self, row: str) -> Reading:
        """The same under another id."""
        return replace(self, row=row)


def reading_id(part: str, words: str) -> str:
    """An id from a part and plain words: `deck.hole-for-the-insert`."""
    return f"{part}.{re.sub(r'[^0-9a-z]+', '-', words.lower()).strip('-')}"


def printed(mm: float, unit: str) -> str:
    """A reading's figure as the card has it, without its unit."""
    return f"{mm / MM_PER_INCH:.{DECIMALS['in']}f}" if unit == "in" else f"{mm:.{DECIMALS['mm']}f}"


def printed_mm(mm: float, unit: str) -> float:
    """The length, mm, that the printed figure says."""
    shown = float(printed(mm, unit))
    return shown * MM_PER_INCH if unit == "in" else shown
