"""How far moisture closes or opens a mesh, explained: the range, what board and gears move, and the difference of both."""

from __future__ import annotations

from trivet.solve.derived import MeshState
from trivet.solve.library_figures import MOVEMENT_SOURCE, movement_percent
from trivet.tables.explanation import DERIVED, Number, computed, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_mesh import distance, spot
from trivet.tables.explanation_teeth import teeth

DIFFERENCE = (
    "derived: gears grow towards each other by their working radii, the board carries their axes apart; made at one end of the range,"
    " used at the other"
)
STRETCH = "derived: a line at an angle to the grain grows by cos² of what moves along it and sin² of what moves across it"


def moisture_shift(facts: Facts, state: MeshState) -> Number:
    """The mesh closer, or wider, over the shop's range of moisture; as long on the line of centres."""
    a, b = state.a, state.b
    shop, apart, z1, z2 = facts.design.shop, distance(facts, a, b), teeth(facts, a), teeth(facts, b)
    least = facts.shop("moisture", "moist_least", "least moisture of the wood, percent", shop.moisture_least, "")
    most = facts.shop("moisture", "moist_most", "greatest moisture of the wood, percent", shop.moisture_most, "")
    one, two = (_movement(facts, facts.graph.gears[name].stock.text) for name in (a, b))
    low, high = _board(facts, state)

    def grown(end: int) -> str:
        moves = [sorted(both, key=lambda item: item.value)[end].symbol for both in (one, two)]
        return f"({z1.symbol} · {moves[0]} + {z2.symbol} · {moves[1]}) / ({z1.symbol} + {z2.symbol})"

    formula = (
        f"({most.symbol} − {least.symbol}) / 100 · {apart.symbol} · max(0, {grown(1)} − {low.symbol}, {high.symbol} − {grown(0)})"
    )
    inputs = tuple(dict.fromkeys((most, least, apart, z1, z2, *one, *two, low, high)))
    words = f"moisture of board and gears, what it moves `{a}` and `{b}` nearer or apart"
    return facts.once(("moisture", state.id), lambda: computed(f"moist_{a}_{b}", words, formula, DIFFERENCE, *inputs))


def _movement(facts: Facts, sheet: str) -> tuple[Number, Number]:
    """Along and across the grain of a sheet, percent for each percent of moisture."""
    material = facts.parts.sheets[sheet].material
    values = movement_percent(material.text if material is not None else None)
    taken = "" if material is not None else f"; the material of `{sheet}` is not stated: taken as plywood"
    along, across = (
        facts.once(
            ("moves", sheet, way),
            lambda way=way, value=value: given(  # type: ignore[misc]  # the defaults bind the loop's values
                f"move_{way}_{sheet}", f"what `{sheet}` moves {way} its grain, percent for each of moisture", value, "", None,
                MOVEMENT_SOURCE + taken,
            ),
        )
        for way, value in zip(("along", "across"), values, strict=True)
    )  # fmt: skip
    return along, across


def _board(facts: Facts, state: MeshState) -> tuple[Number, Number]:
    """What the board moves along the line of centres, least and most: alike where its grain is known."""
    holder = facts.graph.gears[facts.graph.shaft_of[state.a]]
    board = facts.parts.boards[holder.under.text]
    sheet = facts.parts.sheets[board.stock.text]
    along, across = _movement(facts, sheet.name.text)
    grain = board.grain or sheet.face_grain
    if grain is None:
        low, high = sorted((along, across), key=lambda item: item.value)
        return low, high
    spots = [spot(facts, name, axis) for axis in "yx" for name in (state.b, state.a)]
    angle = facts.once(
        ("angle", state.id),
        lambda: computed(f"dir_{state.a}_{state.b}", f"direction from `{state.a}` to `{state.b}`, from +x",
                         f"atan2({spots[0].symbol} − {spots[1].symbol}, {spots[2].symbol} − {spots[3].symbol})", DERIVED, *spots, unit="deg"),
    )  # fmt: skip
    one, two = (along, across) if grain == "x" else (across, along)
    found = facts.once(
        ("moves", state.id),
        lambda: computed(f"move_{state.a}_{state.b}", f"what `{board.name}` moves on that line, percent for each of moisture",
                         f"{one.symbol} · cos({angle.symbol})^2 + {two.symbol} · sin({angle.symbol})^2", STRETCH, one, angle, two, unit=""),
    )  # fmt: skip
    return found, found
