"""What stands on the bench, explained: flats and their rocking, what rubs, sideways shift, the flush asked for, metal under cut zones."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import trivet.tables.explanation_faces as faces
import trivet.tables.explanation_feet as feet
import trivet.tables.explanation_lift as lifts
from trivet.solve.board_levels import boards_at
from trivet.solve.corner import MEAN
from trivet.solve.derived import FootState
from trivet.solve.flush import lean, sideways_mm, tilt_deg
from trivet.solve.metal import Metal, ZoneMetal, metal_in_zones
from trivet.tables.explanation import DERIVED, Entry, Number, computed, found, given
from trivet.tables.explanation_backlash import tilt_number
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_levels import SAME, work_surface
from trivet.tables.explanation_load import DISC, HIGH, LOW, rubbing
from trivet.tables.explanation_mesh import tip


def bench_entries(facts: Facts) -> Iterator[Entry]:
    """Of each foot, of the board, and of each cut zone."""
    for index, foot in enumerate(facts.derived.feet):
        path: tuple[str | int, ...] = ("bench", index)
        yield Entry("flat_radius", (foot.id,), (*path, "flat_radius_mm"), partial(flat_radius, facts, foot))
        for end, key in ((LOW, "at_least"), (HIGH, "at_most")):
            yield Entry(f"rub_{key}", (foot.id,), (*path, "rub_nmm_per_n", key), partial(_rub, facts, foot, end))
        yield Entry("rock", (foot.id,), (*path, "rock_once_a_turn_mm"), partial(_rock, facts, foot))
    lift = facts.derived.lift
    if lift is not None and lift.travel_mm > 0.0:
        yield Entry("sideways", (), ("flush", "sideways_mm"), partial(_sideways, facts))
        stated = [item for item in facts.design.requires if item.kind == "flush_within" and item.high is not None]
        if stated:
            strictest = min(stated, key=lambda item: item.high or 0.0)
            words = "how far off flush the board may be, the strictest that is required"
            explain = partial(given, "flush_required", words, strictest.high or 0.0, origin=strictest.origin)
            yield Entry("flush_required", (), ("flush", "required_mm"), explain)
    yield from _zones(facts)


def flat_radius(facts: Facts, foot: FootState) -> Number:
    """Radius of the flat that stands on the bench; 0 for what stands on a point."""
    return facts.once(("flat", foot.id), lambda: _flat_radius(facts, foot))


def _flat_radius(facts: Facts, foot: FootState) -> Number:
    symbol, pad = f"r_{foot.id}", foot.foot.pad
    if foot.touches == "gear":
        da = tip(facts, foot.gear)
        return computed(symbol, f"the gear `{foot.gear}` stands on the bench itself", f"{da.symbol} / 2", DERIVED, da)
    words = f"radius of the flat on which `{foot.id}` stands"
    head = foot.foot.screw.head if foot.foot.screw is not None else None
    if pad.kind == "disc" and pad.diameter is not None:
        wide = given("D_pad", "diameter of the pad", pad.diameter.mm, origin=pad.diameter.origin)
        return computed(symbol, words, "D_pad / 2", DERIVED, wide)
    if pad.kind == "head" and head is not None:
        across = given("s", "the head across: its flats, else its diameter", head.across_flats_mm or head.diameter_mm, origin=head.origin)
        return computed(symbol, words, "s / 2", DERIVED, across)
    return given(symbol, words, 0.0, origin=pad.origin, source=f"a {pad.kind} stands on a point, or states no diameter")


def _rub(facts: Facts, foot: FootState, end: int) -> Number:
    friction, radius = rubbing(facts, foot, end)
    words = f"torque to rub `{foot.id}` round for each newton on it"
    formula = f"2 / 3 · {friction.symbol} · {radius.symbol}"
    return computed("rub", words, formula, DISC, friction, radius, unit="N·mm per N")


def _rock(facts: Facts, foot: FootState) -> Number:
    words = f"how far `{foot.id}` rises and falls once a turn"
    if foot.foot.kind == "captured_nut":
        return given("rock", words, 0.0, source="its rod does not turn on the bench")
    radius, tilt = flat_radius(facts, foot), tilt_number(facts, tilt_deg(facts.design, foot), foot.id)
    source = f"{DERIVED}; how far a gear leans on its screw is taken as the insert's tilt"
    return computed("rock", words, f"2 · {radius.symbol} · tan({tilt.symbol})", source, radius, tilt)


def _sideways(facts: Facts) -> Number:
    """Of the foot that allows most: the slope of its thread times what stands out below the live thread."""
    lift = lifts.lift_of(facts)
    foot = max(facts.derived.feet, key=lambda item: sideways_mm(facts.design, lift, item))
    held, words = lean(foot), f"how far play lets the board shift along the bench at the greatest height, at `{foot.id}`"
    if held is None or foot.live_z_mm is None:
        return given("sideways", words, 0.0, source="no thread is engaged")
    formula, terms, _ = held
    inputs = []
    for term in terms:
        if term.symbol == "L":
            inputs.append(feet.engagement(facts, foot.id, faces.end_extension(facts, foot.id, "most")))
            formula = formula.replace("/ L", f"/ {inputs[-1].symbol}")
        else:
            inputs.append(given(term.symbol, term.words, term.value, term.unit, term.origin, term.source))
    low = feet.live_ends(facts, MEAN, foot.id)[0]
    top, high = work_surface(facts, MEAN, foot.foot.into.text), lifts.highest_reported(facts)
    text = f"{formula} · max(0, {low.symbol} − ({top.symbol} − {high.symbol}))"
    return computed("sideways", words, text, f"{DERIVED}; the play of a thread is assumed, no source", *inputs, low, top, high)


def _zones(facts: Facts) -> Iterator[Entry]:
    for index, item in enumerate(metal_in_zones(facts.design, facts.derived)):
        zone, path = item.zone, ("cut_zones", index)
        name = zone.name.text
        for quantity, held, key in (("zone_width", zone.width, "width_mm"), ("zone_depth", zone.depth, "depth_mm")):
            words = f"{key.removesuffix('_mm')} of the cut zone `{name}`, as stated"
            yield Entry(quantity, (name,), (*path, key), partial(given, quantity, words, held.mm, origin=held.origin))
        for quantity, metal, key in (
            ("zone_metal_free", item.inside, "metal_free_mm"),
            ("zone_elsewhere_metal_free", item.outside, "elsewhere_metal_free_mm"),
        ):
            if metal:
                yield Entry(quantity, (name,), (*path, key), partial(_cover, facts, item, metal[0], quantity))


def _cover(facts: Facts, item: ZoneMetal, metal: Metal, quantity: str) -> Number:
    """The wood over the metal that comes nearest to the topside."""
    board, solid = item.zone.into.text, metal.solid
    words = f"least wood over metal in `{board}`, {'under' if quantity == 'zone_metal_free' else 'outside'} the zone"
    what = f"top of the {solid.kind.replace('_', ' ')} of `{solid.part}`"
    how = "the highest it comes to over the whole stroke, at every combination of thin and thick sheets: it is nearest here"
    for solids in facts.derived.solids:
        place = boards_at(facts.design, solids.board).z[board]
        if any(held == solid and abs(place.top_mm - held.high_mm - metal.cover_mm) < SAME for held in solids.solids):
            thick = facts.board_thickness(board, solids.board)
            under = given(f"z_{board}", f"underside of `{board}` at this combination", place.under_mm, source="boards lie on one another")
            high = found("z_metal", what, solid.high_mm, how, DERIVED)
            return computed("cover", words, f"{under.symbol} + {thick.symbol} − {high.symbol}", DERIVED, under, thick, high)
    high = found("z_metal", f"{what}, below the topside", metal.cover_mm, how, DERIVED)
    return computed("cover", words, high.symbol, DERIVED, high)
