"""The teeth of one gear, explained: circles, thickness, what calipers read."""

from __future__ import annotations

from trivet.solve.gear_measure import span_teeth
from trivet.solve.largest_cutter import largest_cutter
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_facts import Facts

RACK = "basic rack of ISO 53"
THICKNESS = "basic rack of ISO 53; shifted thickness: SDP/SI, Elements of Metric Gear Technology, Table 10-1"
CIRCLES = "SDP/SI, Elements of Metric Gear Technology, Table 4-1, p. T-34 (from memory)"
SPAN = "SDP/SI, Elements of Metric Gear Technology, Table 10-9 (from memory)"


def teeth(facts: Facts, gear: str) -> Number:
    """Number of teeth."""
    made = facts.graph.gears[gear]
    return facts.once(("z", gear), lambda: given(f"z_{gear}", f"teeth of `{gear}`", made.z, "", made.teeth.origin))


def module(facts: Facts, gear: str) -> Number:
    """Module of the gear's tooth form."""
    form = facts.form(gear)
    symbol, words = facts.of_form("m", form), f"module of `{form.name}`"

    def make() -> Number:
        if form.diametral_pitch is None:
            return given(symbol, words, form.module_mm, origin=form.module_origin)
        pitch = given(facts.of_form("P", form), "teeth per inch of diameter", form.diametral_pitch, "per in", form.module_origin)
        return computed(symbol, words, f"25.4 / {pitch.symbol}", "definition of the diametral pitch; 1 in = 25.4 mm", pitch)

    return facts.once(("m", form.name.text), make)


def angle(facts: Facts, gear: str) -> Number:
    """Pressure angle of the rack, degrees."""
    form = facts.form(gear)
    return facts.once(
        ("a", form.name.text),
        lambda: given(facts.of_form("a", form), f"pressure angle of `{form.name}`", form.pressure_angle_deg, "deg", form.name.origin,
                      "as its `pressure_angle` says; without one the 20 deg of ISO 53"),
    )  # fmt: skip


def backlash_stated(facts: Facts, gear: str) -> Number:
    """The backlash that a gear's tooth form states."""
    form = facts.form(gear)
    return facts.once(
        ("j", form.name.text),
        lambda: given(facts.of_form("j", form), f"backlash of `{form.name}`", form.backlash.mm, origin=form.backlash.origin),
    )


def shift(facts: Facts, gear: str) -> Number:
    """Profile shift, in modules."""
    stated = facts.graph.gears[gear].profile_shift
    if stated is not None:
        return facts.once(("x", gear), lambda: given(f"x_{gear}", f"profile shift of `{gear}`", stated.value, "", stated.origin))
    return facts.once(("x", gear), lambda: given(f"x_{gear}", f"profile shift of `{gear}`", 0.0, "", None, "none is stated"))


def thickness(facts: Facts, gear: str, thinning: Number) -> Number:
    """Tooth thickness, arc on the reference circle."""
    m, a, x = module(facts, gear), angle(facts, gear), shift(facts, gear)
    formula = f"{m.symbol} · (π / 2 + 2 · {x.symbol} · tan({a.symbol})) − {thinning.symbol}"
    words = f"tooth thickness of `{gear}` on the reference circle"
    return facts.once(("s", gear), lambda: computed(f"s_{gear}", words, formula, THICKNESS, m, x, a, thinning))


def pitch_diameter(facts: Facts, gear: str) -> Number:
    """Diameter of the reference circle."""
    m, z = module(facts, gear), teeth(facts, gear)
    return facts.once(
        ("d", gear),
        lambda: computed(
            f"d_{gear}", f"reference diameter of `{gear}`", f"{m.symbol} · {z.symbol}", "definition of the module", m, z
        ),
    )


def base_diameter(facts: Facts, gear: str) -> Number:
    """Diameter of the base circle."""
    d, a = pitch_diameter(facts, gear), angle(facts, gear)
    return facts.once(
        ("db", gear),
        lambda: computed(f"db_{gear}", f"base diameter of `{gear}`", f"{d.symbol} · cos({a.symbol})", CIRCLES, d, a),
    )


def designed_tip(facts: Facts, gear: str) -> Number:
    """Diameter of the tip circle as designed."""
    form = facts.form(gear)
    m, z, x = module(facts, gear), teeth(facts, gear), shift(facts, gear)
    addendum = facts.once(
        ("ha", form.name.text),
        lambda: given(facts.of_form("ha", form), f"addendum of `{form.name}`, modules", form.addendum, "", None, RACK),
    )
    inputs, formula = [m, z, addendum, x], f"{m.symbol} · ({z.symbol} + 2 · {addendum.symbol} + 2 · {x.symbol})"
    if form.tip_shortening_mm:
        short = facts.once(
            ("short", form.name.text),
            lambda: given(facts.of_form("short", form), f"tip shortening of `{form.name}`", form.tip_shortening_mm,
                          origin=form.name.origin, source="as its `tip_shortening` says"),
        )  # fmt: skip
        inputs.append(short)
        formula += f" − 2 · {short.symbol}"
    return facts.once(
        ("da", gear), lambda: computed(f"da_{gear}", f"tip diameter of `{gear}` as designed", formula, CIRCLES, *inputs)
    )


def tip_diameter(facts: Facts, gear: str, thinning: Number) -> Number:
    """Diameter that the teeth reach: the tip circle, or their point where that comes first."""
    shape, designed = facts.states[gear].geometry, designed_tip(facts, gear)
    if shape.pointed_radius_mm >= shape.tip_radius_mm:
        return designed
    s, d, db, a = thickness(facts, gear, thinning), pitch_diameter(facts, gear), base_diameter(facts, gear), angle(facts, gear)
    formula = f"min({designed.symbol}, {db.symbol} / cos(arcinv({s.symbol} / {d.symbol} + inv({a.symbol}))))"
    return facts.once(
        ("reached", gear),
        lambda: computed(f"dp_{gear}", f"diameter at which the teeth of `{gear}` end, pointed below the tip circle", formula,
                         "the flanks meet where inv a_r = s/d + inv a; derived", designed, db, s, d, a),
    )  # fmt: skip


def root_diameter(facts: Facts, gear: str) -> Number:
    """Diameter of the root circle as designed."""
    form = facts.form(gear)
    m, z, x = module(facts, gear), teeth(facts, gear), shift(facts, gear)
    dedendum = facts.once(
        ("hf", form.name.text),
        lambda: _dedendum(facts, gear),
    )
    formula = f"{m.symbol} · ({z.symbol} − 2 · ({dedendum.symbol} − {x.symbol}))"
    return facts.once(
        ("df", gear), lambda: computed(f"df_{gear}", f"root diameter of `{gear}`", formula, CIRCLES, m, z, dedendum, x)
    )


def _dedendum(facts: Facts, gear: str) -> Number:
    form = facts.form(gear)
    standard = form.dedendum == 1.25
    return given(
        facts.of_form("hf", form), f"dedendum of `{form.name}`, modules", form.dedendum, "",
        None if standard else form.name.origin, RACK if standard else "as its `dedendum` says",
    )  # fmt: skip


def tip_land(facts: Facts, gear: str, thinning: Number) -> Number:
    """Thickness of the teeth on the tip circle as designed."""
    da, db, d = designed_tip(facts, gear), base_diameter(facts, gear), pitch_diameter(facts, gear)
    s, a = thickness(facts, gear, thinning), angle(facts, gear)
    tip = computed(
        f"a_tip_{gear}", "angle between radius and flank at the tip", f"acos(min(1, {db.symbol} / {da.symbol}))", CIRCLES, db, da,
        unit="deg",
    )  # fmt: skip
    formula = f"{da.symbol} · ({s.symbol} / {d.symbol} + inv({a.symbol}) − inv({tip.symbol}))"
    return computed(f"s_tip_{gear}", f"tooth thickness of `{gear}` on its tip circle", formula, THICKNESS, da, s, d, a, tip)


def span_count(facts: Facts, gear: str) -> Number:
    """Teeth to span with calipers."""
    z, a, x = teeth(facts, gear), angle(facts, gear), shift(facts, gear)
    formula = (
        f"max(2, floor({z.symbol} / π · (sqrt(max((1 + 2 · {x.symbol} / {z.symbol})^2 − cos({a.symbol})^2, 0)) / cos({a.symbol})"
        f" − inv({a.symbol}) − 2 · {x.symbol} / {z.symbol} · tan({a.symbol})) + 1))"
    )
    source = f"{SPAN}; to the nearest whole tooth, at least 2"
    return facts.once(("k", gear), lambda: computed(f"k_{gear}", f"teeth of `{gear}` to span", formula, source, z, x, a, unit=""))


def span(facts: Facts, gear: str, thinning: Number) -> Number:
    """What calipers read over the teeth spanned."""
    m, z, a, x, k = module(facts, gear), teeth(facts, gear), angle(facts, gear), shift(facts, gear), span_count(facts, gear)
    assert k.value == span_teeth(facts.states[gear].geometry), gear
    formula = (
        f"{m.symbol} · cos({a.symbol}) · (π · ({k.symbol} − 1 / 2) + {z.symbol} · inv({a.symbol}))"
        f" + 2 · {x.symbol} · {m.symbol} · sin({a.symbol}) − {thinning.symbol} · cos({a.symbol})"
    )
    return computed(f"W_{gear}", f"span of `{gear}` over so many teeth", formula, SPAN, m, a, k, z, x, thinning)


def cutter_diameter(facts: Facts, gear: str) -> Number:
    """Diameter of the cutter that cuts the gear."""
    cutter = facts.parts.cutters[facts.graph.gears[gear].cutter.text]
    if cutter.diameter is None:
        return given(f"D_{cutter.name}", f"diameter of `{cutter.name}`", 0.0, source="it has none: a vee cutter")
    mm = cutter.diameter
    return facts.once(("cutter", cutter.name.text), lambda: given(f"D_{cutter.name}", f"diameter of `{cutter.name}`", mm.mm, origin=mm.origin))


def cutter_limit(facts: Facts, gear: str, mates: tuple[tuple[str, Number, Number], ...], thinning: Number) -> Number:
    """Largest cutter; `mates`: (name, centre distance, tip diameter) of each gear in mesh."""
    shape = facts.states[gear].geometry
    value, binds = largest_cutter(shape, [(name, facts.states[name].geometry, distance.value) for name, distance, _ in mates], {})
    how = (
        f"the largest round cutter that leaves every mate its flank and 0.1 mm under its tips (halving for the second): {binds}; "
        "a gear without a mate is judged against an equal one"
    )
    inputs = [thickness(facts, gear, thinning), base_diameter(facts, gear), root_diameter(facts, gear)]
    inputs += [number for _, *held in mates for number in held]
    return found(f"D_most_{gear}", f"largest cutter for `{gear}`", value, how, f"{DERIVED}; the 0.1 mm is {PRACTICE}", *inputs)
