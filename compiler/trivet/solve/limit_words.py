"""A bound of the stroke, said to a maker: the sentence, what happens beyond it, and the formula behind it."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.solve.climber import NOWHERE_MM
from trivet.solve.derived import Because, Limit
from trivet.solve.foot_case import Bound, FootSpec
from trivet.source import Origin
from trivet.units import length_text

# What happens beyond a hard bound, and what restores it.
THEN = {
    "gear_meets_board": "the gear jams against the board and teeth can break; turning back frees it",
    "tilted_rim": "the rim of the tilted gear rubs and jams against the board; turning back frees it",
    "insert_proud": "the gear jams against the insert and teeth can break; turning back frees it",
    "tip_through": "the screw's tip comes through the topside and lifts the work; turning back sinks it",
    "tip_meets_board": "the screw's tip jams against the board above and teeth can break; turning back frees it",
    "bench": "that part stands on the bench instead of the feet and the board comes no lower; turning back lifts it off",
    "shank_in_insert": "the plain shank jams in the insert and teeth can break; turning back frees it",
    "shank_in_nut": "the plain shank jams in the nut and teeth can break; turning back frees it",
    "keeper": "the foot jams against the keeper and teeth can break; turning back frees it",
    "hex_at_socket_floor": "the head jams against the floor of its socket and teeth can break; turning back frees it",
    "post_meets_gear": "the post jams against the gear and teeth can break; turning back frees it",
    "teeth_part": "the teeth part and the level is lost; put the teeth back in mesh and zero the feet again",
    "thread_leaves_insert": "the screw drops out of its insert and the level is lost; start the thread again and zero the feet again",
    "nut_not_full": "the rod drops out of its nut and the level is lost; start the thread again and zero the feet again",
    "stop_leaves_slot": "the cross pin leaves its slot, the rod turns with its gear and the level is lost; "
    "turn the pin back into the slot and zero the feet again",
    "hex_leaves_socket": "the head leaves its socket, the foot stops turning and the level is lost; "
    "push the head back and zero the feet again",
}

# Limits of an idler that climbs are those of a riding gear, met at another extension of the feet.
CLIMBER = "climber_"
# Formula, source.
FORMULAS = {
    "gear_meets_board": ("e >= thickness of the gears of higher levels", "derived"),
    "tilted_rim": (
        "e >= R_tip tan tilt",
        "derived; the tilt, unless measured, is assumed from how the insert is driven, no source",
    ),
    "insert_proud": ("e >= how far the insert stands out of the underside", "derived"),
    "tip_through": ("e >= z of the bearing face + L + 0.5 − topside", "derived; the 0.5 mm is common practice, no source"),
    "tip_meets_board": (
        "e >= z of the bearing face + L + 0.5 − underside of the board above",
        "derived; the 0.5 mm is common practice, no source",
    ),
    "bench": ("e >= z of the foot plane − z_low", "derived"),
    "shank_in_insert": ("e >= z of the bearing face + L − b − low end of the live thread", "derived; b by ISO 888 (from memory)"),
    "shank_in_nut": ("e >= z_K + L − b − low end of the nut", "derived; b by ISO 888 (from memory)"),
    "keeper": ("e >= 0.5", "common practice, no source"),
    "hex_at_socket_floor": ("e >= 0", "derived"),
    "post_meets_gear": ("e >= D − k + 0.5", "derived; the 0.5 mm is common practice, no source"),
    "teeth_part": ("min(tops) − max(bottoms) >= least overlap", "derived; the least overlap is common practice, no source"),
    "thread_leaves_insert": (
        "e <= z of the bearing face + L − low end of the live thread − needed thread",
        "derived; the needed thread of 1.0 d is common practice, no source",
    ),
    "nut_not_full": ("e <= z_K + L − high end of the nut − one pitch", "derived"),
    "stop_leaves_slot": ("e <= z_K + L − underside − 2 pin diameters", "common practice, no source"),
    "hex_leaves_socket": ("e <= D − min(max(0.6 k, min(4, k)), D)", "common practice, no source"),
}


def sentence_of(bound: Bound, spec: FootSpec, unit: str) -> str:
    """What bounds the stroke and where, without a full stop."""
    gear, at, party = f"`{spec.gear.id}`", f"at {length_text(bound.at_mm, unit)} extension", bound.party
    amount = length_text(bound.amount_mm, unit)
    way = spec.foot.insert.driven_from if spec.foot.insert is not None else "topside"
    if spec.other_way:
        way = "underside" if way == "topside" else "topside"
    if bound.cause.startswith(CLIMBER):
        where = f"{at} of `{spec.id}`" if bound.at_mm > NOWHERE_MM else "at every height"
        return f"{_climber_words(bound, amount)} {where}"
    if bound.cause == "bench":
        return f"{party} reaches the bench {at} of `{spec.id}`"
    if bound.cause == "teeth_part":
        ends = f"the teeth of {gear} and `{party}` share {amount} of face {at}"
        return f"{ends}, with every play against them" if bound.hard else f"{ends}, the least wanted"
    if bound.cause in ("shank_in_insert", "shank_in_nut") and bound.amount_mm <= 0.0:
        return f"the head of `{spec.id}`, threaded up to it, reaches the thread it runs in {at}"
    texts = {
        "gear_meets_board": f"{gear} meets the underside of `{party}` or the gears above it {at}",
        "tilted_rim": f"the rim of {gear}, tilted {bound.amount_mm:.2g} deg, meets the underside of `{party}` {at}",
        "insert_proud": f"the insert of `{spec.id}` stands {amount} out of the underside; {gear} meets it {at}",
        "tip_through": f"the tip of `{spec.id}`, {length_text(spec.length_mm, unit)} long, is {amount} below the topside of `{party}` {at}",
        "tip_meets_board": f"the tip of `{spec.id}`, {length_text(spec.length_mm, unit)} long, is {amount} below "
        f"the underside of `{party}` {at}",
        "shank_in_insert": f"the plain shank of `{spec.id}`, {amount} long, reaches the live thread of its insert {at}",
        "shank_in_nut": f"the plain shank of `{spec.id}`, {amount} long, reaches its nut {at}",
        "keeper": f"the foot of `{spec.id}` is {amount} below its keeper {at}",
        "hex_at_socket_floor": f"the head of `{spec.id}` meets the floor of its socket {at}",
        "post_meets_gear": f"the post of `{spec.id}`, wider than its socket, is {amount} below {gear} {at}",
        "thread_leaves_insert": f"the insert of `{spec.id}`, driven from the {way}, keeps {amount} of live thread {at}",
        "nut_not_full": f"the nut of `{spec.id}` keeps {amount} of thread {at}",
        "stop_leaves_slot": f"the cross pin of `{spec.id}` comes to the end of its slot in `{party}` {at}",
        "hex_leaves_socket": f"the socket of `{spec.id}` keeps {amount} of the head {at}",
    }
    return texts[bound.cause]


def _climber_words(bound: Bound, amount: str) -> str:
    gear, base = f"the climbing gear `{bound.gear}`", bound.cause.removeprefix(CLIMBER)
    if base == "teeth_part":
        return f"the teeth of {gear} and of `{bound.party}` share {amount} of face"
    if base == "thread_leaves_insert":
        return f"the insert of {gear} keeps {amount} of live thread"
    if base == "bench":
        return f"{gear} or its head reaches the bench"
    if base.startswith("tip_"):
        return f"the tip of the screw of {gear} is {amount} below the face over it"
    if base == "shank_in_insert":
        return f"the plain shank of the screw of {gear} reaches the live thread of its insert"
    return f"{gear} meets its board or what stands out of it"


def origin_of(bound: Bound, spec: FootSpec) -> Origin | None:
    """The fact to point at: the length for the tip and the thread, the pocket's or socket's depth, the neighbour's mesh by its gear."""
    foot = spec.foot
    origin: Origin | None = foot.origin
    length = foot.length.origin if foot.length is not None else None
    if bound.cause in ("tip_through", "tip_meets_board", "shank_in_insert", "shank_in_nut", "thread_leaves_insert", "nut_not_full"):
        origin = length or origin
    elif bound.cause in ("hex_leaves_socket", "post_meets_gear", "hex_at_socket_floor") and foot.socket_depth is not None:
        origin = foot.socket_depth.origin or origin
    elif bound.cause == "stop_leaves_slot" and foot.rod_stop_diameter is not None:
        origin = foot.rod_stop_diameter.origin or origin
    elif bound.cause in ("teeth_part", "gear_meets_board", "tilted_rim"):
        origin = spec.gear.gear.name.origin or origin
    return origin


def formula_of(cause: str) -> tuple[str, str]:
    """Formula and source of a cause."""
    formula, source = FORMULAS[cause.removeprefix(CLIMBER)]
    return (f"{formula}, with its own e = start + r (e of the foot − e0)", source) if cause.startswith(CLIMBER) else (formula, source)


def limit_of(
    bound: Bound, spec: FootSpec, worst_mm: float, low_cause: str, unit: str, remedies: Sequence[tuple[str, float]] = ()
) -> Limit:
    """The whole record."""
    formula, source = formula_of(bound.cause)
    parts = [spec.id, spec.gear.id, *([bound.gear] if bound.gear else [])]
    if bound.party and bound.cause != "bench" and bound.party not in parts:
        parts.append(bound.party)
    return Limit(
        end=bound.end,
        cause=low_cause if bound.cause == "bench" else bound.cause,
        sentence=sentence_of(bound, spec, unit),
        extension_mm=bound.at_mm,
        extension_worst_mm=worst_mm,
        parts=tuple(parts),
        hard=bound.hard,
        then=THEN[bound.cause.removeprefix(CLIMBER)],
        remedies=tuple(remedies),
        origin=origin_of(bound, spec),
        because=Because(
            quantity=f"extension of {spec.id}, {bound.end}",
            value=length_text(bound.at_mm, unit),
            formula=formula,
            inputs=_inputs(bound, spec, unit),
            source=source,
        ),
    )


def _inputs(bound: Bound, spec: FootSpec, unit: str) -> tuple[tuple[str, str, Origin | None], ...]:
    foot = spec.foot
    width = spec.gear.face_width
    found: list[tuple[str, str, Origin | None]] = [
        ("screw length L", length_text(spec.length_mm, unit), foot.length.origin if foot.length is not None else foot.origin),
        ("gear thickness", length_text(width.mean, unit), width.origin),
    ]
    if foot.kind == "riding":
        found.append(
            ("head pocket p", length_text(spec.pocket_mm, unit), foot.pocket.origin if foot.pocket is not None else foot.origin)
        )
    if bound.amount_mm and bound.cause != "tilted_rim":
        found.append(("margin", length_text(bound.amount_mm, unit), None))
    return tuple(found)
