"""Numbers about the fixture in use, explained: what is off flush, what lies past the travel, what teeth and nuts bear."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

import trivet.tables.explanation_faces as faces
import trivet.tables.explanation_feet as feet
import trivet.tables.explanation_flush as flushes
import trivet.tables.explanation_lift as lifts
import trivet.tables.explanation_mesh as meshes
import trivet.tables.explanation_teeth as teeth
from trivet.solve.beyond import Beyond, beyond_of
from trivet.solve.corner import MEAN
from trivet.solve.flush import flush_of
from trivet.solve.library_figures import METAL_ON_WOOD, RUB_SOURCE, THREAD_FRICTION, THREAD_FRICTION_SOURCE, TOOTH_SOURCE
from trivet.solve.locking import PRESSURE, bearing_mm, nut_hold
from trivet.solve.power_screw import pitch_diameter_mm
from trivet.solve.tooth_strength import LEWIS_SOURCE, SHEAR_PEAK, Strength, ToothLoad, strength_of
from trivet.tables.explanation import DERIVED, Entry, Number, computed, given
from trivet.tables.explanation_facts import Facts

Made = Callable[[], Number]
SCREWS = "textbooks on power screws (Wentzell, Machine Elements, examples 18.1 to 18.3, by a published copy)"


def entries_of_use(facts: Facts, per_turn: Made, speeds: Callable[[], Mapping[str, Number]]) -> Iterator[Entry]:
    """All of them; `per_turn`: rise for a turn of the drive; `speeds`: signed turns of each gear."""
    yield from _flush(facts, per_turn)
    for index, item in enumerate(beyond_of(facts.derived)):
        for quantity, key in (("beyond", "mm"), ("beyond_turns", "turns")):
            yield Entry(
                quantity, (item.end, item.cause), ("lift", "beyond", index, key), partial(_beyond, facts, item, key, per_turn)
            )
    yield from _strength(facts, speeds)
    for index, state in enumerate(facts.derived.drives):
        hold = nut_hold(facts.design, facts.derived, state)
        if hold.holds_nmm is not None:
            yield Entry("nuts_hold", (state.id,), ("locking", "drives", index, "holds_nmm"), partial(_holds, facts, index))


def _flush(facts: Facts, per_turn: Made) -> Iterator[Entry]:
    flush = flush_of(facts.design, facts.derived)
    if flush is None:
        return

    def part(index: int) -> Number:
        held = flush.parts[index]
        known = {"rise": per_turn()} if held.key == "setting" else {}
        if held.key == "thread_rock":
            known = {"L": feet.engagement(facts, held.where[0], faces.end_extension(facts, held.where[0], "most"))}
        return flushes.part_number(held, known)

    def whole(squares: bool) -> Number:
        return flushes.total(flush, {item.key: part(index) for index, item in enumerate(flush.parts)}, squares)

    yield Entry("flush", (), ("flush", "worst_mm"), partial(whole, False))
    yield Entry("flush_rss", (), ("flush", "rss_mm"), partial(whole, True))
    for index, item in enumerate(flush.parts):
        yield Entry("flush_part", (item.key,), ("flush", "parts", index, "mm"), partial(part, index))


def _beyond(facts: Facts, item: Beyond, key: str, per_turn: Made) -> Number:
    """mm or turns left past an end."""
    end = lifts.lowest(facts) if item.end == "least" else lifts.highest_reported(facts)
    foot = next(state for state in facts.derived.feet if state.id == item.parts[0])
    words = f"height at which {item.cause.replace('_', ' ')} ends it"
    zero = feet.height_at_zero(facts, MEAN, foot.id)
    how = f"`explain limit {item.end} {item.cause} hard`"
    past = given("e_past", f"extension of `{foot.id}` there", item.limit.extension_mm, origin=item.limit.origin, source=how)
    at = computed("H_limit", words, f"{zero.symbol} + {past.symbol}", DERIVED, zero, past)
    high, low = (end, at) if item.end == "least" else (at, end)
    left = computed("left", f"left past the {item.end} height", f"max(0, {high.symbol} − {low.symbol})", DERIVED, high, low)
    if key == "mm":
        return left
    rise = per_turn()
    return computed("turns_left", "turns left", f"{left.symbol} / {rise.symbol}", DERIVED, left, rise, unit="")


def _strength(facts: Facts, speeds: Callable[[], Mapping[str, Number]]) -> Iterator[Entry]:
    strength = strength_of(facts.design, facts.derived)
    if strength is None:
        return
    yield Entry("clutch", (), ("strength", "clutch_nmm"), partial(_clutch, facts, strength, speeds))
    for index, tooth in enumerate(strength.teeth):
        made: list[tuple[str, str, Callable[..., Number]]] = [
            ("tooth_force", "force_n", _force),
            ("tooth_face", "face_mm", _face),
            ("tooth_bending", "bending_n_per_mm2", _bending),
            ("tooth_shear", "shear_n_per_mm2", _shear),
        ]
        for quantity, key, explain in made:
            path = ("strength", "teeth", index, key)
            yield Entry(quantity, (tooth.gear, tooth.mate), path, partial(explain, facts, strength, tooth, speeds))


def _force(facts: Facts, strength: Strength, tooth: ToothLoad, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """Torque at the nearer gear over its pitch radius."""
    path = facts.derived.train.gear(tooth.gear).path
    near = tooth.mate if tooth.mate in path else tooth.gear
    turns, diameter = speeds()[near], teeth.pitch_diameter(facts, near)
    source = "" if strength.torque_origin is not None else strength.torque_source
    torque = given("T", "torque at the drive", strength.torque_nmm, "N·mm", strength.torque_origin, source)
    formula = f"{torque.symbol} / abs({turns.symbol}) / ({diameter.symbol} / 2)"
    words = f"force between `{tooth.gear}` and `{tooth.mate}` when the foot behind them jams"
    return computed("W", words, formula, "derived: nothing is lost, all of it goes into one foot", torque, turns, diameter, unit="N")


def _face(facts: Facts, strength: Strength, tooth: ToothLoad, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """Shared face at the end of the travel that has less."""
    state = facts.meshes[tooth.gear, tooth.mate]
    ends = [end for end, mm in (("least", state.overlap_at_least_mm), ("most", state.overlap_at_most_mm)) if mm is not None]
    words = f"face that `{tooth.gear}` and `{tooth.mate}` share"
    if not ends:
        one, other = facts.gear_width(tooth.gear), facts.gear_width(tooth.mate)
        return computed("F", words, f"min({one.symbol}, {other.symbol})", "derived: nothing slides", one, other)
    shared = [faces.face_overlap(facts, state, end).value for end in ends]
    source = f"the lesser of `explain face_overlap {tooth.gear} {tooth.mate}` at both ends of the travel"
    return given("F", words, max(0.0, min(shared)), source=source)


def _bending(facts: Facts, strength: Strength, tooth: ToothLoad, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """Lewis."""
    force, face = _force(facts, strength, tooth, speeds), _face(facts, strength, tooth, speeds)
    module = teeth.module(facts, tooth.gear)
    form = given("Y", f"form factor of `{tooth.gear}`", tooth.form_factor, "", source=LEWIS_SOURCE)
    formula = f"{force.symbol} / ({face.symbol} · {module.symbol} · {form.symbol})"
    source = "W. Lewis's formula, as textbooks of machine elements have it"
    return computed("bending", f"bending of a tooth of `{tooth.gear}`", formula, source, force, face, module, form, unit="N/mm2")


def _shear(facts: Facts, strength: Strength, tooth: ToothLoad, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """At the reference circle."""
    force, face = _force(facts, strength, tooth, speeds), _face(facts, strength, tooth, speeds)
    thick = meshes.tooth_thickness(facts, tooth.gear)
    formula = f"{SHEAR_PEAK:g} · {force.symbol} / ({face.symbol} · {thick.symbol})"
    source = "derived: peak shear of a rectangle; at the root a tooth is thicker"
    return computed("shear", f"shear of a tooth of `{tooth.gear}`", formula, source, force, face, thick, unit="N/mm2")


def _clutch(facts: Facts, strength: Strength, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """Torque at which the first tooth bears all that is taken as the most."""
    tooth = strength.teeth[0]
    bends = tooth.bending / tooth.bending_allowed >= tooth.shear / tooth.shear_allowed
    stress = (_bending if bends else _shear)(facts, strength, tooth, speeds)
    most = tooth.bending_allowed if bends else tooth.shear_allowed
    allowed = given("most", f"what {tooth.material} is taken to bear", most, "N/mm2", source=TOOTH_SOURCE)
    torque = next(item for item in _inputs(stress) if item.symbol == "T")
    formula = f"{torque.symbol} · {allowed.symbol} / {stress.symbol}"
    return computed("clutch", "torque at the drive that no jam breaks teeth with", formula, DERIVED, torque, allowed, stress, unit="N·mm")


def _inputs(number: Number) -> tuple[Number, ...]:
    return number.inputs + tuple(item for held in number.inputs for item in held.inputs)


def _holds(facts: Facts, index: int) -> Number:
    """What the nuts of a drive hold."""
    drive = facts.derived.drives[index].drive
    across = given("D", "what the jam nut bears with, across", bearing_mm(drive), origin=drive.jam_nut.origin if drive.jam_nut else None)
    bolt = given("d", f"diameter of {drive.thread.designation}", drive.thread.major_mm, origin=drive.thread.origin)
    press = given("p", "pressure that plywood is drawn to", PRESSURE, "N/mm2", source="assumed, no source")
    clamp = computed("C", "clamping force", "p · π / 4 · (D^2 − d^2)", DERIVED, press, across, bolt, unit="N")
    threads = given("mu", "friction of a thread, low and high", (THREAD_FRICTION[0] * THREAD_FRICTION[1]) ** 0.5, "",
                    source=f"geometric mean; {THREAD_FRICTION_SOURCE}")  # fmt: skip
    wood = given("mu_w", "friction of metal on wood, low and high", (METAL_ON_WOOD[0] * METAL_ON_WOOD[1]) ** 0.5, "",
                 source=f"geometric mean; {RUB_SOURCE}")  # fmt: skip
    pitch = given("d2", f"pitch diameter of {drive.thread.designation}", pitch_diameter_mm(drive.thread), origin=drive.thread.origin)
    lead = given("l", f"lead of {drive.thread.designation}", drive.thread.lead_mm, origin=drive.thread.origin)
    f = computed("f", "friction on flanks of 60 degrees", "mu / cos(30)", SCREWS, threads, unit="")
    off = computed("T_off", "one thread, loosening", "C · d2 / 2 · (π · f · d2 − l) / (π · d2 + f · l)", SCREWS, clamp, pitch, f, lead, unit="N·mm")
    on = computed("T_on", "the other, tightening", "C · d2 / 2 · (l + π · f · d2) / (π · d2 − f · l)", SCREWS, clamp, pitch, f, lead, unit="N·mm")
    face = computed("T_face", "the jam nut's face on the wood", "mu_w · C · (D + d) / 4", DERIVED, wood, clamp, across, bolt, unit="N·mm")
    words = f"torque that the nuts of `{drive.name}` hold the way that parts them"
    return computed("holds", words, "max(0, T_off) + min(T_face, T_on)", DERIVED, off, face, on, unit="N·mm")
