"""Places, turns and phases of the gears, explained along the train."""

from __future__ import annotations

import math
from collections import deque

from trivet.model.train import Mesh, Ring
from trivet.solve.derived import GearState
from trivet.solve.ring_circle import ring_radius_mm
from trivet.solve.train_graph import pair
from trivet.tables.explanation import DERIVED, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_mesh import asked_distance, spot
from trivet.tables.explanation_teeth import teeth
from trivet.tables.formula import shown

SPEED = "Wentzell, Machine Elements, example 11.2, p. 219 (published copy); an idler cancels"
# A place found along a mesh is the solver's when they differ by rounding only.
SAME = 1e-9
# As an angle, degrees.
SAME_DEG = 1e-9


def places(facts: Facts) -> dict[str, tuple[Number, Number]]:
    """x and y of every gear that has a place: stated, on a ring, or from a mesh or shaft with a gear that has one."""
    done: dict[str, tuple[Number, Number]] = {}
    waiting: deque[str] = deque()
    statements: dict[str, list[Mesh]] = {}
    for mesh in facts.graph.statements:
        if mesh.angle is not None:
            statements.setdefault(mesh.a.text, []).append(mesh)
            statements.setdefault(mesh.b.text, []).append(mesh)
    for name, state in facts.states.items():
        at = state.gear.at
        if at is not None:
            done[name] = _pair(name, [given(f"{axis.upper()}_{name}", f"{axis} of `{name}`, from the first board's corner", value, origin=at.origin)
                                      for axis, value in (("x", at.x), ("y", at.y))])  # fmt: skip
            waiting.append(name)
    for ring in facts.design.rings:
        radius = _ring_radius(facts, ring)
        for name in (gear.text for gear in ring.gears):
            if name in facts.states and name not in done and radius is not None:
                done[name] = _on_ring(facts, ring, name, radius, facts.states[name])
                waiting.append(name)
    while waiting:
        name = waiting.popleft()
        for mesh in statements.get(name, ()):
            other = mesh.b.text if name == mesh.a.text else mesh.a.text
            if other in facts.states and other not in done:
                x, y = _by_mesh(facts, mesh, name, other, done[name])
                if math.hypot(x.value - facts.states[other].x_mm, y.value - facts.states[other].y_mm) < SAME:
                    done[other] = x, y
                    waiting.append(other)
        for other in facts.graph.shafted[name]:
            if other in facts.states and other not in done:
                words = f"of `{other}`, on one shaft with `{name}`"
                x, y = done[name]
                done[other] = (
                    computed(f"X_{other}", f"x {words}", x.symbol, DERIVED, x),
                    computed(f"Y_{other}", f"y {words}", y.symbol, DERIVED, y),
                )
                waiting.append(other)
    return done


def _by_mesh(facts: Facts, mesh: Mesh, name: str, other: str, at: tuple[Number, Number]) -> tuple[Number, Number]:
    """The place of `other` at the end of the line of centres from `name`."""
    assert mesh.angle is not None
    sign = "+" if name == mesh.a.text else "−"
    apart = asked_distance(facts, mesh.a.text, mesh.b.text)
    words = f"direction from `{mesh.a}` to `{mesh.b}`"
    towards = given(f"at_{mesh.a}_{mesh.b}", words, mesh.angle.value, "deg", mesh.angle.origin)
    x, y = (
        computed(
            f"{axis.upper()}_{other}",
            f"{axis} of `{other}`, from its mesh with `{name}`",
            f"{before.symbol} {sign} {apart.symbol} · {turn}({towards.symbol})",
            DERIVED,
            before,
            apart,
            towards,
        )
        for axis, before, turn in (("x", at[0], "cos"), ("y", at[1], "sin"))
    )
    return x, y


def _pair(name: str, numbers: list[Number]) -> tuple[Number, Number]:
    assert len(numbers) == 2, name
    return numbers[0], numbers[1]


def _ring_radius(facts: Facts, ring: Ring) -> Number | None:
    names = [gear.text for gear in ring.gears]
    chords = [asked_distance(facts, a, b) for a, b in zip(names, names[1:] + names[:1], strict=True)]
    radius = ring_radius_mm([chord.value for chord in chords])
    if radius is None:
        return None
    symbol, words = f"R_{ring.name}", f"radius of ring `{ring.name}`"
    if len({chord.value for chord in chords}) == 1:
        formula = f"{chords[0].symbol} / (2 · sin(180 / {len(chords)}))"
        return computed(symbol, words, formula, "derived: a regular polygon, all centre distances equal", chords[0])
    # Put in, the radius gives a whole turn: the reader can check what was found by halving.
    put = " + ".join(f"2 · asin({shown(chord.value)} / {shown(2.0 * radius)})" for chord in chords)
    turn = sum(2.0 * math.degrees(math.asin(min(1.0, chord.value / (2.0 * radius)))) for chord in chords)
    how = (
        "the circle round the polygon whose sides are the centre distances: the angles between neighbours, 2 asin(c / 2R), make a whole"
        f" turn; R found by halving. Put in: {put} = {shown(turn)} deg"
    )
    return found(symbol, words, radius, how, DERIVED, *chords)


def _on_ring(facts: Facts, ring: Ring, name: str, radius: Number, state: GearState) -> tuple[Number, Number]:
    around = ring.around
    turned = math.degrees(math.atan2(state.y_mm - around.y, state.x_mm - around.x)) % 360.0
    direction = _ring_direction(facts, ring, name, radius, turned)
    numbers = []
    for axis, middle, turn in (("x", around.x, "cos"), ("y", around.y, "sin")):
        m = given(f"{axis.upper()}_{ring.name}", f"{axis} of the middle of `{ring.name}`", middle, origin=around.origin)
        formula = f"{m.symbol} + {radius.symbol} · {turn}({direction.symbol})"
        words = f"{axis} of `{name}`, on ring `{ring.name}`"
        numbers.append(computed(f"{axis.upper()}_{name}", words, formula, DERIVED, m, radius, direction))
    return _pair(name, numbers)


def _ring_direction(facts: Facts, ring: Ring, name: str, radius: Number, turned_deg: float) -> Number:
    """Where a gear stands on its ring: the first gear's direction, and the angle from each gear to the next before it."""
    first = given(
        f"first_{ring.name}", f"direction of the first gear of `{ring.name}`", ring.first_at.value, "deg", ring.first_at.origin
    )
    names = [gear.text for gear in ring.gears]
    before = names[: names.index(name)]
    chords = [asked_distance(facts, a, b) for a, b in zip(before, names[1:], strict=False)]
    words = f"direction of `{name}` on its ring"
    symbol, inputs = f"at_{ring.name}_{name}", tuple(dict.fromkeys((first, *chords, *((radius,) if chords else ()))))
    for sign in ("+", "−"):
        steps = [f" {sign} 2 · asin({chord.symbol} / (2 · {radius.symbol}))" for chord in chords]
        number = computed(symbol, words, f"mod({first.symbol}{''.join(steps)}, 360)", DERIVED, *inputs, unit="deg")
        off = (number.value - turned_deg + 180.0) % 360.0 - 180.0
        if abs(off) < SAME_DEG:
            return number
    how = "the first gear's direction, and for each gear between them 2 asin(c/2R) of its centre distance c"
    return found(symbol, words, turned_deg, how, DERIVED, *inputs, unit="deg")


def speeds(facts: Facts) -> dict[str, Number]:
    """Signed turns of every gear for a turn of the drive, positive with it, along the path from the drive."""
    done: dict[str, Number] = {}
    for state in sorted(facts.states.values(), key=lambda item: len(item.path)):
        if state.speed is None:
            continue
        name = state.id
        if len(state.path) < 2:
            done[name] = given(f"n_{name}", f"turns of `{name}` for a turn of the drive", 1.0, "", state.gear.name.origin,
                               "the drive turns it")  # fmt: skip
            continue
        before = state.path[-2]
        if before not in done:
            continue
        words = f"turns of `{name}` for a turn of the drive, {'with' if state.direction > 0 else 'against'} it"
        if pair(before, name) in facts.graph.meshes:
            one, two = teeth(facts, before), teeth(facts, name)
            formula = f"−{done[before].symbol} · {one.symbol} / {two.symbol}"
            done[name] = computed(f"n_{name}", words, formula, SPEED, done[before], one, two, unit="")
        else:
            done[name] = computed(
                f"n_{name}", f"{words}, on one shaft with `{before}`", done[before].symbol, SPEED, done[before], unit=""
            )
    return done


def phases(facts: Facts) -> dict[str, Number]:
    """Direction of a tooth centre of every gear, degrees: the drive gear's points along +x, each mate's faces a space."""
    done: dict[str, Number] = {}
    roots = [name for name in facts.graph.roots() if name in facts.states]
    for root in roots:
        if root in done:
            continue
        done[root] = given(
            f"p_{root}", f"direction of a tooth of `{root}`", 0.0, "deg", None, "where the drawing starts: a tooth along +x"
        )
        waiting = deque([root])
        while waiting:
            name = waiting.popleft()
            for other, by_mesh in facts.graph.neighbours(name):
                if other in done or other not in facts.states or (by_mesh and (name, other) not in facts.meshes):
                    continue
                made = _phase(facts, name, other, done[name]) if by_mesh else _clocked(facts, name, other, done[name])
                pitch = 360.0 / facts.states[other].geometry.teeth
                out = (made.value - math.degrees(facts.states[other].phase_rad)) % pitch
                if min(out, pitch - out) < 1e-7:
                    done[other] = made
                    waiting.append(other)
    return done


def _phase(facts: Facts, name: str, other: str, phase: Number) -> Number:
    x1, y1, x2, y2 = (spot(facts, gear, axis) for gear in (name, other) for axis in ("x", "y"))
    b = computed(f"to_{name}_{other}", f"direction from `{name}` to `{other}`",
                 f"atan2({y2.symbol} − {y1.symbol}, {x2.symbol} − {x1.symbol})", DERIVED, y2, y1, x2, x1, unit="deg")  # fmt: skip
    one, two = teeth(facts, name), teeth(facts, other)
    formula = f"mod({b.symbol} + 180 + ({one.symbol} · ({b.symbol} − {phase.symbol}) − 180) / {two.symbol}, 360 / {two.symbol})"
    return computed(f"p_{other}", f"direction of a tooth of `{other}`: a tooth of one faces a space of the other", formula, DERIVED,
                    b, one, phase, two, unit="deg")  # fmt: skip


def _clocked(facts: Facts, name: str, other: str, phase: Number) -> Number:
    two = teeth(facts, other)
    return computed(f"p_{other}", f"direction of a tooth of `{other}`, clocked to `{name}` on its shaft",
                    f"mod({phase.symbol}, 360 / {two.symbol})", DERIVED, phase, two, unit="deg")  # fmt: skip
