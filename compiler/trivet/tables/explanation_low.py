"""The lowest point of all that does not move with the feet, explained at one combination of sheets."""

from __future__ import annotations

from collections.abc import Callable

from trivet.model.hardware import Nut, TeeNut
from trivet.model.train import Drive, Pivot
from trivet.record import replace
from trivet.solve.corner import Corner
from trivet.solve.derived import GearState
from trivet.solve.foot_case import LowPoint
from trivet.solve.low_point import depth_against, drive_of, pivot_of
from trivet.solve.stack_drive import DriveStack, drive_stack
from trivet.solve.stack_pivot import PivotStack, pivot_stack
from trivet.tables.explanation import DERIVED, Number, computed, found, given
from trivet.tables.explanation_bore import drive_hole, shaft
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import keeper
from trivet.tables.explanation_fixed import drive_terms, pivot_terms
from trivet.tables.explanation_levels import SAME, drop, stack_width, underside
from trivet.tables.explanation_mesh import tip


def low_point(facts: Facts, corner: Corner) -> Number:
    """z of the lowest point of all that does not move with the feet."""
    low = facts.stroked.world(corner).low
    assert low is not None
    how = "the lowest of gears with play and droop, pivot heads, nuts, the bolt's end, keepers and lower boards"
    inputs: tuple[Number, ...] = ()
    if low.cause == "bench_idler":
        made = _idler_low(facts, corner, low)
        if made is not None and abs(made.value - low.z_mm) < SAME:
            return made
        inputs = made.inputs if made is not None else ()
    elif low.cause == "bench_drive":
        made = _drive_low(facts, corner, low)
        if made is not None and abs(made.value - low.z_mm) < SAME:
            return made
        inputs = made.inputs if made is not None else ()
    elif low.cause == "bench_keeper":
        foot = next((spec.id for spec in facts.stroked.specs.values() if low.part == f"the keeper under `{spec.gear.id}`"), None)
        plate = keeper(facts, corner, foot) if foot is not None else None
        if plate is not None and abs(plate.value - low.z_mm) < SAME:
            return computed("z_low", f"lowest point: {low.part}", plate.symbol, DERIVED, plate)
    elif low.cause == "bench_bolt":
        made = _bolt_low(facts, corner)
        if made is not None and abs(made.value - low.z_mm) < SAME:
            return made
    return found("z_low", f"lowest point: {low.part}", low.z_mm, how, DERIVED, *inputs)


def _idler_low(facts: Facts, corner: Corner, low: LowPoint) -> Number | None:
    """Rest, less its thickness, less its droop R min(c/l, play/D)."""
    world = facts.stroked.world(corner)
    for stack in facts.stroked.stacks.values():
        pivot = pivot_of(facts.design, stack[0].gear) or pivot_of(
            facts.design, facts.graph.gears[facts.graph.shaft_of[stack[0].id]]
        )
        if pivot is None or low.part != f"the idler `{stack[-1].id}`":
            continue
        level = stack[0].level
        hang = world.drops.get(level, 0.0)
        deep = replace(corner, depth=1) if corner.worst else corner
        sheets = Corner(corner.board, corner.gear)
        tried = [pivot_stack(pivot, stack, world.boards, facts.design.shop, hang, c, 1) for c in
                 (depth_against(sheets), replace(deep, head=0), sheets)]  # fmt: skip
        stand = min(tried, key=lambda item: abs(item.gear_low_mm - low.z_mm))
        terms = [underside(facts, corner, stack[0].gear.under.text)]
        if level:
            terms.append(drop(facts, corner, level))
        terms += pivot_terms(facts, pivot, stack[0].id, stand, corner, 1)
        terms += [facts.gear_width(state.id, corner.gear) for state in stack]
        terms.append(_droop(facts, pivot, stand, stack, corner, terms))
        formula = " − ".join(item.symbol for item in terms)
        return computed("z_low", f"lowest point: {low.part}, with its play and droop", formula, DERIVED, *terms)
    return None


def _drive_low(facts: Facts, corner: Corner, low: LowPoint) -> Number | None:
    """Rest, less its thickness, less its droop R min(c/l, play/D)."""
    for root, stack in facts.stroked.stacks.items():
        drive = drive_of(facts.design, facts.graph.gears[root])
        if drive is None or low.part != f"the drive gear `{stack[-1].id}`":
            continue
        terms = [underside(facts, corner, stack[0].gear.under.text)]
        if stack[0].level:
            terms.append(drop(facts, corner, stack[0].level))
        terms += drive_terms(facts, drive, 1)
        terms += [facts.gear_width(state.id, corner.gear) for state in stack]
        terms.append(_drive_droop(facts, corner, drive, stack, terms))
        formula = " − ".join(item.symbol for item in terms)
        return computed("z_low", f"lowest point: {low.part}, with its play and droop", formula, DERIVED, *terms)
    return None


def _drive_droop(facts: Facts, corner: Corner, drive: Drive, stack: tuple[GearState, ...], terms: list[Number]) -> Number:
    """How far the rim of the drive's gear sinks as the bolt leans in its hole, or the gear on its nut."""
    widest = max(stack, key=lambda item: item.geometry.tip_radius_mm)
    da, hole, bolt = tip(facts, widest.id), drive_hole(facts, drive), shaft(facts, stack[0].id)
    board = stack[0].gear.under.text
    wood = [facts.board_thickness(name, corner.board) for name in facts.stroked.world(corner).boards.chain(board)]
    long, inputs = " + ".join(item.symbol for item in wood), [da, hole, bolt, *wood]
    if drive.head_recessed is not None:
        recess = given(f"r_{drive.name}", f"recess of the head of `{drive.name}`", drive.head_recessed.mm, origin=drive.head_recessed.origin)
        long += f" − {recess.symbol}"
        inputs.append(recess)
        if corner.worst:
            error = facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)
            long += f" + {error.symbol}"
            inputs.append(error)
    lean = f"max({hole.symbol} − {bolt.symbol}, 0) / ({long})"
    above = [nut for nut in (drive.nut, drive.jam_nut) if nut is not None and nut.side == "above"]
    if above:
        hardware = max((nut.hardware for nut in above), key=_bears)
        wide = given(f"D_{drive.name}", "what the nut above bears with, across", _bears(hardware), origin=hardware.origin)
        play = next(item for item in terms if item.symbol.startswith("play_"))
        lean = f"min({lean}, {play.symbol} / {wide.symbol})"
        inputs += [play, wide]
    words = "how far the rim sinks as the gear leans"
    return computed(f"droop_{stack[-1].id}", words, f"{da.symbol} / 2 · {lean}", DERIVED, *dict.fromkeys(inputs))


def _bears(nut: Nut | TeeNut) -> float:
    return nut.flange_diameter_mm if isinstance(nut, TeeNut) else nut.across_flats_mm


def _droop(
    facts: Facts, pivot: Pivot, stand: PivotStack, stack: tuple[GearState, ...], corner: Corner, terms: list[Number]
) -> Number:
    widest = max(stack, key=lambda item: item.geometry.tip_radius_mm)
    da, c = tip(facts, widest.id), facts.shop("bore_clearance", "c", "bore clearance", facts.design.shop.bore_clearance_mm)
    head = pivot.screw.head
    across = pivot.washer.outside_mm if pivot.washer is not None else head.diameter_mm
    washer = given(f"D_{pivot.name}", "diameter of the washer, or of the head", across,
                   origin=pivot.washer.origin if pivot.washer is not None else head.origin)  # fmt: skip
    play = next(item for item in terms if item.symbol.startswith("play_"))
    length = _bore_length(
        facts, pivot, stand, stack, corner, lambda made: da.value / 2.0 * min(c.value / made.value, play.value / washer.value)
    )
    formula = f"{da.symbol} / 2 · min({c.symbol} / {length.symbol}, {play.symbol} / {washer.symbol})"
    return computed(
        f"droop_{stack[-1].id}", "how far the rim sinks as the gear leans", formula, DERIVED, da, c, length, play, washer
    )


def _bore_length(
    facts: Facts, pivot: Pivot, stand: PivotStack, stack: tuple[GearState, ...], corner: Corner, wanted: Callable[[Number], float]
) -> Number:
    text, terms = stack_width(facts, corner, stack)
    words = f"length of the bore of `{stack[-1].id}` on its shaft"
    if pivot.head_recessed is None:
        return computed(f"l_{stack[-1].id}", words, text, DERIVED, *terms)
    recess = given(
        f"r_{pivot.name}", f"recess of the head of `{pivot.name}`", pivot.head_recessed.mm, origin=pivot.head_recessed.origin
    )
    web = next((value for name, value in stand.items if name == "gear above the head"), None)
    error = facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)
    number = computed(f"l_{stack[-1].id}", words, f"{text} − {recess.symbol}", DERIVED, *terms, recess)
    # With a sleeve the stack does not name the wood: the droop says how deep the recess was taken.
    for sign in ("", " + ", " − "):
        made = number if not sign else computed(f"l_{stack[-1].id}", words, f"{text} − ({recess.symbol}{sign}{error.symbol})", DERIVED,
                                                *terms, recess, error)  # fmt: skip
        if (web is not None and abs(web - made.value) < SAME) or (web is None and abs(wanted(made) - stand.droop_mm) < SAME):
            return made
    web = number.value if web is None else web
    return found(f"l_{stack[-1].id}", words, web, "the gear's thickness less the recess and its error", DERIVED, *terms, recess)


def _bolt_low(facts: Facts, corner: Corner) -> Number | None:
    world = facts.stroked.world(corner)
    for root, stack in facts.stroked.stacks.items():
        drive = drive_of(facts.design, facts.graph.gears[root])
        if drive is None or root not in facts.stroked.lengths:
            continue
        stand: DriveStack = drive_stack(drive, stack, world.boards, facts.design.shop, world.drops.get(stack[0].level, 0.0),
                                        replace(depth_against(corner.sheets), depth=1) if corner.worst else corner.sheets, -1)  # fmt: skip
        head = found(
            "z_head",
            f"underside of the head of `{drive.name}`",
            stand.head_z_mm,
            "topside of its board less its recess, plus its washer",
            DERIVED,
        )
        bolt = found(
            f"L_{drive.name}",
            f"fitted length of the bolt of `{drive.name}`",
            facts.stroked.lengths[root],
            f"`trivet explain length {drive.name}.{root}` says why",
            DERIVED,
        )
        return computed(
            "z_low", f"lowest point: the end of the bolt of `{drive.name}`", f"{head.symbol} − {bolt.symbol}", DERIVED, head, bolt
        )
    return None
