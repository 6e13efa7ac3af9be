"""Where an insert's or a nut's thread is, in z.

An insert's live thread is not its length: the drive slot and the lead-in carry none.
"""

from __future__ import annotations

from trivet.model.foot import InsertUse
from trivet.model.hardware import Insert
from trivet.record import record
from trivet.solve.board_levels import BoardZ


@record
class ThreadZone:
    """Live thread from `low_mm` to `high_mm`, the whole part from `bottom_mm` to `top_mm`: z, mm."""

    low_mm: float
    high_mm: float
    bottom_mm: float
    top_mm: float

    @property
    def live_mm(self) -> float:
        """Length of live thread, mm."""
        return self.high_mm - self.low_mm


def insert_zone(use: InsertUse, board: BoardZ, other_way: bool = False) -> ThreadZone:
    """The zone of an insert in its board; `other_way` drives it from the other face and leaves it where it is.

    It lies flush with `flush` (or `proud` beyond it). Live thread counts from the driving end. A tee nut's thread is taken through
    its whole height (from memory), its flange at the driving end.
    """
    part = use.hardware
    length = part.length_mm if isinstance(part, Insert) else part.height_mm
    proud = use.proud.mm if use.proud is not None else 0.0
    bottom = board.under_mm - proud if use.flush == "underside" else board.top_mm + proud - length
    top = bottom + length
    if not isinstance(part, Insert):
        return ThreadZone(bottom, top, bottom, top)
    from_topside = (use.driven_from == "topside") != other_way
    if from_topside:
        return ThreadZone(top - part.live_to_mm, top - part.live_from_mm, bottom, top)
    return ThreadZone(bottom + part.live_from_mm, bottom + part.live_to_mm, bottom, top)


def engagement_mm(zone: ThreadZone, thread_low_mm: float, tip_mm: float) -> float:
    """Length of screw thread (from its lowest full thread to its tip) inside the live zone, mm; 0 when apart."""
    return max(0.0, min(tip_mm, zone.high_mm) - max(thread_low_mm, zone.low_mm))


def needed_engagement_mm(major_mm: float, live_mm: float) -> float:
    """Comfortable engagement: 1.0 d, or the whole live thread where that is shorter.

    Common practice, no source (equal-strength steel: about 0.7 to 1 d, a practitioner report).
    """
    return max(0.0, min(major_mm, live_mm))
