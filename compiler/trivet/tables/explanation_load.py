"""Loads, explained: how they are shared over the feet, and the torque that raises or lowers them at a foot and at the drive."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Mapping
from functools import partial

from trivet.solve.derived import FootState
from trivet.solve.library_figures import METAL_ON_WOOD, RUB_SOURCE, THREAD_FRICTION, THREAD_FRICTION_SOURCE, WOOD_ON_WOOD
from trivet.solve.power_screw import PITCH_DIAMETER_PITCHES
from trivet.solve.torque import MESH_EFFICIENCY, SMALL_CONTACT, drive_torque
from trivet.tables.explanation import DERIVED, Entry, Number, computed, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import lead, major, pitch
from trivet.tables.explanation_mesh import spot, tip

Speeds = Callable[[], Mapping[str, Number]]
SCREWS = "textbooks on power screws (Wentzell, Machine Elements, examples 18.1 to 18.3, by a published copy)"
DISC = "a solid pad's, under even pressure (Sadhu Singh, Machine Design, example 9.5, by a published copy)"
SPRINGS = "derived: a rigid board on equal springs, and no foot less than an even share, for a bench is not flat"
LOW, HIGH = 0, 1
_END = ("low", "high")


def load_entries(facts: Facts, speeds: Speeds) -> Iterator[Entry]:
    """The share and the torque of each foot, and the drive's; nothing without a load that acts down."""
    torque = drive_torque(facts.design, facts.derived)
    if torque is None:
        return
    yield Entry("load", (), ("load", "down_n"), partial(whole_load, facts))
    for index, foot in enumerate(facts.derived.feet):
        yield Entry("load_share", (foot.id,), ("feet", index, "load_share_n"), partial(load_share, facts, foot))
        if math.isfinite(torque.feet[index].high_nmm):
            explain = partial(foot_torque, facts, foot, HIGH)
            yield Entry("torque_to_raise", (foot.id,), ("feet", index, "torque_to_raise_nmm"), explain)
    known = [value for value in (torque.low_nmm, torque.high_nmm) if value is not None and math.isfinite(value)]
    if len(known) == 2:
        for end, key in ((LOW, "at_least"), (HIGH, "at_most")):
            explain = partial(at_drive, facts, speeds, end)
            yield Entry(f"drive_torque_to_raise_{key}", (), ("load", "drive_torque_to_raise_nmm", key), explain)


def whole_load(facts: Facts) -> Number:
    """All that acts down."""
    forces = [force for force, _, _ in _pushes(facts)]
    return facts.once(
        ("load",),
        lambda: computed("F", "all loads that act down", " + ".join(item.symbol for item in forces), DERIVED, *forces, unit="N"),
    )


def _pushes(facts: Facts) -> list[tuple[Number, Number, Number]]:
    made = []
    for load in facts.design.loads:
        if load.direction == "down":
            name, at = load.name.text, load.origin
            made.append(
                (
                    facts.once(("F", name), partial(given, f"F_{name}", f"load `{name}`", load.force.value, "N", load.force.origin)),
                    facts.once(("FX", name), partial(given, f"X_{name}", f"x of `{name}`", load.x_mm, origin=at)),
                    facts.once(("FY", name), partial(given, f"Y_{name}", f"y of `{name}`", load.y_mm, origin=at)),
                )
            )
    return made


def load_share(facts: Facts, foot: FootState) -> Number:
    """What one foot bears: an even share and what the loads' places add, no less than an even share."""
    return facts.once(("share", foot.id), lambda: _load_share(facts, foot))


def _load_share(facts: Facts, foot: FootState) -> Number:
    total, n = whole_load(facts), _count(facts)
    a, b = _slopes(facts)
    middle = [_middle(facts, axis) for axis in ("x", "y")]
    x, y = spot(facts, foot.gear, "x"), spot(facts, foot.gear, "y")
    even = f"{total.symbol} / {n.symbol}"
    formula = f"{even} + max(0, {a.symbol} · ({x.symbol} − {middle[0].symbol}) + {b.symbol} · ({y.symbol} − {middle[1].symbol}))"
    return computed(f"N_{foot.id}", f"share of the loads at `{foot.id}`", formula, SPRINGS, total, n, a, x, middle[0], b, y, middle[1], unit="N")


def _count(facts: Facts) -> Number:
    return facts.once(("feet",), lambda: given("n", "feet", len(facts.derived.feet), "", source="counted: gears that carry a foot"))


def _middle(facts: Facts, axis: str) -> Number:
    spots, n = [spot(facts, foot.gear, axis) for foot in facts.derived.feet], _count(facts)
    formula = f"({' + '.join(item.symbol for item in spots)}) / {n.symbol}"
    words = f"{axis} of the middle of the feet"
    return facts.once(("middle", axis), lambda: computed(f"{axis}0", words, formula, DERIVED, *dict.fromkeys((*spots, n))))


def _slopes(facts: Facts) -> tuple[Number, Number]:
    """What a foot bears more for a millimetre further along x and along y, N/mm."""
    return facts.once(("slope", "x"), lambda: _slope(facts, 0)), facts.once(("slope", "y"), lambda: _slope(facts, 1))


def _slope(facts: Facts, along: int) -> Number:
    xx, yy, xy = (_second(facts, one, other) for one, other in (("x", "x"), ("y", "y"), ("x", "y")))
    mx, my = _moment(facts, "x"), _moment(facts, "y")
    symbol, words = ("a", "b")[along], f"what a foot bears more for a millimetre along {'xy'[along]}"
    both = xx.value + yy.value
    if xx.value * yy.value - xy.value**2 > 1e-9 * both**2:
        one, two, own = (mx, my, yy) if along == 0 else (my, mx, xx)
        formula = f"({one.symbol} · {own.symbol} − {two.symbol} · {xy.symbol}) / ({xx.symbol} · {yy.symbol} − {xy.symbol}^2)"
        return computed(symbol, words, formula, SPRINGS, mx, my, xx, yy, xy, unit="N/mm")
    if both > 0.0:
        one, two = (xx, xy) if along == 0 else (xy, yy)
        formula = f"({one.symbol} · {mx.symbol} + {two.symbol} · {my.symbol}) / ({xx.symbol} + {yy.symbol})^2"
        source = f"{SPRINGS}; feet in one line resist along it only"
        return computed(symbol, words, formula, source, *dict.fromkeys((one, mx, two, my, xx, yy)), unit="N/mm")
    return given(symbol, words, 0.0, "N/mm", source="all feet stand on one place")


def _second(facts: Facts, one: str, other: str) -> Number:
    middles = _middle(facts, one), _middle(facts, other)
    spots = [(spot(facts, foot.gear, one), spot(facts, foot.gear, other)) for foot in facts.derived.feet]
    formula = " + ".join(f"({p.symbol} − {middles[0].symbol}) · ({q.symbol} − {middles[1].symbol})" for p, q in spots)
    inputs = dict.fromkeys((*(item for held in spots for item in held), *middles))
    words = f"second moment of the feet's places, {one}{other}"
    return facts.once(("second", one, other), lambda: computed(f"S{one}{other}", words, formula, DERIVED, *inputs, unit="mm2"))


def _moment(facts: Facts, axis: str) -> Number:
    pushes, middle = _pushes(facts), _middle(facts, axis)
    arms = [(force, x if axis == "x" else y) for force, x, y in pushes]
    formula = " + ".join(f"{force.symbol} · ({at.symbol} − {middle.symbol})" for force, at in arms)
    words = f"moment of the loads about the middle of the feet, along {axis}"
    inputs = dict.fromkeys((*(item for held in arms for item in held), middle))
    return facts.once(("moment", axis), lambda: computed(f"M{axis}", words, formula, DERIVED, *inputs, unit="N·mm"))


def friction(facts: Facts, end: int) -> Number:
    """Friction of threads at its low or high end."""
    words = f"friction of a thread, the {_END[end]} end of its range"
    return facts.once(("mu", end), lambda: given(f"mu_{_END[end]}", words, THREAD_FRICTION[end], "", source=THREAD_FRICTION_SOURCE))


def pitch_diameter(facts: Facts, foot: str) -> Number:
    """Of the foot's thread: as its table has it, else d − 0.649519 P."""
    thread = facts.stroked.specs[foot].foot.thread
    symbol, words = f"d2_{foot}", f"pitch diameter of {thread.designation}"

    def make() -> Number:
        if thread.pitch_diameter_mm:
            return given(symbol, words, thread.pitch_diameter_mm, origin=thread.origin)
        d, p = major(facts, foot), pitch(facts, foot)
        return computed(symbol, words, f"{d.symbol} − {PITCH_DIAMETER_PITCHES} · {p.symbol}", "ISO 724 and ISO 68-1 (from memory)", d, p)

    return facts.once(("d2", foot), make)


def rubbing(facts: Facts, foot: FootState, end: int) -> tuple[Number, Number]:
    """(friction, radius) of what rubs as the foot turns: its pad on the bench, or its gear on the board."""
    made, name = foot.foot, foot.id
    if made.kind == "captured_nut" or foot.touches == "gear":
        mu = given(f"mu_wood_{_END[end]}", f"friction of wood on wood, the {_END[end]} end", WOOD_ON_WOOD[end], "", source=RUB_SOURCE)
        da = tip(facts, foot.gear)
        return facts.once(("mu_wood", end), lambda: mu), facts.once(
            ("rub", name), lambda: computed(f"R_{name}", f"the gear `{foot.gear}` rubs on its whole face", f"{da.symbol} / 2", DERIVED, da)
        )
    mu = given(f"mu_pad_{_END[end]}", f"friction of metal on wood, the {_END[end]} end", METAL_ON_WOOD[end], "", source=RUB_SOURCE)
    pad = made.pad
    if pad.diameter is not None and pad.kind == "disc":
        wide = given(f"D_pad_{name}", f"diameter of the pad of `{name}`", pad.diameter.mm, origin=pad.diameter.origin)
        radius = partial(computed, f"R_{name}", f"radius of the pad of `{name}`", f"{wide.symbol} / 2", DERIVED, wide)
    else:
        d = major(facts, name)
        source = "a dome, a swivel or a head rubs on a disc half as wide as its screw: assumed, no source"
        radius = partial(computed, f"R_{name}", f"radius on which `{name}` rubs on the bench", f"{SMALL_CONTACT:g} · {d.symbol} / 2", source, d)
    return facts.once(("mu_pad", end), lambda: mu), facts.once(("rub", name), radius)


def foot_torque(facts: Facts, foot: FootState, end: int, lower: bool = False) -> Number:
    """Torque at a foot's own gear to raise (or lower) its share of the loads, at low or high friction."""
    name, way = foot.id, "lower" if lower else "raise"
    share, mu, d2, pitch_up = load_share(facts, foot), friction(facts, end), pitch_diameter(facts, name), lead(facts, name)
    on = facts.once(
        ("flank", end),
        lambda: computed(f"f_{_END[end]}", "friction on flanks of 60 degrees", f"{mu.symbol} / cos(30)", SCREWS, mu, unit=""),
    )
    formula = (
        f"{share.symbol} · {d2.symbol} / 2 · (π · {on.symbol} · {d2.symbol} − {pitch_up.symbol}) / (π · {d2.symbol} + {on.symbol} · {pitch_up.symbol})"
        if lower
        else f"{share.symbol} · {d2.symbol} / 2 · ({pitch_up.symbol} + π · {on.symbol} · {d2.symbol}) / (π · {d2.symbol} − {on.symbol} · {pitch_up.symbol})"
    )
    key = (name, end, lower)
    suffix = f"{name}_{_END[end]}"
    thread = facts.once(
        ("thread torque", *key),
        lambda: computed(f"Tt_{suffix}", f"torque of the thread of `{name}` to {way}", formula, SCREWS, share, d2, on, pitch_up, unit="N·mm"),
    )
    pad, radius = rubbing(facts, foot, end)
    rub = facts.once(
        ("rub torque", *key),
        lambda: computed(f"Tr_{suffix}", f"torque to rub `{name}` round", f"2 / 3 · {pad.symbol} · {share.symbol} · {radius.symbol}", DISC,
                         pad, share, radius, unit="N·mm"),
    )  # fmt: skip
    words = f"torque at `{foot.gear}` to {way} `{name}`, {_END[end]} friction: an estimate"
    return facts.once(
        ("foot torque", *key),
        lambda: computed(f"T_{suffix}", words, f"{thread.symbol} + {rub.symbol}", DERIVED, thread, rub, unit="N·mm"),
    )


def at_drive(facts: Facts, speeds: Speeds, end: int, lower: bool = False) -> Number:
    """Torque at the drive to raise or lower all the loads: at low friction with good meshes, at high friction with poor ones."""
    best = 1 - end
    passed = given(f"eta_{('low', 'high')[best]}", f"what a mesh passes on, at {'best' if best else 'worst'}", MESH_EFFICIENCY[best], "",
                   source="0.85 to 0.95: assumed, no source")  # fmt: skip
    terms, inputs = [], [passed]
    for foot in facts.derived.feet:
        torque, turns = foot_torque(facts, foot, end, lower), speeds()[foot.gear]
        on_the_way = given(f"k_{foot.id}", f"meshes between the drive and `{foot.gear}`", _meshes(facts, foot), "", source="counted along its path")
        terms.append(f"{torque.symbol} · abs({turns.symbol}) / {passed.symbol}^{on_the_way.symbol}")
        inputs += [torque, turns, on_the_way]
    words = f"torque at the drive to {'lower' if lower else 'raise'} the loads, {_END[end]} friction: an estimate"
    return computed(f"T_drive_{_END[end]}", words, " + ".join(terms), DERIVED, *dict.fromkeys(inputs), unit="N·mm")


def _meshes(facts: Facts, foot: FootState) -> int:
    path = facts.states[foot.gear].path
    return sum((one, other) in facts.meshes for one, other in itertools.pairwise(path))


