"""Heights in the stack, explained at one combination of sheets: boards, gears that do not move with the feet, the lowest point.

z counts up from the underside of the board that the feet act on.
"""

from __future__ import annotations

from trivet.model.hardware import TeeNut
from trivet.model.train import Drive, Pivot
from trivet.record import replace
from trivet.solve.board_levels import reference_board
from trivet.solve.corner import Corner
from trivet.solve.derived import GearState
from trivet.solve.foot_case import LowPoint
from trivet.solve.low_point import depth_against, drive_of, pivot_of
from trivet.solve.stack_drive import DriveStack, drive_stack
from trivet.solve.stack_pivot import PivotStack, pivot_stack
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_mesh import tip

SAME = 1e-9


def underside(facts: Facts, corner: Corner, board: str) -> Number:
    """z of a board's underside."""
    value = facts.stroked.world(corner).boards.z[board].under_mm
    if board == reference_board(facts.design):
        return facts.once(
            ("under", board),
            lambda: given(f"z_{board}", f"underside of `{board}`: heights count from here", 0.0, source="by definition"),
        )
    made = facts.parts.boards[board]
    inputs = [facts.board_thickness(name, corner.board) for name in facts.stroked.world(corner).boards.chain(board)[:-1]]
    how = "boards lie on one another with the gaps stated"
    return facts.once(
        ("under", board, corner.board), lambda: found(f"z_{made.name}", f"underside of `{board}`", value, how, DERIVED, *inputs)
    )


def work_surface(facts: Facts, corner: Corner, board: str) -> Number:
    """z of the topside of the uppermost board over one."""
    base = underside(facts, corner, board)
    chain = facts.stroked.world(corner).boards.chain(board)
    inputs = [base]
    for index, name in enumerate(chain):
        inputs.append(facts.board_thickness(name, corner.board))
        clear = facts.parts.boards[name].clear
        if index + 1 < len(chain) and clear is not None:
            # The function is called at once, with the names of this turn.
            gap = facts.once(("gap", name), lambda: given(f"gap_{name}", f"gap over `{name}`", clear.mm, origin=clear.origin))  # noqa: B023 - called at once, within the loop
            inputs.append(gap)
    words = f"topside of `{chain[-1]}`, the work surface"
    formula = " + ".join(item.symbol for item in inputs)
    return facts.once(("work", board, corner.board), lambda: computed("T", words, formula, DERIVED, *inputs))


def drop(facts: Facts, corner: Corner, level: int) -> Number:
    """How far a level hangs below its board."""
    value = facts.stroked.world(corner).drops.get(level, 0.0)
    how = "the thickest gears of each level above that have a mate below"
    return facts.once(
        ("drop", level, corner.gear), lambda: found(f"h_{level}", f"gears of the levels above level {level}", value, how, DERIVED)
    )


def stack_width(facts: Facts, corner: Corner, stack: tuple[GearState, ...]) -> tuple[str, list[Number]]:
    """Thickness of all gears of a shaft: what to write in a formula, and its inputs."""
    widths = [facts.gear_width(state.id, corner.gear) for state in stack]
    text = " + ".join(item.symbol for item in widths)
    return (text if len(widths) == 1 else f"({text})"), widths


def fixed_top(facts: Facts, corner: Corner, gear: str) -> Number:
    """z of the top face at rest of a gear that does not move with its foot."""
    world = facts.stroked.world(corner)
    value = world.fixed[gear].top_mm
    stack = facts.stroked.stacks[facts.graph.shaft_of[gear]]
    index = next(number for number, state in enumerate(stack) if state.id == gear)
    made = facts.graph.gears[gear]
    words = f"top face of `{gear}`"
    terms = [underside(facts, corner, made.under.text)]
    if stack[0].level:
        terms.append(drop(facts, corner, stack[0].level))
    holder = facts.graph.gears[facts.graph.shaft_of[gear]]
    pivot, drive = pivot_of(facts.design, holder), drive_of(facts.design, holder)
    if pivot is not None:
        stand = pivot_stack(pivot, stack, world.boards, facts.design.shop, world.drops.get(stack[0].level, 0.0), corner, 0)
        terms += _pivot_terms(facts, pivot, stack[0].id, stand, 0)
    elif drive is not None:
        terms += drive_terms(facts, drive)
    terms += [facts.gear_width(state.id, corner.gear) for state in stack[:index]]
    number = computed(f"top_{gear}", words, " − ".join(item.symbol for item in terms), DERIVED, *terms)
    if abs(number.value - value) < SAME:
        return number
    return found(f"top_{gear}", words, value, "its stack, with what play and keeper leave", DERIVED, *terms)


def _pivot_terms(facts: Facts, pivot: Pivot, root: str, stand: PivotStack, sign: int) -> list[Number]:
    terms = []
    end = "_low" if sign > 0 else ""
    if pivot.washer is not None and "above" in pivot.washer_places:
        terms.append(_washer(facts, pivot, sign))
    if stand.sleeve_mm is None and pivot.play is not None:
        terms.append(given(f"play_{pivot.name}", f"play of `{pivot.name}`", pivot.play.mm, origin=pivot.play.origin))
    elif stand.sleeve_mm is None:
        terms.append(given(f"play_{pivot.name}", f"play of `{pivot.name}`", stand.play_mm, source=f"not stated: {PRACTICE}"))
    else:
        how = f"a sleeve or shoulder of {stand.sleeve_mm:g} mm, less what lies between its ends"
        terms.append(
            found(
                f"play_{root}{end}",
                f"play of `{pivot.name}` at `{root}`" + (", at its lowest" if end else ""),
                stand.play_mm,
                how,
                DERIVED,
            )
        )
    return terms


def _washer(facts: Facts, of: Pivot | Drive, sign: int) -> Number:
    washer = of.washer
    assert washer is not None
    value = {-1: washer.thickness_min_mm, 0: washer.thickness_mm, 1: washer.thickness_max_mm}[sign]
    return given(
        f"w_{of.name}" + ("_thick" if sign > 0 else ""),
        f"washer of `{of.name}`" + (", at its thickest" if sign > 0 else ""),
        value,
        origin=washer.origin,
    )


def drive_terms(facts: Facts, drive: Drive) -> list[Number]:
    """What lies between the board and the drive's gear: play, nut, washer."""
    source = "" if drive.play is not None else f"not stated: {PRACTICE}"
    play = next(item for item in facts.derived.drives if item.drive.name.text == drive.name.text).play_mm
    terms = [
        given(
            f"play_{drive.name}",
            f"play of `{drive.name}`",
            play,
            origin=drive.play.origin if drive.play is not None else None,
            source=source,
        )
    ]
    for index, nut in enumerate(item for item in (drive.nut, drive.jam_nut) if item is not None and item.side == "above"):
        flange = isinstance(nut.hardware, TeeNut)
        height = nut.hardware.flange_thickness_mm if isinstance(nut.hardware, TeeNut) else nut.hardware.height_mm
        words = f"{'flange of the tee nut' if flange else 'nut'} above the gear"
        terms.append(given(f"f_{drive.name}" + ("_2" if index else ""), words, height, origin=nut.hardware.origin))
    if drive.washer is not None and "above" in drive.washer_places:
        terms.append(_washer(facts, drive, 0))
    return terms


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
        terms += _pivot_terms(facts, pivot, stack[0].id, stand, 1)
        terms += [facts.gear_width(state.id, corner.gear) for state in stack]
        terms.append(_droop(facts, pivot, stand, stack, corner, terms))
        formula = " − ".join(item.symbol for item in terms)
        return computed("z_low", f"lowest point: {low.part}, with its play and droop", formula, DERIVED, *terms)
    return None


def _droop(
    facts: Facts, pivot: Pivot, stand: PivotStack, stack: tuple[GearState, ...], corner: Corner, terms: list[Number]
) -> Number:
    widest = max(stack, key=lambda item: item.geometry.tip_radius_mm)
    da, c = tip(facts, widest.id), facts.shop("bore_clearance", "c", "bore clearance", facts.design.shop.bore_clearance_mm)
    length = _bore_length(facts, pivot, stand, stack, corner)
    head = pivot.screw.head
    across = pivot.washer.outside_mm if pivot.washer is not None else head.diameter_mm
    washer = given(f"D_{pivot.name}", "diameter of the washer, or of the head", across,
                   origin=pivot.washer.origin if pivot.washer is not None else head.origin)  # fmt: skip
    play = next(item for item in terms if item.symbol.startswith("play_"))
    formula = f"{da.symbol} / 2 · min({c.symbol} / {length.symbol}, {play.symbol} / {washer.symbol})"
    return computed(
        f"droop_{stack[-1].id}", "how far the rim sinks as the gear leans", formula, DERIVED, da, c, length, play, washer
    )


def _bore_length(facts: Facts, pivot: Pivot, stand: PivotStack, stack: tuple[GearState, ...], corner: Corner) -> Number:
    text, terms = stack_width(facts, corner, stack)
    words = f"length of the bore of `{stack[-1].id}` on its shaft"
    if pivot.head_recessed is None:
        return computed(f"l_{stack[-1].id}", words, text, DERIVED, *terms)
    recess = given(
        f"r_{pivot.name}", f"recess of the head of `{pivot.name}`", pivot.head_recessed.mm, origin=pivot.head_recessed.origin
    )
    number = computed(f"l_{stack[-1].id}", words, f"{text} − {recess.symbol}", DERIVED, *terms, recess)
    web = next((value for name, value in stand.items if name == "gear above the head"), number.value)
    if abs(web - number.value) < SAME:
        return number
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
