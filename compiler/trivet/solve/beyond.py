"""Over-travel: how many turns are left past each end of the travel to each thing that goes wrong, and what puts it right again."""

from __future__ import annotations

from typing import Literal

from trivet.record import record
from trivet.solve.derived import Derived, Limit


@record
class Beyond:
    """Past one end: mm and turns of the drive left (0: it is what ends the travel) until `happens`; `restores`: what puts it right."""

    end: Literal["least", "most"]
    cause: str
    left_mm: float
    turns: float
    sentence: str
    happens: str
    restores: str
    parts: tuple[str, ...]
    limit: Limit

    @property
    def breaks(self) -> bool:
        """Whether teeth or the level are lost, so that turning back alone does not put it right."""
        return not self.restores.startswith("turning back") or "break" in self.happens


def beyond_of(derived: Derived) -> tuple[Beyond, ...]:
    """At mean sheets, the least end first and the nearest first; of each cause the foot that meets it first. Empty without a stroke."""
    lift = derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return ()
    zero = {foot.id: foot.height_at_zero_mm for foot in derived.feet}
    found = []
    for limit in lift.limits:
        if not limit.hard:
            continue
        height = zero[limit.parts[0]] + limit.extension_mm
        left = max(0.0, lift.height_min_mm - height if limit.end == "least" else height - lift.height_max_mm)
        happens, _, restores = limit.then.rpartition("; ")
        found.append(
            Beyond(limit.end, limit.cause, left, left / lift.per_turn_mm, limit.sentence, happens, restores, limit.parts, limit)
        )
    return tuple(sorted(found, key=lambda item: (item.end, item.left_mm, item.cause)))


def first_beyond(derived: Derived, end: Literal["least", "most"]) -> Beyond | None:
    """What comes first past an end."""
    return next((item for item in beyond_of(derived) if item.end == end), None)
