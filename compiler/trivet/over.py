"""A plan tried over everything that it is declared for: all corners of its ranges, then the worst places between them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from trivet.diagnostics import Diagnostic, Severity, rank
from trivet.lower.entries import Part
from trivet.over_ranges import Settings, Varied, corners, varied
from trivet.pipeline import Compilation, check_parts
from trivet.record import field, record

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived

# A corner costs some 20 ms: the bounds keep the whole below half a minute.
MOST_CORNERS = 512
MOST_CHOICES = 8
# Remedies cost as much as forty corners.
MOST_TOLD = 12
# Steps of the golden section, which narrow two steps of the coarse scan to about a fiftieth of one.
GOLDEN_STEPS = 8
GOLDEN = (5.0**0.5 - 1.0) / 2.0

Progress = Callable[[int, int], None]
Figure = Callable[["Case"], float | None]


@record
class Case:
    """The plan at one place of its ranges. Figures are None where nothing could be solved; lengths in mm.

    `travel_mm`: with the worst sheets; `backlash_mm`: the least of all meshes with every error at its worst.
    `failing`: the findings at or above the threshold that nobody accepted.
    """

    settings: Settings
    travel_mm: float | None
    lift_mm: float | None
    backlash_mm: float | None
    failing: tuple[Diagnostic, ...] = field(default=(), compare=False)

    @property
    def holds(self) -> bool:
        """Whether nothing fails here."""
        return not self.failing


@record
class Over:
    """What was tried and what came of it. `corners_of`: how many corners there are; fewer were run where `corners` is shorter.

    `least_travel`, `least_backlash`: the worst of all that was tried, None where nothing could be solved.
    """

    fixture: str
    ranges: tuple[Varied, ...]
    corners: tuple[Case, ...]
    corners_of: int
    inside: tuple[Case, ...]
    least_travel: Case | None
    least_backlash: Case | None

    @property
    def failing(self) -> tuple[Case, ...]:
        """The corners that fail, then the places between that do."""
        return tuple(case for case in (*self.corners, *self.inside) if not case.holds)

    @property
    def every_corner(self) -> bool:
        """Whether no corner was left out."""
        return len(self.corners) == self.corners_of

    @property
    def proven(self) -> bool:
        """Whether every corner was run and nothing fails, between them neither."""
        return self.every_corner and not self.failing

    @property
    def words(self) -> str:
        """One sentence for whoever builds from the plan."""
        run = (
            f"all {_many(self.corners_of, 'corner')}" if self.every_corner else f"{len(self.corners)} of {self.corners_of} corners"
        )
        tried = run + (f" and {_many(len(self.inside), 'place')} between" if self.inside else "")
        ranges = ", ".join(item.words for item in self.ranges)
        if not self.ranges:
            return "the plan declares no range"
        if self.failing:
            at = sum(not case.holds for case in self.corners)
            between = len(self.failing) - at
            found = f"{at} of {_many(len(self.corners), 'corner')}" + (
                f" and {between} of {_many(len(self.inside), 'place')} between" if between else ""
            )
            return f"not proven over {ranges}: it fails at {found}"
        if not self.every_corner:
            return f"not proven over {ranges}: no known fault at {tried}, the other corners were not tried"
        return f"proven over {ranges}: no known fault at {tried}"


def over(
    parts: Sequence[Part],
    read: Sequence[Diagnostic],
    settings: Mapping[str, str],
    first: Design,
    threshold: Severity = "error",
    progress: Progress | None = None,
) -> Over:
    """Try a parsed plan over its ranges. `first`: the design as written, which says what varies; `settings` stay fixed.

    `progress` is told how many cases are done and how many are foreseen. The figures with several ranges are searched along one
    range at a time, the others at the worst corner: a stated share of the inside, not all of it.
    """
    ranges = varied(first, settings)
    known: dict[Settings, Case] = {}
    chosen, total = corners(ranges, MOST_CORNERS)
    choices = _choices(ranges, chosen)
    scans = sum(len(item.between()) for item in ranges) * len(choices)
    golden = 2 * (GOLDEN_STEPS + 1) * sum(1 for item in ranges if item.between() and not item.whole) * len(choices)
    foreseen = len(chosen) + 2 * scans + golden

    def tried_at(at: Settings, try_changes: bool) -> Case:
        result = check_parts(parts, read, {**settings, **dict(at)}, full=False, try_changes=try_changes)
        return _case(result, at, threshold)

    def case(at: Settings) -> Case:
        if at not in known:
            known[at] = tried_at(at, try_changes=False)
            if progress is not None:
                progress(len(known), max(foreseen, len(known)))
        return known[at]

    at_corners = tuple(case(at) for at in chosen)
    for choice in choices:
        here = [item for item in at_corners if all(pair in item.settings for pair in choice)]
        for figure in (_travel, _backlash):
            worst = _least(here, figure)
            if worst is not None:
                for item in ranges:
                    _along(item, worst.settings, figure, case)
    # Remedies are worked out once for each finding: where it stands first.
    told = {at: tried_at(at, try_changes=True) for at in first_places((*at_corners, *known.values()))[:MOST_TOLD]}
    at_corners = tuple(told.get(item.settings, item) for item in at_corners)
    corner_settings = set(chosen)
    inside = tuple(told.get(at, item) for at, item in known.items() if at not in corner_settings)
    tried = (*at_corners, *inside)
    return Over(first.name, ranges, at_corners, total, inside, _least(tried, _travel), _least(tried, _backlash))


def key_of(item: Diagnostic) -> tuple[str, int]:
    """What makes a finding the same at two places: its rule and where it stands. Its figures differ."""
    return item.rule, item.span.start if item.span is not None else -1


def first_places(cases: Sequence[Case]) -> tuple[Settings, ...]:
    """The places at which some finding stands for the first time."""
    seen: set[tuple[str, int]] = set()
    found: list[Settings] = []
    for case in cases:
        new = {key_of(item) for item in case.failing} - seen
        if new:
            seen |= new
            found.append(case.settings)
    return tuple(found)


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _choices(ranges: Sequence[Varied], chosen: Sequence[Settings]) -> tuple[Settings, ...]:
    """The combinations of threads and the like, each of which is searched by itself."""
    names = {item.name for item in ranges if item.low is None}
    found = dict.fromkeys(tuple(pair for pair in at if pair[0] in names) for at in chosen)
    return tuple(found)[:MOST_CHOICES]


def _along(item: Varied, start: Settings, figure: Figure, case: Callable[[Settings], Case]) -> None:
    """Look along one range for the least of a figure: a coarse scan, then a golden section round the least place found.

    Overlap is concave along a range, so the travel's least is at an end unless a bolt of another length changes the bench's room:
    that is what the scan is for.
    """

    def at(share: float) -> Case:
        return case(tuple((name, item.at(share) if name == item.name else text) for name, text in start))

    shares = (0.0, *item.between(), 1.0)
    if len(shares) < 3:
        return
    found = [(value, index) for index, share in enumerate(shares) if (value := figure(at(share))) is not None]
    if not found or item.whole:
        return
    index = min(found)[1]
    low, high = shares[max(index - 1, 0)], shares[min(index + 1, len(shares) - 1)]

    def least(share: float) -> float:
        figured = figure(at(share))
        return figured if figured is not None else float("-inf")

    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = least(left), least(right)
    for _ in range(GOLDEN_STEPS - 1):
        if at_left < at_right:
            high, right, at_right = right, left, at_left
            left = high - GOLDEN * (high - low)
            at_left = least(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + GOLDEN * (high - low)
            at_right = least(right)


def _case(result: Compilation, at: Settings, threshold: Severity) -> Case:
    failing = tuple(item for item in result.findings if not item.accepted and rank(item.severity) <= rank(threshold))
    derived = result.derived
    if derived is None:
        return Case(at, None, None, None, failing)
    lift = derived.lift
    travel = min(lift.travel_worst_mm, lift.travel_mm) if lift is not None else None
    return Case(at, travel, lift.per_turn_mm if lift is not None else None, _backlash_mm(derived), failing)


def _backlash_mm(derived: Derived) -> float | None:
    return min((mesh.backlash.min_mm for mesh in derived.train.meshes), default=None)


def _travel(case: Case) -> float | None:
    return case.travel_mm


def _backlash(case: Case) -> float | None:
    return case.backlash_mm


def _least(cases: Sequence[Case], figure: Figure) -> Case | None:
    found = [(value, index) for index, case in enumerate(cases) if (value := figure(case)) is not None]
    return cases[min(found)[1]] if found else None
