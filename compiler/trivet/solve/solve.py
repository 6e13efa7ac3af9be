"""Everything that follows from a design: the train, then heights, stroke, stacks and bolts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.record import replace
from trivet.solve.board_levels import board_levels, ceiling
from trivet.solve.bolts import BenchRoom, drive_bolt, pivot_screw
from trivet.solve.climber_states import climber_bolt, climber_states, climbing_rates, with_climber_ends
from trivet.solve.corner import MEAN, corners, sheet_corners
from trivet.solve.derived import BoltChoice, Derived, GearState, Train
from trivet.solve.drive_stop import drive_stop_mm
from trivet.solve.fixed_states import drive_state, pivot_state
from trivet.solve.foot_case import FootCase, FootSpec, World
from trivet.solve.foot_length import foot_bolt, starting_specs
from trivet.solve.foot_states import Key, foot_state, key_of
from trivet.solve.heights import lift_of
from trivet.solve.keeper_solids import with_stand_offs
from trivet.solve.mesh_overlap import with_overlaps, with_tops
from trivet.solve.parts import work_out_parts
from trivet.solve.remedies import remedies
from trivet.solve.rise import rise_per_turn_mm
from trivet.solve.shaft import shafts
from trivet.solve.shaft_joints import shaft_joints
from trivet.solve.solids import solids_of
from trivet.solve.stroke import Stroke, cases_at, mean_stroke, stroke_of
from trivet.solve.train import solve_train
from trivet.solve.world import build_world, with_low_point

Worlds = dict[tuple[int, int], World]


def solve(design: Design) -> Derived:
    """All derived values of a valid design. Total: what cannot be derived is None or empty, and checks say why."""
    derived = solve_heights(design, solve_train(design))
    derived = replace(derived, joints=shaft_joints(design, derived))
    return replace(derived, parts=work_out_parts(design, derived))


def solve_heights(design: Design, train: Train) -> Derived:
    """Heights, stroke, stacks and bolts of a design whose train is known."""
    unit = design.units
    stacks = shafts(train)
    worlds: Worlds = {(c.board, c.gear): build_world(design, train, stacks, c) for c in (MEAN, *sheet_corners())}
    specs = starting_specs(foot_specs(design, stacks), worlds[0, 0])
    climbers = climber_specs(design, stacks)
    worlds = {key: replace(world, climbers=climbers) for key, world in worlds.items()}
    bench = _bench_room(specs, worlds)
    bolts: list[BoltChoice] = []
    lengths: dict[str, float] = {}
    for root, stack in stacks.items():
        gear = worlds[0, 0].states[root].gear
        bolt = (
            drive_bolt(worlds, stack, root, bench, unit, drive_stop_mm(worlds, specs, stacks, root))
            if gear.turned_by is not None
            else pivot_screw(worlds, stack, root, unit)
        )
        if bolt is not None:
            bolts.append(bolt)
            fitted = bolt.stated_mm if bolt.stated_mm is not None else bolt.cut_to_mm or bolt.buy_mm
            lengths[root] = fitted if fitted is not None else bolt.least_mm
    worlds = {key: with_low_point(world, stacks, lengths) for key, world in worlds.items()}

    mean = cases_at(specs, worlds[0, 0], MEAN)
    every = [(corner, cases_at(specs, worlds[corner.board, corner.gear], corner)) for corner in corners()]
    stroke = stroke_of(mean)
    strokes = {corner: stroke_of(cases) for corner, cases in every}
    # A stroke means something only when the train turns every foot and every foot is whole.
    whole = not train.faults and not train.conflicts and all(spec.complete for spec in specs)
    usable = stroke if whole else None
    helped = _remedies(specs, worlds[0, 0], usable, unit)
    other = _other_way(specs, worlds[0, 0])
    feet = tuple(
        foot_state(
            spec,
            worlds[0, 0],
            mean[spec.id],
            [cases[spec.id] for _, cases in every],
            stroke,
            helped,
            other.get(spec.foot.name.text),
            unit,
        )
        for spec in specs
    )
    for spec in specs:
        tops = [_ceiling(design, worlds[corner.board, corner.gear], spec) for corner, _ in every]
        least = [_least(strokes[corner], cases[spec.id].height_at_zero_mm) for corner, cases in every]
        bolts.append(foot_bolt(spec, [cases[spec.id] for _, cases in every], tops, least, unit))
    found = [item for item in strokes.values() if item is not None]
    rises = [(spec.id, rise_per_turn_mm(spec.foot, spec.gear)) for spec in specs]
    riders = {state.id: spec for spec in (*specs, *climbers) if spec.foot.kind == "riding" for state in spec.stack}
    by_sheets = {key: cases_at(specs, world, world.corner) for key, world in worlds.items()}
    ends = with_climber_ends(specs, worlds, _ends(specs, by_sheets))
    climbed = climber_states(specs, worlds, ends, unit)
    bolts += [climber_bolt(state, spec, worlds, ends, unit) for state, spec in zip(climbed, climbers, strict=True)]
    low = worlds[0, 0].low
    derived = Derived(
        train=replace(
            train,
            gears=with_tops(train.gears, riders, worlds, ends),
            meshes=with_overlaps(train.meshes, riders, worlds, ends, climbing_rates(specs, climbers)),
        ),
        boards=board_levels(design),
        feet=feet,
        pivots=tuple(held for root, stack in stacks.items() if (held := pivot_state(worlds, stack, root, unit)) is not None),
        drives=tuple(
            turned
            for root, stack in stacks.items()
            if (turned := drive_state(worlds, stack, root, lengths.get(root), unit)) is not None
        ),
        bolts=tuple(bolts),
        lift=lift_of(design, specs, feet, usable, found, len(every)),
        low_point_mm=low.z_mm if low is not None else 0.0,
        low_point_part=low.part if low is not None else "",
        rise_differs=tuple(rises) if len({rise for _, rise in rises}) > 1 else (),
        climbers=climbed,
        solids=solids_of(specs, worlds, by_sheets, stacks, lengths, whole, ends),
    )
    if all(foot.keeper is None for foot in design.feet):
        return derived
    from trivet.solve.keeper_holds import keeper_states

    keepers = keeper_states(design, derived)
    return replace(derived, keepers=keepers, solids=with_stand_offs(design, derived, keepers)) if keepers else derived


def foot_specs(design: Design, stacks: Mapping[str, tuple[GearState, ...]]) -> tuple[FootSpec, ...]:
    """One record for each gear that carries a foot which stands, in the order of the gears. A length not stated is 0 until it is chosen."""
    return tuple(spec for spec in _specs(design, stacks) if spec.foot.climbs_from is None)


def climber_specs(design: Design, stacks: Mapping[str, tuple[GearState, ...]]) -> tuple[FootSpec, ...]:
    """The same for gears that climb a thread of their own and stand on nothing."""
    return tuple(spec for spec in _specs(design, stacks) if spec.foot.climbs_from is not None)


def _specs(design: Design, stacks: Mapping[str, tuple[GearState, ...]]) -> tuple[FootSpec, ...]:
    sets = {foot.name.text: foot for foot in design.feet}
    found = []
    for root, stack in stacks.items():
        state = next(item for item in stack if item.id == root)
        if state.gear.carries is None:
            continue
        foot = sets[state.gear.carries.text]
        found.append(
            FootSpec(
                id=state.foot_id,
                foot=foot,
                gear=state,
                stack=stack,
                length_mm=foot.length.mm if foot.length is not None else 0.0,
                pocket_mm=_pocket_mm(foot),
                drop_mm=foot.pad.drop.mm if foot.pad.drop is not None else 0.0,
            )
        )
    return tuple(found)


def _pocket_mm(foot: Foot) -> float:
    """As stated; else as deep as a riding foot's head is high, and for a nut its own height (0: flush)."""
    if foot.pocket is not None:
        return foot.pocket.mm
    return foot.screw.head.height_mm if foot.kind == "riding" and foot.screw is not None else 0.0


def _bench_room(specs: Sequence[FootSpec], worlds: Worlds) -> BenchRoom | None:
    """Where the bench is at the lowest height, before bolts count: the highest over depths and heads."""
    found: dict[tuple[int, int], list[float]] = {}
    for corner in corners():
        cases = cases_at(specs, worlds[corner.board, corner.gear], corner)
        stroke = stroke_of(cases)
        if stroke is None or not specs:
            return None
        work = cases[specs[0].id].work_mm
        found.setdefault((corner.board, corner.gear), []).append(work - stroke.low.height_mm)
    return BenchRoom({key: max(places) for key, places in found.items()})


def _remedies(
    specs: Sequence[FootSpec], world: World, stroke: Stroke | None, unit: str
) -> dict[tuple[str, Key], tuple[tuple[str, float], ...]]:
    """Remedies of the bounds that end the travel, under every foot of the set that has them."""
    found: dict[tuple[str, Key], tuple[tuple[str, float], ...]] = {}
    if stroke is None:
        return found
    sets = {spec.id: spec.foot.name.text for spec in specs}
    tried: dict[str, tuple[tuple[str, float], ...]] = {}
    for end in (stroke.low, stroke.high):
        name = sets[end.foot]
        if name not in tried:
            tried[name] = remedies(specs, name, world, stroke, unit)
        found[end.foot, key_of(end.bound)] = tried[name]
    return found


def _other_way(specs: Sequence[FootSpec], world: World) -> dict[str, float]:
    """The board's travel at mean sheets with one set's inserts driven from the other face."""
    found: dict[str, float] = {}
    for name in dict.fromkeys(spec.foot.name.text for spec in specs if spec.foot.insert is not None):
        turned = [replace(spec, other_way=True) if spec.foot.name.text == name else spec for spec in specs]
        stroke = mean_stroke(turned, world)
        if stroke is not None:
            found[name] = max(0.0, stroke.travel_mm)
    return found


def _ceiling(design: Design, world: World, spec: FootSpec) -> float:
    return ceiling(design, world.boards, spec.foot.into.text, spec.gear.x_mm, spec.gear.y_mm, spec.foot.thread.major_mm)[0]


def _least(stroke: Stroke | None, height_at_zero_mm: float) -> float:
    return stroke.low.height_mm - height_at_zero_mm if stroke is not None else 0.0


def _ends(
    specs: Sequence[FootSpec], by_sheets: Mapping[tuple[int, int], Mapping[str, FootCase]]
) -> dict[tuple[int, int], dict[str, tuple[float, float]]]:
    """Each foot's least and most extension at each combination of sheets; combinations without a stroke are left out."""
    found: dict[tuple[int, int], dict[str, tuple[float, float]]] = {}
    for key, cases in by_sheets.items():
        stroke = stroke_of(cases)
        if stroke is not None and specs:
            found[key] = {
                name: (stroke.low.height_mm - case.height_at_zero_mm, stroke.high.height_mm - case.height_at_zero_mm)
                for name, case in cases.items()
            }
    return found
