"""What ends a foot's stroke, explained at one combination of sheets."""

from __future__ import annotations

from collections.abc import Callable

from trivet.solve.corner import Corner
from trivet.solve.face_overlap import LEAST_OVERLAP_MM, PARTING_OVERLAP_MM
from trivet.solve.foot_case import TIP_BELOW_MM, Bound
from trivet.solve.limit_words import formula_of
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_backlash import tilt_number
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import (
    bearing,
    dropped,
    head,
    height_at_zero,
    keeper,
    live_ends,
    major,
    pitch,
    pocket,
    screw_length,
    threaded,
)
from trivet.tables.explanation_fixed import face_against, fixed_top
from trivet.tables.explanation_levels import SAME, drop, stack_width, underside
from trivet.tables.explanation_low import low_point
from trivet.tables.explanation_mesh import tip

Maker = Callable[[Facts, Corner, str, Bound], tuple[str, tuple[Number, ...]]]


def extension(facts: Facts, corner: Corner, foot: str, bound: Bound) -> Number:
    """The extension at which a bound holds; by its formula, or with its inputs alone where other stacks count too."""
    return facts.once(("extension", corner, foot, bound), lambda: _extension(facts, corner, foot, bound))


def _extension(facts: Facts, corner: Corner, foot: str, bound: Bound) -> Number:
    formula, source = formula_of(bound.cause)
    symbol = f"e_{bound.end}_{foot}"
    words = f"{bound.end} extension of `{foot}`, by {bound.cause.replace('_', ' ')}" + (
        f" at `{bound.party}`" if bound.cause == "teeth_part" else ""
    )
    make = _MAKERS.get(bound.cause)
    if make is not None:
        text, inputs = make(facts, corner, foot, bound)
        number = computed(symbol, words, text, source, *dict.fromkeys(inputs))
        if abs(number.value - bound.at_mm) < SAME:
            return number
        return found(symbol, words, bound.at_mm, formula, source, *dict.fromkeys(inputs))
    return found(symbol, words, bound.at_mm, formula, source, bearing(facts, corner, foot), screw_length(facts, foot))


def height(facts: Facts, corner: Corner, foot: str, bound: Bound, symbol: str, words: str) -> Number:
    """Height of the work surface where a bound holds."""
    zero, out = height_at_zero(facts, corner, foot), extension(facts, corner, foot, bound)
    return computed(
        symbol,
        f"{words}, ended by {bound.cause.replace('_', ' ')} at `{foot}`",
        f"{zero.symbol} + {out.symbol}",
        DERIVED,
        zero,
        out,
    )


def _ceiling(facts: Facts, corner: Corner, foot: str, bound: Bound) -> Number:
    base = underside(facts, corner, bound.party)
    if bound.cause == "tip_meets_board":
        return base
    board = facts.board_thickness(bound.party, corner.board)
    return computed(f"top_{bound.party}", f"topside of `{bound.party}`", f"{base.symbol} + {board.symbol}", DERIVED, base, board)


def _room() -> Number:
    return given("r", "room left at a face", TIP_BELOW_MM, source=PRACTICE)


def _levels(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    level = drop(facts, corner, facts.stroked.specs[foot].stack[0].level)
    return level.symbol, (level,)


def _tilted(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    spec = facts.stroked.specs[foot]
    widest = max(spec.stack, key=lambda state: state.geometry.tip_radius_mm)
    da, tilt = tip(facts, widest.id), tilt_number(facts, bound.amount_mm, foot)
    return f"{da.symbol} / 2 · tan({tilt.symbol})", (da, tilt)


def _tip(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    u, whole, top, room = bearing(facts, corner, foot), screw_length(facts, foot), _ceiling(facts, corner, foot, bound), _room()
    return f"{u.symbol} + {whole.symbol} − {top.symbol} + {room.symbol}", (u, whole, top, room)


def _bench(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    u, k, q, low = bearing(facts, corner, foot), head(facts, corner, foot), dropped(facts, foot), low_point(facts, corner)
    kind = facts.stroked.specs[foot].foot.kind
    if kind == "riding":
        p = pocket(facts, corner, foot)
        return f"{u.symbol} − {p.symbol} − max(0, {k.symbol} + {q.symbol} − {p.symbol}) − {low.symbol}", (u, p, k, q, low)
    if kind == "captured_nut":
        return f"{u.symbol} − {q.symbol} − {low.symbol}", (u, q, low)
    return f"{u.symbol} − {k.symbol} − {q.symbol} − {low.symbol}", (u, k, q, low)


def _shank(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    u, whole, b, low = (
        bearing(facts, corner, foot),
        screw_length(facts, foot),
        threaded(facts, foot),
        live_ends(facts, corner, foot)[0],
    )
    return f"{u.symbol} + {whole.symbol} − {b.symbol} − {low.symbol}", (u, whole, b, low)


def _leaves(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    u, whole, (low, high) = bearing(facts, corner, foot), screw_length(facts, foot), live_ends(facts, corner, foot)
    d, turn = major(facts, foot), pitch(facts, foot)
    least = f"min({d.symbol}, {high.symbol} − {low.symbol})"
    inputs: tuple[Number, ...] = (d, high, low)
    if bound.hard:
        least, inputs = f"min({turn.symbol}, {least})", (turn, *inputs)
    need = computed(
        "need",
        "thread that must stay: one pitch" if bound.hard else "thread that must stay: 1.0 d, or all that is live",
        least,
        PRACTICE,
        *inputs,
    )
    return f"{u.symbol} + {whole.symbol} − {low.symbol} − {need.symbol}", (u, whole, low, need)


def _nut(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    z, whole, (low, high), turn = (
        keeper(facts, corner, foot),
        screw_length(facts, foot),
        live_ends(facts, corner, foot),
        pitch(facts, foot),
    )
    end = low if bound.hard else high
    return f"{z.symbol} + {whole.symbol} − {end.symbol} − {turn.symbol}", (z, whole, end, turn)


def _slot(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    stop = facts.stroked.specs[foot].foot.rod_stop_diameter
    z, whole, base = keeper(facts, corner, foot), screw_length(facts, foot), underside(facts, corner, bound.party)
    pin = given("pin", "diameter of the cross pin", bound.amount_mm, origin=stop.origin if stop is not None else None)
    return f"{z.symbol} + {whole.symbol} − {base.symbol} − {'1.5' if bound.hard else '2'} · {pin.symbol}", (z, whole, base, pin)


def _keeper(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    room = _room()
    return room.symbol, (room,)


def _proud(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    out = found(
        "out",
        "how far the insert stands out of the underside",
        bound.at_mm,
        "the board's underside less the insert's lower end",
        DERIVED,
    )
    return out.symbol, (out,)


def _hex_leaves(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    depth, k = _socket_depth(facts, corner, foot), head(facts, corner, foot)
    need = f"min(max(0.6 · {k.symbol}, min(4, {k.symbol})), {depth.symbol})"
    return f"{depth.symbol} − " + (f"min(1, {need})" if bound.hard else need), (depth, k)


def _post(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    depth, k, room = _socket_depth(facts, corner, foot), head(facts, corner, foot), _room()
    return f"{depth.symbol} − {k.symbol} + {room.symbol}", (depth, k, room)


def _socket_depth(facts: Facts, corner: Corner, foot: str) -> Number:
    from trivet.solve.foot_sliding_hex import socket_mm

    spec = facts.stroked.specs[foot]
    stated = spec.foot.socket_depth
    value = socket_mm(spec, facts.stroked.world(corner), corner)
    if stated is not None and abs(stated.mm - value) < SAME:
        return given(f"D_{foot}", "depth of the socket", value, origin=stated.origin)
    return found(f"D_{foot}", "depth of the socket", value, "as stated, with its error, no deeper than the gear is thick", DERIVED)


def _floor(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    return "0", ()


def _teeth(facts: Facts, corner: Corner, foot: str, bound: Bound) -> tuple[str, tuple[Number, ...]]:
    """top − e against the mate: the face that both share is the overlap wanted."""
    spec, mate = facts.stroked.specs[foot], bound.party
    fixed = facts.stroked.world(corner).fixed[mate]
    base = underside(facts, corner, spec.foot.into.text)
    index, state = next(
        (n, item)
        for n, item in enumerate(spec.stack)
        if any(other == mate for _, other in facts.stroked.world(corner).neighbours.get(item.id, ()))
    )
    over, g, other = (
        stack_width(facts, corner, spec.stack[:index]),
        facts.gear_width(state.id, corner.gear),
        facts.gear_width(mate, corner.gear),
    )
    want = _wanted(facts, state.id, mate, g, other, bound.hard)
    above = f" − {over[0]}" if index else ""
    if corner.worst or bound.hard:
        low_end = bound.end == "least"
        face = fixed.lowest_top_mm if low_end else fixed.highest_bottom_mm
        mate_face = face_against(facts, corner, mate, "top" if low_end else "bottom", face)
        text = (
            f"{base.symbol}{above} − {g.symbol} − {mate_face.symbol} + {want.symbol}"
            if low_end
            else f"{base.symbol}{above} − {mate_face.symbol} − {want.symbol}"
        )
        return text, (base, *over[1], g, mate_face, want)
    top = fixed_top(facts, corner, mate)
    if bound.end == "least":
        return f"{base.symbol}{above} − {g.symbol} − {top.symbol} + {want.symbol}", (base, *over[1], g, top, want)
    return f"{base.symbol}{above} − ({top.symbol} − {other.symbol}) − {want.symbol}", (base, *over[1], top, other, want)


def _wanted(facts: Facts, gear: str, mate: str, g: Number, other: Number, hard: bool) -> Number:
    forms = [facts.form(name) for name in (gear, mate)]
    stated = [form.face_overlap for form in forms if form.face_overlap is not None]
    inputs: tuple[Number, ...] = (g, other)
    if stated:
        most = max(stated, key=lambda item: item.mm)
        least = given("face_overlap", "least overlap stated", most.mm, origin=most.origin)
        text, inputs, source = f"min({least.symbol}, {g.symbol}, {other.symbol})", (least, g, other), "as the tooth form states"
    else:
        text, inputs, source = (
            f"min(max({LEAST_OVERLAP_MM:g}, min({g.symbol}, {other.symbol}) / 2), {g.symbol}, {other.symbol})",
            inputs,
            PRACTICE,
        )
    if hard:
        text, source = f"min({PARTING_OVERLAP_MM:g}, {text})", PRACTICE
    return computed("want", f"overlap of `{gear}` and `{mate}` that must stay", text, source, *dict.fromkeys(inputs))


_MAKERS: dict[str, Maker] = {
    "gear_meets_board": _levels,
    "tilted_rim": _tilted,
    "tip_through": _tip,
    "tip_meets_board": _tip,
    "bench": _bench,
    "shank_in_insert": _shank,
    "shank_in_nut": _shank,
    "thread_leaves_insert": _leaves,
    "nut_not_full": _nut,
    "stop_leaves_slot": _slot,
    "keeper": _keeper,
    "insert_proud": _proud,
    "hex_leaves_socket": _hex_leaves,
    "post_meets_gear": _post,
    "hex_at_socket_floor": _floor,
    "teeth_part": _teeth,
}


def same_bound(one: Bound, other: Bound) -> bool:
    """Whether two bounds are the same at two combinations."""
    return (one.end, one.cause, one.hard, one.cause == "bench" or one.party) == (
        other.end,
        other.cause,
        other.hard,
        other.cause == "bench" or other.party,
    )
