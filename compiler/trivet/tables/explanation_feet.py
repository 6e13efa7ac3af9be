"""One foot, explained at one combination of sheets: where it bears and stands, where its thread is live, how high the board is."""

from __future__ import annotations

from trivet.model.hardware import Head, Insert
from trivet.solve.corner import MEAN, Corner, head_height_mm
from trivet.solve.foot_case import KEEPER_PLAY_MM
from trivet.solve.rise import exact_lead_mm
from trivet.source import Origin
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_levels import SAME, drop, stack_width, underside, work_surface
from trivet.tables.explanation_nut import nut_ends

RISE = "derived: a screw moves along its axis by its lead for a turn"
# What a report's number that lies in the future rests on.
SIGNS = {-1: "least", 0: "nominal", 1: "most"}


def lead(facts: Facts, foot: str) -> Number:
    """Lead of the foot's thread."""
    thread = facts.stroked.specs[foot].foot.thread
    words = f"lead of {thread.designation}: pitch times starts"
    return facts.once(
        ("lead", thread.designation),
        lambda: given(f"lead_{foot}", words, float(exact_lead_mm(thread.lead_mm)), origin=thread.origin),
    )


def screw_length(facts: Facts, foot: str) -> Number:
    """Length of the foot's screw or rod."""
    spec = facts.stroked.specs[foot]
    stated = spec.foot.length
    if stated is not None:
        return facts.once(
            ("L", foot), lambda: given(f"L_{foot}", f"length of the screw of `{foot}`", stated.mm, origin=stated.origin)
        )
    how = "the stock length that gives the most travel"
    return facts.once(("L", foot), lambda: found(f"L_{foot}", f"length of the screw of `{foot}`", spec.length_mm, how, DERIVED))


def threaded(facts: Facts, foot: str) -> Number:
    """Threaded length of the screw."""
    spec, whole = facts.stroked.specs[foot], screw_length(facts, foot)
    words = f"threaded length of the screw of `{foot}`"
    screw = spec.foot.screw
    if screw is None or screw.threaded.full:
        return facts.once(("b", foot), lambda: computed(f"b_{foot}", f"{words}: all of it", whole.symbol, DERIVED, whole))
    extra = spec.threaded_mm - screw.threaded.factor * spec.foot.thread.major_mm
    if spec.threaded_mm >= spec.length_mm:
        return facts.once(
            ("b", foot),
            lambda: computed(
                f"b_{foot}",
                f"{words}: short screws are threaded throughout",
                whole.symbol,
                "the threads' lengths of its standard (from memory)",
                whole,
            ),
        )
    d, source = major(facts, foot), "the threads' lengths of its standard (from memory)"
    more = given(f"more_{foot}", "allowance of the thread's length", extra, origin=screw.threaded.origin, source=source)
    return facts.once(
        ("b", foot),
        lambda: computed(f"b_{foot}", words, f"{screw.threaded.factor:g} · {d.symbol} + {more.symbol}", source, d, more),
    )


def major(facts: Facts, foot: str) -> Number:
    """Major diameter of the thread."""
    thread = facts.stroked.specs[foot].foot.thread
    return facts.once(
        ("d", foot), lambda: given(f"d_{foot}", f"diameter of {thread.designation}", thread.major_mm, origin=thread.origin)
    )


def pitch(facts: Facts, foot: str) -> Number:
    """Pitch of the thread."""
    thread = facts.stroked.specs[foot].foot.thread
    return facts.once(
        ("pitch", foot), lambda: given(f"pitch_{foot}", f"pitch of {thread.designation}", thread.pitch_mm, origin=thread.origin)
    )


def depth(facts: Facts) -> Number:
    """The shop's error of depths."""
    return facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)


def head(facts: Facts, corner: Corner, foot: str) -> Number:
    """Height of the head at a combination."""
    made = facts.stroked.specs[foot].foot.screw
    if made is None:
        return given(f"k_{foot}", "head", 0.0, source="a rod has none")
    held: Head = made.head
    words = f"height of the head, {SIGNS[corner.head]}"
    return facts.once(
        ("k", foot, corner.head), lambda: given(f"k_{foot}", words, head_height_mm(held, corner.head), origin=held.origin)
    )


def dropped(facts: Facts, foot: str) -> Number:
    """Height of the pad or post under the head."""
    pad = facts.stroked.specs[foot].foot.pad
    if pad.drop is not None:
        held = pad.drop
        return facts.once(
            ("q", foot), lambda: given(f"q_{foot}", f"height of the {pad.kind} under the head", held.mm, origin=held.origin)
        )
    return facts.once(("q", foot), lambda: given(f"q_{foot}", "height of a pad", 0.0, source="none is stated"))


def pocket(facts: Facts, corner: Corner, foot: str) -> Number:
    """Depth of the head's pocket in a riding gear."""
    spec = facts.stroked.specs[foot]
    symbol = f"p_{foot}"

    def nominal() -> Number:
        stated = spec.foot.pocket
        if stated is not None:
            return given(symbol, "depth of the head's pocket", stated.mm, origin=stated.origin)
        return given(
            symbol,
            "depth of the head's pocket: as the head is high",
            spec.pocket_mm,
            origin=spec.foot.screw.head.origin if spec.foot.screw else None,
        )

    plain = facts.once(("p", foot), nominal)
    if corner.depth == 0 or spec.pocket_mm <= 0.0:
        return plain
    sign, error = ("+" if corner.depth > 0 else "−"), depth(facts)
    return facts.once(
        ("p", foot, corner.depth),
        lambda: computed(
            f"{symbol}_worst",
            "depth of the pocket with its error",
            f"max(0, {plain.symbol} {sign} {error.symbol})",
            DERIVED,
            plain,
            error,
        ),
    )


def bearing(facts: Facts, corner: Corner, foot: str) -> Number:
    """z of the face that the head (or the rod's end) bears on, at no extension."""
    spec, case = facts.stroked.specs[foot], facts.stroked.cases[corner][foot]

    def make() -> Number:
        words = f"bearing face of the head of `{foot}` at no extension"
        if spec.foot.kind == "riding":
            base, (text, widths), p = (
                underside(facts, corner, spec.foot.into.text),
                stack_width(facts, corner, spec.stack),
                pocket(facts, corner, foot),
            )
            return computed(f"u_{foot}", words, f"{base.symbol} − {text} + {p.symbol}", DERIVED, base, *widths, p)
        if spec.foot.kind == "captured_nut":
            return keeper(facts, corner, foot)
        return _sliding(facts, corner, foot, words, case.bearing_mm)

    return facts.once(("u", foot, corner), make)


def keeper(facts: Facts, corner: Corner, foot: str) -> Number:
    """z of the keeper's underside."""
    spec = facts.stroked.specs[foot]
    top, play = _hung(facts, corner, foot), given("play_keeper", "play over a keeper", KEEPER_PLAY_MM, source=PRACTICE)
    inputs = [*top, *(facts.gear_width(state.id, 1) for state in spec.stack), play]
    if spec.foot.keeper is not None:
        inputs.append(facts.sheet(spec.foot.keeper.stock.text, corner.gear))
    formula = " − ".join(item.symbol for item in inputs)
    words = f"underside of the keeper of `{foot}`, which stands off by the thickest gears and play"
    return facts.once(
        ("zK", foot, corner), lambda: computed(f"zK_{foot}", words, formula, f"{DERIVED}; the play is {PRACTICE}", *inputs)
    )


def _hung(facts: Facts, corner: Corner, foot: str) -> list[Number]:
    """What to subtract for the face that the gears of a foot with a keeper hang under."""
    spec = facts.stroked.specs[foot]
    level = spec.stack[0].level
    return [underside(facts, corner, spec.foot.into.text), *([drop(facts, corner, level)] if level else [])]


def _sliding(facts: Facts, corner: Corner, foot: str, words: str, value: float) -> Number:
    """The gear lies on its keeper; the head bears on the floor of its socket."""
    spec = facts.stroked.specs[foot]
    inputs = [*_hung(facts, corner, foot), *(facts.gear_width(state.id, 1) for state in spec.stack)]
    inputs.append(given("play_keeper", "play over a keeper", KEEPER_PLAY_MM, source=PRACTICE))
    formula = " − ".join(item.symbol for item in inputs)
    socket = spec.foot.socket_depth
    if socket is not None:
        deep = given(f"socket_{foot}", "depth of the socket", socket.mm, origin=socket.origin)
        inputs.append(deep)
        formula += f" + {deep.symbol}"
        if corner.depth:
            error = depth(facts)
            inputs.append(error)
            formula += f" {'+' if corner.depth > 0 else '−'} {error.symbol}"
    number = computed(f"u_{foot}", words, formula, f"{DERIVED}; the play is {PRACTICE}", *inputs)
    if abs(number.value - value) < SAME:
        return number
    return found(f"u_{foot}", words, value, "the floor of the socket, which ends at the gear's top face", DERIVED, *inputs)


def height_at_zero(facts: Facts, corner: Corner, foot: str) -> Number:
    """Height of the work surface above the bench at no extension of the foot."""
    spec = facts.stroked.specs[foot]

    def make() -> Number:
        top, u = work_surface(facts, corner, spec.foot.into.text), bearing(facts, corner, foot)
        k, q = head(facts, corner, foot), dropped(facts, foot)
        words = f"height of the work surface at no extension of `{foot}`"
        if spec.foot.kind == "riding":
            p = pocket(facts, corner, foot)
            formula = f"{top.symbol} − ({u.symbol} − {p.symbol} − max(0, {k.symbol} + {q.symbol} − {p.symbol}))"
            return computed(f"H0_{foot}", words, formula, DERIVED, top, u, p, k, q)
        if spec.foot.kind == "captured_nut":
            return computed(f"H0_{foot}", words, f"{top.symbol} − ({u.symbol} − {q.symbol})", DERIVED, top, u, q)
        return computed(f"H0_{foot}", words, f"{top.symbol} − ({u.symbol} − {k.symbol} − {q.symbol})", DERIVED, top, u, k, q)

    return facts.once(("H0", foot, corner), make)


def live_ends(facts: Facts, corner: Corner, foot: str) -> tuple[Number, Number]:
    """z of the low and the high end of the live thread of the foot's insert or nut."""
    ends = _live_ends(facts, corner, foot)
    return facts.once(("low", foot, corner), lambda: ends[0]), facts.once(("high", foot, corner), lambda: ends[1])


def _live_ends(facts: Facts, corner: Corner, foot: str) -> tuple[Number, Number]:
    spec, zone = facts.stroked.specs[foot], facts.stroked.cases[corner][foot].zone
    assert zone is not None
    use = spec.foot.insert
    if use is None or not isinstance(use.hardware, Insert):
        return nut_ends(facts, corner, foot, (zone.low_mm, zone.high_mm))
    insert = use.hardware
    length = _of_insert(facts, foot, "l", "length of the insert", insert.length_mm, insert.origin)
    live_from = _of_insert(facts, foot, "from", "where its thread begins, from the driving end", insert.live_from_mm, insert.origin)
    live_to = _of_insert(facts, foot, "to", "where its thread ends, from the driving end", insert.live_to_mm, insert.origin)
    base = underside(facts, corner, spec.foot.into.text)
    terms, text = [base], base.symbol
    if use.flush == "topside":
        board = facts.board_thickness(spec.foot.into.text, corner.board)
        terms += [board, length]
        text += f" + {board.symbol} − {length.symbol}"
    if use.proud is not None:
        proud = given(f"proud_{foot}", "how far the insert stands out", use.proud.mm, origin=use.proud.origin)
        terms.append(proud)
        text += f" {'−' if use.flush == 'underside' else '+'} {proud.symbol}"
    ends = []
    for which, from_above, from_below in (("low", live_to, live_from), ("high", live_from, live_to)):
        if use.driven_from == "topside":
            formula, inputs = f"{text} + {length.symbol} − {from_above.symbol}", [*terms, length, from_above]
        else:
            formula, inputs = f"{text} + {from_below.symbol}", [*terms, from_below]
        ends.append(
            computed(
                f"{which}_{foot}",
                f"{which} end of the live thread, driven from the {use.driven_from}",
                formula,
                DERIVED,
                *dict.fromkeys(inputs),
            )
        )
    return ends[0], ends[1]


def _of_insert(facts: Facts, foot: str, letter: str, words: str, value: float, origin: Origin | None) -> Number:
    return facts.once(("insert", letter, foot), lambda: given(f"{letter}_{foot}", words, value, origin=origin))


def engagement(facts: Facts, foot: str, extension: Number) -> Number:
    """Screw thread inside the live thread, at an extension, mean sheets."""
    zone = facts.stroked.cases[MEAN][foot].zone
    if zone is None:
        return given(f"E_{foot}", f"engagement of `{foot}`", 0.0, source="nothing holds its thread")
    low, high = live_ends(facts, MEAN, foot)
    u, whole, b = bearing(facts, MEAN, foot), screw_length(facts, foot), threaded(facts, foot)
    tip = computed(
        f"tip_{foot}", "the screw's tip", f"{u.symbol} + {whole.symbol} − {extension.symbol}", DERIVED, u, whole, extension
    )
    formula = f"max(0, min({tip.symbol}, {high.symbol}) − max({tip.symbol} − {b.symbol}, {low.symbol}))"
    return computed(f"E_{foot}", f"engagement of `{foot}`", formula, DERIVED, tip, high, b, low)
