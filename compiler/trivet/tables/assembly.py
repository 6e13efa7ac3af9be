"""The assembly sheet: steps in an order in which nothing is captive, zeroing, trying, first binding, use, cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from trivet.model.design import Design
from trivet.solve.assembly import assembly
from trivet.solve.assembly_step import Assembly, AssemblyStep
from trivet.solve.derived import Derived
from trivet.tables import assembly_fit, assembly_prepare
from trivet.tables.assembly_trying import first_binding, tests
from trivet.tables.assembly_zero import zero_step
from trivet.tables.bench_step import Bench, BenchStep, bench
from trivet.tables.bench_words import names, small
from trivet.tables.cautions import DEFERENCE, building_cautions, cutting_cautions, use_cautions
from trivet.tables.prose_page import Item, Page, Picture, Section
from trivet.tables.raise_table import raise_rows

Say = Callable[[Bench, AssemblyStep], Iterator[BenchStep]]
# Kinds of steps that set a foot to the board: the feet can be zeroed once all of them are done.
_FEET = ("thread_feet", "turn_in_screw", "thread_rod")


def _said(kind: str) -> Say:
    found: Say | None = getattr(assembly_prepare, kind, None) or getattr(assembly_fit, kind, None)
    return found or _plainly


def _plainly(held: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """A kind of step without words of its own."""
    yield BenchStep(step.kind, step.parts, f"{step.kind.replace('_', ' ').capitalize()}: {names(step.parts)}.")


def bench_steps(design: Design, derived: Derived, order: Assembly | None = None) -> tuple[BenchStep, ...]:
    """All steps in words, the zeroing among them where the feet are in and not yet coupled; empty where nothing could be ordered."""
    held = bench(design, derived)
    steps = (order or assembly(design, derived)).steps
    last = max((index for index, step in enumerate(steps) if step.kind in _FEET), default=-1)
    # Pads that can only be put on now belong to the feet.
    while 0 <= last < len(steps) - 1 and steps[last + 1].kind == "fit_pad":
        last += 1
    later = tuple(gear for step in steps[last + 1 :] if step.exact for gear in step.gears)
    found: list[BenchStep] = []
    for index, step in enumerate(steps):
        found += _said(step.kind)(held, step)
        if index == last:
            zero = zero_step(held, later)
            found += [zero] if zero is not None else []
    return tuple(found)


def assembly_page(
    design: Design, derived: Derived, order: Assembly, steps: tuple[BenchStep, ...], pictures: Mapping[int, Picture]
) -> Page:
    """The sheet; `pictures`: figures by the number of their step, counted from 1."""
    held = bench(design, derived)
    items = tuple(
        Item(step.text, step.details, (pictures[number],) if number in pictures else ())
        for number, step in enumerate(steps, start=1)
    )
    sections = [
        Section(
            "Cautions first", (DEFERENCE,), tuple(Item(text) for text in (*cutting_cautions(), *building_cautions(design, derived)))
        ),
        Section("Before you begin", (), _before(held)),
        _steps_section(order, items),
        tests(held),
        first_binding(held),
        *_use(held),
        Section("Cautions in use", (), tuple(Item(text) for text in use_cautions(design, derived))),
    ]
    title = f"Assembly of {design.title or design.name}" + (f", revision {design.revision}" if design.revision else "")
    return Page(
        title, _opening(held), tuple(section for section in sections if section.items or section.rows or section.paragraphs)
    )


def _opening(held: Bench) -> tuple[str, ...]:
    design, lift = held.design, held.derived.lift
    if not design.boards:
        return ()
    box = design.boards[0].outline
    text = f"`{design.boards[0].name.text}` is {held.length(box.width_mm)} by {held.length(box.height_mm)}"
    if lift is not None and lift.travel_mm > 0.0:
        text += (
            f"; it lifts from {held.length(lift.height_min_mm)} to {held.length(lift.height_max_mm)}, "
            f"{small(lift.per_turn_mm, held.unit)} a turn, turned {lift.raises_when} seen from above"
        )
    return (
        f"{text}. Parts are called as on the drawings; `corner.nw` is the foot that the gear `nw` carries, and so on. No "
        "capacity is stated: no figure here certifies a load."
        if lift is not None and lift.travel_mm > 0.0 else f"{text}. Parts are called as on the drawings.",
    )  # fmt: skip


def _before(held: Bench) -> tuple[Item, ...]:
    return (
        Item("Have everything of `hardware.md` and `cut_list.md` on the bench, counted."),
        Item("Fill in `inspection.csv`, and run `trivet check --measured inspection.csv` on the fixture's file: it says "
            "whether these parts will run before any glue is open."),
        Item("Try every pair of gears dry, on two pins at their centres: each must turn a whole turn with a little free play."),
        Item("Sand no flank yet. Seal bores and teeth with thin shellac, let it dry, then wax; no thick film on flanks."),
    )  # fmt: skip


def _steps_section(order: Assembly, items: tuple[Item, ...]) -> Section:
    said = (
        "In this order no part is in the way of one that comes later: the parts were taken off one by one, straight up or "
        "down, as the plan draws them."
    )
    blocked = tuple(
        f"Not possible as planned: `{item.part}` is held by {names(item.held_by)}: {'; '.join(item.why)}." for item in order.blocked
    )
    if not items:
        return Section("Steps", ("No order could be worked out: the findings say what is missing.",))
    return Section("Steps", (*blocked, said), items, 1)


def _use(held: Bench) -> Iterator[Section]:
    lift = held.derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return
    lowers = "anticlockwise" if lift.raises_when == "clockwise" else "clockwise"
    brake = any(drive.brake for drive in held.design.drives)
    items = (
        Item(f"Come from below: turn {lowers} first, a quarter of a turn past the height, then {lift.raises_when} up to it. "
            "That takes the play out of every mesh and thread."),
        Item("Lay a straightedge across both surfaces; raise until no light shows under it, and stop. Come back down and up "
            "again when you have passed it."),
        Item("A shade low does no harm, proud does: the work catches on it."),
        Item("Set the brake, then look again." if brake else "There is no lock but friction: hold the bolt's head with its key "
            "while you look again, and look again after vibration."),
        Item("Press on each corner: nothing may rock. If it does, the bench or the zero is off."),
    )  # fmt: skip
    yield Section("Set a height", (), items, rows=raise_rows(held.design, held.derived))
