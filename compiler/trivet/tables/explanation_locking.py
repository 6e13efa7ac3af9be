"""What the nuts of a drive hold, explained: clamp, the torque of tightening, what they hold and what turns them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from trivet.solve.derived import DriveState
from trivet.solve.library_figures import METAL_ON_WOOD, RUB_SOURCE, THREAD_FRICTION, THREAD_FRICTION_SOURCE
from trivet.solve.locking import NUT_FACTOR, PRESSURE, bearing_mm, nut_hold
from trivet.solve.power_screw import pitch_diameter_mm
from trivet.tables.explanation import DERIVED, Entry, Number, computed, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_load import HIGH, LOW, SCREWS, Speeds, at_drive


def locking_entries(facts: Facts, speeds: Speeds) -> Iterator[Entry]:
    """Of each drive; what is not known has no entry."""
    for index, state in enumerate(facts.derived.drives):
        hold = nut_hold(facts.design, facts.derived, state)
        path: tuple[str | int, ...] = ("locking", "drives", index)
        yield Entry("nuts_clamp", (state.id,), (*path, "clamp_n"), partial(_clamp, facts, state), (state.drive.name.text,))
        yield Entry("nuts_tightened", (state.id,), (*path, "tightened_nmm"), partial(_tightened, facts, state), (state.drive.name.text,))
        if hold.holds_nmm is not None:
            yield Entry("nuts_hold", (state.id,), (*path, "holds_nmm"), partial(_holds, facts, state), (state.drive.name.text,))
        if hold.turns_nmm is not None:
            lower = hold.loosens_while == "lowering"
            yield Entry("nuts_turned", (state.id,), (*path, "turns_nmm"), partial(_turns, facts, speeds, lower), (state.drive.name.text,))
            if hold.margin is not None:
                explain = partial(_margin, facts, state, speeds, lower)
                yield Entry("nuts_margin", (state.id,), (*path, "margin"), explain, (state.drive.name.text,))


def _thread(facts: Facts, state: DriveState) -> Number:
    thread = state.drive.thread
    return facts.once(("bolt d", state.id), lambda: given("d", f"diameter of {thread.designation}", thread.major_mm, origin=thread.origin))


def _clamp(facts: Facts, state: DriveState) -> Number:
    return facts.once(("clamp", state.id), lambda: _clamp_now(facts, state))


def _across(facts: Facts, state: DriveState) -> Number:
    drive = state.drive
    nut = drive.jam_nut or drive.nut
    origin = nut.hardware.origin
    if drive.washer is not None and drive.jam_nut is not None and drive.jam_nut.side in drive.washer_places:
        origin = drive.washer.origin
    words = "what the nut bears on the gear with, across: its flats, its flange, or the washer under it"
    return facts.once(("nut across", state.id), lambda: given("D", words, bearing_mm(drive), origin=origin or nut.origin))


def _clamp_now(facts: Facts, state: DriveState) -> Number:
    across, bolt = _across(facts, state), _thread(facts, state)
    press = given("p", "pressure that plywood is drawn to", PRESSURE, "N/mm2", source="assumed, no source")
    return computed("C", "clamping force", "p · π / 4 · (D^2 − d^2)", DERIVED, press, across, bolt, unit="N")


def _tightened(facts: Facts, state: DriveState) -> Number:
    clamp, bolt = _clamp(facts, state), _thread(facts, state)
    factor = given("K", "nut factor of a dry, zinc-plated nut", NUT_FACTOR, "", source="common practice, from memory")
    words = f"torque that the nuts of `{state.drive.name}` are taken to be tightened with"
    return computed("T_tight", words, "K · C · d", "torque = nut factor · force · diameter (common practice, from memory)", factor, clamp, bolt,
                    unit="N·mm")  # fmt: skip


def _holds(facts: Facts, state: DriveState) -> Number:
    """The first nut's thread on its loosening side, and the lesser of the jam nut's face and thread."""
    return facts.once(("holds", state.id), lambda: _holds_now(facts, state))


def _holds_now(facts: Facts, state: DriveState) -> Number:
    drive, clamp, across, bolt = state.drive, _clamp(facts, state), _across(facts, state), _thread(facts, state)
    thread = drive.thread
    threads = given("mu", "friction of a thread, between low and high", (THREAD_FRICTION[0] * THREAD_FRICTION[1]) ** 0.5, "",
                    source=f"geometric mean; {THREAD_FRICTION_SOURCE}")  # fmt: skip
    wood = given("mu_w", "friction of metal on wood, between low and high", (METAL_ON_WOOD[0] * METAL_ON_WOOD[1]) ** 0.5, "",
                 source=f"geometric mean; {RUB_SOURCE}")  # fmt: skip
    pitch = given("d2", f"pitch diameter of {thread.designation}", pitch_diameter_mm(thread), origin=thread.origin)
    lead = given("l", f"lead of {thread.designation}", thread.lead_mm, origin=thread.origin)
    f = computed("f", "friction on flanks of 60 degrees", "mu / cos(30)", SCREWS, threads, unit="")
    off = computed("T_off", "one thread, loosening", "C · d2 / 2 · (π · f · d2 − l) / (π · d2 + f · l)", SCREWS, clamp, pitch, f, lead, unit="N·mm")
    on = computed("T_on", "the other, tightening", "C · d2 / 2 · (l + π · f · d2) / (π · d2 − f · l)", SCREWS, clamp, pitch, f, lead, unit="N·mm")
    face = computed("T_face", "the jam nut's face on the wood", "mu_w · C · (D + d) / 4", DERIVED, wood, clamp, across, bolt, unit="N·mm")
    words = f"torque that the nuts of `{drive.name}` hold the way that parts them"
    return computed("holds", words, "max(0, T_off) + min(T_face, T_on)", DERIVED, off, face, on, unit="N·mm")


def _turns(facts: Facts, speeds: Speeds, lower: bool) -> Number:
    low, high = (at_drive(facts, speeds, end, lower) for end in (LOW, HIGH))
    words = f"torque at the drive to {'lower' if lower else 'raise'} the loads, the way that parts its nuts, middling friction"
    return computed("turns", words, f"({low.symbol} + {high.symbol}) / 2", "the mean of both ends of friction", low, high, unit="N·mm")


def _margin(facts: Facts, state: DriveState, speeds: Speeds, lower: bool) -> Number:
    holds, turns = _holds(facts, state), _turns(facts, speeds, lower)
    return computed("margin", "what the nuts hold over what turns them", f"{holds.symbol} / {turns.symbol}", DERIVED, holds, turns, unit="")
