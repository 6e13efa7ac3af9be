"""Two gears in mesh, explained: centre distances, thinning, angles, contact, clearance, nominal backlash."""

from __future__ import annotations

from trivet.solve.derived import MeshState
from trivet.solve.train_graph import pair
from trivet.tables.explanation import DERIVED, Number, computed, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_teeth import (
    angle,
    backlash_stated,
    base_diameter,
    module,
    root_diameter,
    shift,
    teeth,
    thickness,
    tip_diameter,
)

DISTANCE = "SDP/SI, Elements of Metric Gear Technology, Table 4-3 (from memory)"
CONTACT = "derived: the path of contact over the base pitch"
BACKLASH = "exact form, derived; its first term 2 ΔA tan a is eq. 14-3a of a gear catalogue's section on backlash, p. 388"


def standard_distance(facts: Facts, a: str, b: str) -> Number:
    """m (z1 + z2)/2, whatever the shifts."""
    one, two = pair(a, b)
    m, z1, z2 = module(facts, one), teeth(facts, one), teeth(facts, two)
    return facts.once(
        ("A0", one, two),
        lambda: computed(f"A0_{one}_{two}", f"standard centre distance of `{one}` and `{two}`",
                         f"{m.symbol} · ({z1.symbol} + {z2.symbol}) / 2", DISTANCE, m, z1, z2),
    )  # fmt: skip


def asked_distance(facts: Facts, a: str, b: str) -> Number:
    """The centre distance that the mesh asks for: stated, or that without backlash before thinning."""
    one, two = pair(a, b)

    def make() -> Number:
        symbol, words = f"A_{one}_{two}", f"centre distance of `{one}` and `{two}`"
        stated = facts.graph.mesh(one, two).centre_distance
        if stated is not None:
            return given(symbol, f"{words}, stated", stated.mm, origin=stated.origin)
        standard, x1, x2 = standard_distance(facts, one, two), shift(facts, one), shift(facts, two)
        if x1.value + x2.value == 0.0:
            return computed(symbol, words, standard.symbol, f"{DISTANCE}; without shift, or with shifts that cancel", standard)
        alpha, z1, z2 = angle(facts, one), teeth(facts, one), teeth(facts, two)
        tight = computed(
            f"a_tight_{one}_{two}", "working pressure angle without backlash",
            f"arcinv(inv({alpha.symbol}) + 2 · tan({alpha.symbol}) · ({x1.symbol} + {x2.symbol}) / ({z1.symbol} + {z2.symbol}))",
            DISTANCE, alpha, x1, x2, z1, z2, unit="deg",
        )  # fmt: skip
        formula = f"{standard.symbol} · cos({alpha.symbol}) / cos({tight.symbol})"
        return computed(symbol, words, formula, DISTANCE, standard, alpha, tight)

    return facts.once(("asked", one, two), make)


def distance(facts: Facts, a: str, b: str) -> Number:
    """The actual centre distance: as asked for, or as the gears' places have it."""
    one, two = pair(a, b)
    asked, state = asked_distance(facts, one, two), facts.meshes[one, two]
    if asked.value == state.centre_distance_mm or abs(asked.value - state.centre_distance_mm) < 1e-9:
        return asked

    def make() -> Number:
        spots = [spot(facts, name, axis) for name in (one, two) for axis in ("x", "y")]
        formula = f"sqrt(({spots[0].symbol} − {spots[2].symbol})^2 + ({spots[1].symbol} − {spots[3].symbol})^2)"
        words = f"centre distance of `{one}` and `{two}`, between their places"
        return computed(f"A_{one}_{two}", words, formula, DERIVED, *spots)

    return facts.once(("actual", one, two), make)


def spot(facts: Facts, gear: str, axis: str) -> Number:
    """x or y of a gear, as it is; where it is not stated, its own explanation says why."""
    state = facts.states[gear]
    at = state.gear.at
    value = state.x_mm if axis == "x" else state.y_mm
    source = "" if at is not None else f"derived; `trivet explain {axis} {gear}` says why"
    origin = at.origin if at is not None else None
    return facts.once(
        ("spot", gear, axis), lambda: given(f"{axis.upper()}_{gear}", f"{axis} of `{gear}`", value, origin=origin, source=source)
    )


def working_angle(facts: Facts, a: str, b: str, at: Number | None = None) -> Number:
    """Working pressure angle at the actual centre distance, or at another."""
    one, two = pair(a, b)
    apart = at if at is not None else distance(facts, one, two)
    standard, alpha = standard_distance(facts, one, two), angle(facts, one)
    suffix = "" if at is None else "_wide"
    return facts.once(
        ("aw", one, two, suffix),
        lambda: computed(f"aw{suffix}_{one}_{two}", f"working pressure angle of `{one}` and `{two}`",
                         f"acos({standard.symbol} · cos({alpha.symbol}) / {apart.symbol})", DISTANCE, standard, alpha, apart, unit="deg"),
    )  # fmt: skip


def thinning(facts: Facts, gear: str) -> Number:
    """How much the gear's teeth are thinned: the most that half of one of its meshes asks for."""

    def make() -> Number:
        symbol, words = f"t_{gear}", f"thinning of the teeth of `{gear}`, both flanks together"
        mates = [other for other in facts.graph.meshed[gear] if (gear, other) in facts.meshes]
        if not mates:
            j = backlash_stated(facts, gear)
            return computed(symbol, f"{words}: half the backlash, for a mate like it", f"{j.symbol} / 2", DERIVED, j)
        asked = [_half(facts, *pair(gear, mate)) for mate in mates]
        formula = f"max(0, {', '.join(item.symbol for item in asked)})"
        return computed(symbol, f"{words}: no mesh has less than the backlash stated", formula, DERIVED, *asked)

    return facts.once(("t", gear), make)


def _half(facts: Facts, one: str, two: str) -> Number:
    def make() -> Number:
        m, alpha, apart, aw = module(facts, one), angle(facts, one), distance(facts, one, two), working_angle(facts, one, two)
        standard, j1, j2 = standard_distance(facts, one, two), backlash_stated(facts, one), backlash_stated(facts, two)
        z1, z2, x1, x2 = teeth(facts, one), teeth(facts, two), shift(facts, one), shift(facts, two)
        j = j1.symbol if j1 is j2 else f"({j1.symbol} + {j2.symbol}) / 2"
        formula = (
            f"({j} · {standard.symbol} / {apart.symbol} − ({z1.symbol} + {z2.symbol}) · {m.symbol} · (inv({aw.symbol}) − inv({alpha.symbol}))"
            f" + 2 · {m.symbol} · ({x1.symbol} + {x2.symbol}) · tan({alpha.symbol})) / 2"
        )
        inputs = tuple(dict.fromkeys((j1, j2, standard, apart, z1, z2, m, aw, alpha, x1, x2)))
        words = f"half of what the mesh of `{one}` and `{two}` asks for its backlash"
        return computed(f"h_{one}_{two}", words, formula, f"{BACKLASH}, solved for the thickness", *inputs)

    return facts.once(("half", one, two), make)


def tooth_thickness(facts: Facts, gear: str) -> Number:
    """Tooth thickness with the thinning that the meshes ask for."""
    return thickness(facts, gear, thinning(facts, gear))


def tip(facts: Facts, gear: str) -> Number:
    """Diameter that the teeth reach."""
    return tip_diameter(facts, gear, thinning(facts, gear))


def nominal_backlash(facts: Facts, state: MeshState) -> Number:
    """Circumferential backlash on the working circles."""
    a, b = state.a, state.b
    apart, aw, alpha, m = distance(facts, a, b), working_angle(facts, a, b), angle(facts, a), module(facts, a)
    z1, z2, s1, s2 = teeth(facts, a), teeth(facts, b), tooth_thickness(facts, a), tooth_thickness(facts, b)
    formula = (
        f"2 · {apart.symbol} / ({z1.symbol} + {z2.symbol}) · (π − ({s1.symbol} + {s2.symbol}) / {m.symbol}"
        f" + ({z1.symbol} + {z2.symbol}) · (inv({aw.symbol}) − inv({alpha.symbol})))"
    )
    return facts.once(
        ("backlash", state.id),
        lambda: computed(f"B_{a}_{b}", f"backlash of `{a}` and `{b}` on the working circles", formula, BACKLASH,
                         apart, z1, z2, s1, s2, m, aw, alpha),
    )  # fmt: skip


def contact_ratio(facts: Facts, state: MeshState, at: Number | None = None) -> Number:
    """Transverse contact ratio at the actual centre distance, or at the widest."""
    a, b = state.a, state.b
    apart, aw, alpha, m = at or distance(facts, a, b), working_angle(facts, a, b, at), angle(facts, a), module(facts, a)
    da1, da2, db1, db2 = tip(facts, a), tip(facts, b), base_diameter(facts, a), base_diameter(facts, b)
    formula = (
        f"((sqrt(max({da1.symbol}^2 − {db1.symbol}^2, 0)) + sqrt(max({da2.symbol}^2 − {db2.symbol}^2, 0))) / 2"
        f" − {apart.symbol} · sin({aw.symbol})) / (π · {m.symbol} · cos({alpha.symbol}))"
    )
    words = f"contact ratio of `{a}` and `{b}`" + ("" if at is None else " at the widest centres")
    return computed(f"eps_{a}_{b}", words, formula, CONTACT, da1, db1, da2, db2, apart, aw, m, alpha, unit="")


def tip_clearance(facts: Facts, state: MeshState) -> Number:
    """Least room between a gear's tips and its mate's root circle as designed."""
    a, b = state.a, state.b
    apart, da1, da2 = distance(facts, a, b), tip(facts, a), tip(facts, b)
    df1, df2 = root_diameter(facts, a), root_diameter(facts, b)
    formula = f"min({apart.symbol} − ({da1.symbol} + {df2.symbol}) / 2, {apart.symbol} − ({da2.symbol} + {df1.symbol}) / 2)"
    return computed(f"c_{a}_{b}", f"tip clearance of `{a}` and `{b}`", formula, DERIVED, apart, da1, df2, da2, df1)
