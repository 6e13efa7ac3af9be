"""Idlers that ride a thread of their own: they climb as the board rises and bound its stroke. Lengths mm.

At the lowest height that the feet allow by themselves a climbing gear is set to hang `start` below its board. From there its extension is
start + r (e − e0), with e the extension of a foot, e0 that at the lowest height, and r the climber's rise over the foot's: −eta (lead_i z_f) /
(lead_f z_i) for gears in mesh. So the shift between the two is |1 + eta (lead_i z_f)/(lead_f z_i)| per mm of travel. Every limit is a straight
line in e: the shared face, the lesser of two such lines, is concave, and both ends of the stroke count.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from trivet.record import record, replace
from trivet.solve.corner import Corner, pick
from trivet.solve.face_overlap import PARTING_OVERLAP_MM, stated_overlap_mm, wanted_overlap_mm
from trivet.solve.foot_case import Bound, FootCase, FootSpec, World
from trivet.solve.foot_riding import gear_interval_mm, riding_case
from trivet.solve.rise import rise_per_turn_mm

PREFIX = "climber_"
# Where a limit that no extension meets is put, mm: far outside any stroke.
NOWHERE_MM = -1000.0
FLAT = 1e-12


@record
class Line:
    """A face that moves along z: a − b e."""

    a_mm: float
    b: float


def rate(climber: FootSpec, foot: FootSpec) -> float | None:
    """Extension of the climber per extension of the foot, signed; None where the drive does not turn both."""
    rise, of_foot = rise_per_turn_mm(climber.foot, climber.gear), rise_per_turn_mm(foot.foot, foot.gear)
    return float(rise / of_foot) if rise is not None and of_foot else None


def climbed_mm(climber: FootSpec, foot: FootSpec, extension_mm: float, lowest_mm: float) -> float | None:
    """Extension of the climber at an extension of a foot, of which `lowest_mm` is that at the lowest height by the feet alone."""
    r = rate(climber, foot)
    return None if r is None else start_mm(climber) + r * (extension_mm - lowest_mm)


def start_mm(climber: FootSpec) -> float:
    """How far the gear is set to hang at the lowest height."""
    stated = climber.foot.climbs_from
    return stated.mm if stated is not None else 0.0


def with_climbers(
    cases: Mapping[str, FootCase], specs: Sequence[FootSpec], world: World, corner: Corner, low_mm: float
) -> dict[str, FootCase]:
    """The feet's cases with the limits of the world's climbers: a climber's own at the first foot, shared face at each foot in mesh.

    `low_mm`: the lowest height by the feet alone.
    """
    extra: dict[str, list[Bound]] = {}
    riding = {state.id: spec for spec in specs if spec.foot.kind == "riding" for state in spec.stack}
    climbing = {state.id: spec for spec in world.climbers for state in spec.stack}
    first = specs[0]
    for climber in world.climbers:
        e0 = low_mm - cases[first.id].height_at_zero_mm
        rates = {spec.id: rate(climber, spec) for spec in specs}
        r = rates[first.id]
        if r is None:
            continue
        case = riding_case(climber, world, corner)
        extra.setdefault(first.id, []).extend(_own(climber, case, cases[first.id], r, e0))
        for state in climber.stack:
            for _, mate in world.neighbours.get(state.id, ()):
                foot = riding.get(mate, first)
                low = low_mm - cases[foot.id].height_at_zero_mm
                one = _face(climber, rates[foot.id], world, state.id, low)
                if mate in riding:
                    other: Line | None = Line(gear_interval_mm(foot, world, mate, 0.0)[1], 1.0)
                elif mate in climbing and state.id < mate:
                    other = _face(climbing[mate], rate(climbing[mate], foot), world, mate, low)
                else:
                    continue
                if one is not None and other is not None:
                    extra.setdefault(foot.id, []).extend(_shared(world, state.id, mate, one, other))
    return {name: replace(case, bounds=(*case.bounds, *extra.get(name, ()))) for name, case in cases.items()}


def _own(climber: FootSpec, case: FootCase, foot: FootCase, r: float, e0: float) -> Iterator[Bound]:
    """The climber's limits along its own thread, and that it stays off the bench."""
    at_zero = start_mm(climber) - r * e0
    for bound in case.bounds:
        if bound.cause == "bench":
            continue
        cause, gear = PREFIX + bound.cause, climber.gear.id
        if bound.end == "least":
            yield from _line(at_zero - bound.at_mm, -r, cause, bound.hard, bound.party, bound.amount_mm, gear)
        else:
            yield from _line(bound.at_mm - at_zero, r, cause, bound.hard, bound.party, bound.amount_mm, gear)
    above = case.plane_mm - at_zero - foot.plane_mm
    yield from _line(above, r - 1.0, PREFIX + "bench", True, climber.gear.id, 0.0, climber.gear.id)


def _face(climber: FootSpec, r: float | None, world: World, gear: str, e0: float) -> Line | None:
    """The top of one of a climber's gears over a foot's extension, to which its own stands as `r`."""
    return None if r is None else Line(gear_interval_mm(climber, world, gear, 0.0)[1] - start_mm(climber) + r * e0, r)


def _shared(world: World, gear: str, mate: str, one: Line, other: Line) -> Iterator[Bound]:
    """Shared face of two gears that both move, comfortable and to parting."""
    states = world.states[gear], world.states[mate]
    g1, g2 = (pick(state.face_width, world.corner.gear) for state in states)
    want = wanted_overlap_mm(g1, g2, stated_overlap_mm(world.design, states[0].gear, states[1].gear))
    for least, hard in ((want, False), (min(PARTING_OVERLAP_MM, want), True)):
        # Top of the one over the bottom of the other, and the other way.
        for upper, lower, width in ((one, other, g2), (other, one, g1)):
            room = upper.a_mm - lower.a_mm + width - least
            yield from _line(room, upper.b - lower.b, PREFIX + "teeth_part", hard, mate, least, gear)


def _line(
    room_mm: float, slope: float, cause: str, hard: bool, party: str, amount_mm: float, gear: str
) -> Iterator[Bound]:
    """The bound that slope · e <= room sets; none where it holds at every extension."""
    if abs(slope) < FLAT:
        if room_mm < -1e-9:
            yield Bound("most", cause, NOWHERE_MM, hard, party, amount_mm, gear)
        return
    yield Bound("most" if slope > 0.0 else "least", cause, room_mm / slope, hard, party, amount_mm, gear)
