"""Gears that do not move with the feet, explained at one combination of sheets: their faces at rest and with all play against us."""

from __future__ import annotations

from trivet.model.hardware import TeeNut
from trivet.model.train import Drive, Pivot
from trivet.record import replace
from trivet.solve.corner import Corner
from trivet.solve.derived import GearState
from trivet.solve.foot_case import KEEPER_PLAY_MM
from trivet.solve.low_point import drive_of, pivot_of
from trivet.solve.stack_pivot import PivotStack, pivot_stack
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_bore import sleeve
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_levels import SAME, drop, stack_width, underside


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
        terms += pivot_terms(facts, pivot, stack[0].id, stand, corner, 0)
    elif drive is not None:
        terms += drive_terms(facts, drive)
    terms += [facts.gear_width(state.id, corner.gear) for state in stack[:index]]
    number = computed(f"top_{gear}", words, " − ".join(item.symbol for item in terms), DERIVED, *terms)
    if abs(number.value - value) < SAME:
        return number
    lying = _on_keeper(facts, corner, gear, stack[index:], (f"top_{gear}", f"{words}, which lies on its keeper"))
    if lying is not None and abs(lying.value - value) < SAME:
        return lying
    return found(f"top_{gear}", words, value, "its stack, with what play and keeper leave", DERIVED, *terms)


def _on_keeper(facts: Facts, corner: Corner, gear: str, below: tuple[GearState, ...], named: tuple[str, str]) -> Number | None:
    """A gear of a foot with a keeper lies on it: the keeper stands off by the thickest gears and play, and the gears are as thick as here."""
    root = facts.graph.shaft_of[gear]
    stack = facts.stroked.stacks[root]
    hung = [underside(facts, corner, facts.graph.gears[root].under.text)]
    if stack[0].level:
        hung.append(drop(facts, corner, stack[0].level))
    hung += [facts.gear_width(state.id, 1) for state in stack]
    hung.append(given("play_keeper", "play over a keeper", KEEPER_PLAY_MM, source=PRACTICE))
    widths = [facts.gear_width(state.id, corner.gear) for state in below]
    formula = " − ".join(item.symbol for item in hung) + "".join(f" + {item.symbol}" for item in widths)
    return computed(*named, formula, DERIVED, *dict.fromkeys((*hung, *widths)))


def face_against(facts: Facts, corner: Corner, gear: str, end: str, value: float) -> Number:
    """The lowest top face (`top`) or the highest lower face (`bottom`) of a gear that does not move with its foot, plays and washers against us."""
    symbol, words = f"{end}_{gear}", f"{'lowest top' if end == 'top' else 'highest lower'} face of `{gear}`, with its play and washers against us"
    holder = facts.graph.gears[facts.graph.shaft_of[gear]]
    stack = facts.stroked.stacks[facts.graph.shaft_of[gear]]
    index = next(number for number, state in enumerate(stack) if state.id == gear)
    widths = [facts.gear_width(state.id, corner.gear) for state in stack[: index + (end == "bottom")]]
    base = [underside(facts, corner, facts.graph.gears[gear].under.text)]
    if stack[0].level:
        base.append(drop(facts, corner, stack[0].level))
    pivot, drive = pivot_of(facts.design, holder), drive_of(facts.design, holder)
    made: list[list[Number]] = []
    if pivot is not None:
        world = facts.stroked.world(corner)
        for depth in (-1, 0, 1):
            for sign in (-1, 0, 1):
                stand = pivot_stack(pivot, stack, world.boards, facts.design.shop, world.drops.get(stack[0].level, 0.0),
                                    replace(corner, depth=depth), sign)  # fmt: skip
                made.append(pivot_terms(facts, pivot, stack[0].id, stand, corner, sign))
    elif drive is not None:
        made += [drive_terms(facts, drive, sign) for sign in (-1, 0, 1)]
    for held in made:
        for terms in (held, [item for item in held if not item.symbol.startswith("play_")]):
            inputs = [*base, *terms, *widths]
            number = computed(symbol, words, " − ".join(item.symbol for item in inputs), DERIVED, *inputs)
            if abs(number.value - value) < SAME:
                return number
    return found(symbol, words, value, "with its play and its washers against us", DERIVED, *base, *widths)


def pivot_terms(facts: Facts, pivot: Pivot, root: str, stand: PivotStack, corner: Corner, sign: int) -> list[Number]:
    """What lies between the board and an idler's gear: washer and play."""
    terms = []
    end = "_low" if sign > 0 else ""
    if pivot.washer is not None and "above" in pivot.washer_places:
        terms.append(_washer(facts, pivot, sign))
    if stand.sleeve_mm is None and pivot.play is not None:
        terms.append(given(f"play_{pivot.name}", f"play of `{pivot.name}`", pivot.play.mm, origin=pivot.play.origin))
    elif stand.sleeve_mm is None:
        terms.append(given(f"play_{pivot.name}", f"play of `{pivot.name}`", stand.play_mm, source=f"not stated: {PRACTICE}"))
    else:
        words = f"play of `{pivot.name}` at `{root}`" + (", at its lowest" if end else "")
        terms.append(_sleeve_play(facts, pivot, root, stand, corner, (f"play_{root}{end}", words), sign))
    return terms


def _sleeve_play(
    facts: Facts, pivot: Pivot, root: str, stand: PivotStack, corner: Corner, named: tuple[str, str], sign: int
) -> Number:
    """What a sleeve or shoulder leaves: its length, less the wood over the head's recess and the washers that it passes through."""
    # A gear that stands first on the shaft need not be the one that the shaft is named by.
    stack = facts.stroked.stacks[facts.graph.shaft_of[root]]
    long = sleeve(facts, pivot, stack)
    text, widths = stack_width(facts, corner, stack)
    inputs, formula = [long, *widths], f"{long.symbol} − {text}"
    if pivot.head_recessed is not None:
        recess = given(f"recess_{pivot.name}", f"recess of the head of `{pivot.name}`", pivot.head_recessed.mm, origin=pivot.head_recessed.origin)
        inputs.append(recess)
        formula += f" + {recess.symbol}"
    outside = pivot.sleeve_outside or pivot.shoulder
    if pivot.washer is not None and outside is not None and pivot.washer.inside_mm >= outside.mm:
        washer = _washer(facts, pivot, sign)
        inputs.append(washer)
        formula += f" − {len(set(pivot.washer_places))} · {washer.symbol}"
    made = None
    for error in ("", " + ", " − "):
        extra = [facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)] if error else []
        made = computed(*named, formula + (f"{error}{extra[0].symbol}" if extra else ""), DERIVED, *dict.fromkeys((*inputs, *extra)))
        if abs(made.value - stand.play_mm) < SAME:
            return made
    how = f"a sleeve or shoulder of {stand.sleeve_mm:g} mm, less what lies between its ends"
    return found(*named, stand.play_mm, how, DERIVED, *inputs)


def _washer(facts: Facts, of: Pivot | Drive, sign: int) -> Number:
    washer = of.washer
    assert washer is not None
    value = {-1: washer.thickness_min_mm, 0: washer.thickness_mm, 1: washer.thickness_max_mm}[sign]
    return given(
        f"w_{of.name}" + {-1: "_thin", 0: "", 1: "_thick"}[sign],
        f"washer of `{of.name}`" + {-1: ", at its thinnest", 0: "", 1: ", at its thickest"}[sign],
        value,
        origin=washer.origin,
    )


def drive_terms(facts: Facts, drive: Drive, sign: int = 0) -> list[Number]:
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
        terms.append(_washer(facts, drive, sign))
    return terms
