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
from trivet.solve.library_figures import TOOTH_SOURCE
from trivet.solve.tooth_strength import LEWIS_20, LEWIS_SOURCE, SHEAR_PEAK, Strength, ToothLoad, strength_of
from trivet.tables.explanation import DERIVED, Entry, Number, computed, given
from trivet.tables.explanation_bench import bench_entries
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_load import load_entries
from trivet.tables.explanation_locking import locking_entries

Made = Callable[[], Number]


def entries_of_use(facts: Facts, per_turn: Made, speeds: Callable[[], Mapping[str, Number]]) -> Iterator[Entry]:
    """All of them; `per_turn`: rise for a turn of the drive; `speeds`: signed turns of each gear."""
    yield from _flush(facts, per_turn)
    for index, item in enumerate(beyond_of(facts.derived)):
        for quantity, key in (("beyond", "mm"), ("beyond_turns", "turns")):
            yield Entry(
                quantity, (item.end, item.cause), ("lift", "beyond", index, key), partial(_beyond, facts, item, key, per_turn)
            )
    yield from _strength(facts, speeds)
    yield from load_entries(facts, speeds)
    yield from locking_entries(facts, speeds)
    yield from bench_entries(facts)


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
    yield Entry("drive_torque", (), ("strength", "drive_torque_nmm"), partial(_torque, facts, strength))
    yield Entry("clutch", (), ("strength", "clutch_nmm"), partial(_clutch, facts, strength, speeds))
    for index, tooth in enumerate(strength.teeth):
        made: list[tuple[str, str, Callable[..., Number]]] = [
            ("tooth_force", "force_n", _force),
            ("tooth_face", "face_mm", _face),
            ("tooth_bending", "bending_n_per_mm2", _bending),
            ("tooth_shear", "shear_n_per_mm2", _shear),
            ("tooth_form_factor", "form_factor", _form),
            ("tooth_bending_allowed", "bending_allowed_n_per_mm2", partial(_allowed, "bending")),
            ("tooth_shear_allowed", "shear_allowed_n_per_mm2", partial(_allowed, "shear")),
        ]
        for quantity, key, explain in made:
            path = ("strength", "teeth", index, key)
            yield Entry(quantity, (tooth.gear, tooth.mate), path, partial(explain, facts, strength, tooth, speeds))


def _torque(facts: Facts, strength: Strength) -> Number:
    """What turns the drive."""
    source = "" if strength.torque_origin is not None else strength.torque_source
    return facts.once(
        ("driver",),
        lambda: given("T", "torque at the drive", strength.torque_nmm, "N·mm", strength.torque_origin, source),
    )


def _form(facts: Facts, strength: Strength, tooth: ToothLoad, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """Lewis's form factor: its table, or the closed form where that has none."""
    z, angle = teeth.teeth(facts, tooth.gear), teeth.angle(facts, tooth.gear)
    words = f"form factor of `{tooth.gear}`"
    if angle.value < 20.0 - 1e-9:
        formula, source = f"π · (0.124 − 0.684 / {z.symbol})", "the closed form of 14.5 degree teeth (from memory)"
        return computed("Y", words, formula, source, z, unit="")
    if z.value < LEWIS_20[0][0]:
        formula = f"π · (0.154 − 0.912 / {z.symbol})"
        return computed("Y", words, formula, "the closed form of 20 degree teeth (from memory), which meets the table at 12", z, unit="")
    low, high = _rows(int(z.value))
    known = given("Y_low", f"form factor of {low[0]} teeth", low[1], "", source=LEWIS_SOURCE)
    if low == high:
        return computed("Y", words, known.symbol, "the row of its teeth", known, unit="")
    next_one = given("Y_high", f"form factor of {high[0]} teeth", high[1], "", source=LEWIS_SOURCE)
    formula = f"Y_low + (1 / {low[0]} − 1 / {z.symbol}) / (1 / {low[0]} − 1 / {high[0]}) · (Y_high − Y_low)"
    return computed("Y", words, formula, "derived: between two rows of the table straight in 1/z", known, z, next_one, unit="")


def _rows(z: int) -> tuple[tuple[int, float], tuple[int, float]]:
    """The rows of the table about a number of teeth, twice the same where it is one of them or beyond the last."""
    low = max((row for row in LEWIS_20 if row[0] <= z), key=lambda row: row[0])
    high = min((row for row in LEWIS_20 if row[0] >= z), key=lambda row: row[0], default=low)
    return (low, high) if high[0] != z else (high, high)


def _allowed(which: str, facts: Facts, strength: Strength, tooth: ToothLoad, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """What the gear's material is taken to bear."""
    value = tooth.bending_allowed if which == "bending" else tooth.shear_allowed
    sheet = facts.parts.sheets[facts.graph.gears[tooth.gear].stock.text]
    origin = sheet.material.origin if sheet.material is not None else sheet.name.origin
    return given("most", f"what {tooth.material} is taken to bear in {which}", value, "N/mm2", origin, TOOTH_SOURCE)


def _force(facts: Facts, strength: Strength, tooth: ToothLoad, speeds: Callable[[], Mapping[str, Number]]) -> Number:
    """Torque at the nearer gear over its pitch radius."""
    path = facts.derived.train.gear(tooth.gear).path
    near = tooth.mate if tooth.mate in path else tooth.gear
    turns, diameter = speeds()[near], teeth.pitch_diameter(facts, near)
    torque = _torque(facts, strength)
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
    form = _form(facts, strength, tooth, speeds)
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
    allowed = _allowed("bending" if bends else "shear", facts, strength, tooth, speeds)
    torque = next(item for item in _inputs(stress) if item.symbol == "T")
    formula = f"{torque.symbol} · {allowed.symbol} / {stress.symbol}"
    return computed("clutch", "torque at the drive that no jam breaks teeth with", formula, DERIVED, torque, allowed, stress, unit="N·mm")


def _inputs(number: Number) -> tuple[Number, ...]:
    return number.inputs + tuple(item for held in number.inputs for item in held.inputs)
