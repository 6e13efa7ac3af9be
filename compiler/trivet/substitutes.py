"""Neighbouring hardware tried out: each set in the next thread or to the next standard, the whole fixture solved again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from trivet.catalog import Catalog, NoRow
from trivet.inputs import load_library, tables_in
from trivet.lower.substitute import assumed, in_thread, other_standards, other_threads
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.model.hardware import Insert, Nut, TeeNut
from trivet.model.train import Drive, Pivot
from trivet.record import replace
from trivet.solve.derived import Derived
from trivet.source import LibraryRow, Origin
from trivet.tables.substitutes import Change, Substitute
from trivet.units import length_text

# Each costs as much as a check: a train of so many gears is solved that often.
MOST_GEARS = 80
_Set = Foot | Drive | Pivot
FIELDS = {Foot: "feet", Drive: "drives", Pivot: "pivots"}


def substitutes(design: Design, derived: Derived, inputs: Mapping[str, str]) -> tuple[Substitute, ...]:
    """For the feet of each thread, and each drive and pivot that is used, what its neighbours would change.

    `inputs`: texts that may hold tables.
    """
    if len(design.gears) > MOST_GEARS:
        return ()
    catalog = Catalog(load_library, tables_in(inputs))
    tried = _Tried(design, derived)
    found: list[Substitute] = []
    for group in _groups(design, derived):
        found += _in_threads(group, tried, catalog)
        for of in group:
            found += [
                _solved((of,), (changed,), tried, instead, other, "") for instead, other, changed in other_standards(of, catalog)
            ]
    return tuple(found)


class _Tried:
    """The fixture as it is."""

    def __init__(self, design: Design, derived: Derived) -> None:
        self.design = design
        self.derived = derived

    @cached_property
    def errors(self) -> frozenset[str]:
        """Rules that it breaks; asked for only where something that is tried out breaks any."""
        return _errors(self.design, self.derived)


def _groups(design: Design, derived: Derived) -> Iterator[tuple[_Set, ...]]:
    """Feet of one thread change together, whatever their hand, or the board would tilt; each drive and pivot by itself."""
    used = {state.foot.name.text for state in derived.feet}
    used |= {state.drive.name.text for state in derived.drives} | {state.pivot.name.text for state in derived.pivots}
    feet: dict[str, list[_Set]] = {}
    for foot in design.feet:
        if foot.name.text in used:
            feet.setdefault(_base(foot), []).append(foot)
    yield from (tuple(group) for group in feet.values())
    others: tuple[_Set, ...] = (*design.drives, *design.pivots)
    yield from ((of,) for of in others if of.name.text in used)


def _base(of: _Set) -> str:
    return of.thread.designation.removesuffix("-LH")


def _in_threads(group: tuple[_Set, ...], tried: _Tried, catalog: Catalog) -> Iterator[Substitute]:
    for designation, other_pitch in other_threads(_base(group[0])):
        try:
            changed = tuple(in_thread(of, designation, catalog) for of in group)
        except NoRow as missing:
            yield Substitute(_names(group), _base(group[0]), designation, missing=missing.message)
            continue
        taken = assumed(group[0], changed[0], other_pitch)
        yield _solved(group, changed, tried, _base(group[0]), designation, taken)


def _names(group: Sequence[_Set]) -> str:
    return ", ".join(of.name.text for of in group)


def _solved(group: Sequence[_Set], changed: Sequence[_Set], tried: _Tried, instead: str, other: str, taken: str) -> Substitute:
    from trivet.solve.solve import solve_heights
    from trivet.solve.train import solve_train

    design, derived, field = tried.design, tried.derived, FIELDS[type(group[0])]
    new = {of.name.text: after for of, after in zip(group, changed, strict=True)}
    after_design = design.model_copy(update={field: tuple(new.get(item.name.text, item) for item in getattr(design, field))})
    train = derived.train if field == "feet" else solve_train(after_design)
    after = solve_heights(after_design, train)
    now, then = dict(_figures(group[0], design, derived)), dict(_figures(changed[0], after_design, after))
    changes: list[Change] = [(what, now.get(what, "none"), text) for what, text in then.items() if now.get(what, "none") != text]
    errors = _errors(after_design, replace(after, parts=derived.parts))
    broken = sorted(errors - tried.errors) if errors else []
    return Substitute(_names(group), instead, other, tuple(changes), tuple(broken), _rows(group[0], changed[0]), taken)


def _errors(design: Design, derived: Derived) -> frozenset[str]:
    """Rules that are broken as errors, the accepted ones left out."""
    from trivet.checks._check import run_checks

    accepted = {accept.rule.text for accept in design.accepts}
    found = run_checks(design, replace(derived, try_changes=False), full=False)
    return frozenset(item.rule for item in found if item.severity == "error" and item.rule not in accepted)


def _figures(of: _Set, design: Design, derived: Derived) -> Iterator[tuple[str, str]]:
    """What a maker would see change, in the fixture's unit."""
    unit, lift = design.units, derived.lift
    if lift is not None:
        yield "lift per turn", length_text(lift.per_turn_mm, unit, 4 if unit == "in" else 2)
        yield "travel with the worst sheets", length_text(max(0.0, min(lift.travel_worst_mm, lift.travel_mm)), unit)
    else:
        yield "lift", "none"
    if isinstance(of, Foot):
        yield from _of_foot(of, unit)
    else:
        yield from _of_bolt(of, derived, unit)


def _of_foot(foot: Foot, unit: str) -> Iterator[tuple[str, str]]:
    if foot.screw is not None and foot.length is not None:
        own = "in" if foot.thread.system == "unified" else "mm"
        yield "screw", f"{foot.screw.standard.replace('_', ' ')} {foot.thread.designation} x {length_text(foot.length.mm, own)}"
        yield from _head(foot.screw.head.across_flats_mm, "head's pocket", unit)
        yield "head's height", length_text(foot.screw.head.height_mm, unit)
    if foot.insert is not None:
        hardware = foot.insert.hardware
        yield ("insert hole" if isinstance(hardware, Insert) else "tee nut's hole"), length_text(hardware.hole_mm, unit)
    if foot.nut is not None:
        yield from _nut("nut", foot.nut, unit)


def _of_bolt(of: Drive | Pivot, derived: Derived, unit: str) -> Iterator[tuple[str, str]]:
    screw = of.bolt if isinstance(of, Drive) else of.screw
    if isinstance(of, Drive):
        yield "hole in the board", length_text(of.hole_mm, unit)
        least = min((mesh.backlash.min_mm for mesh in derived.train.meshes), default=None)
        if least is not None:
            yield "backlash at worst", length_text(least, unit)
    own = "in" if of.thread.system == "unified" else "mm"
    for bolt in [item for item in derived.bolts if item.of.name.text == of.name.text][:1]:
        length = "no length fits" if bolt.buy_mm is None else f"{length_text(bolt.buy_mm, own)} long"
        yield (
            "bolt",
            f"{screw.standard.replace('_', ' ')} {of.thread.designation}, {length}"
            + (f", cut to {length_text(bolt.cut_to_mm, unit)}" if bolt.cut_to_mm is not None else ""),
        )
    yield "head's recess across", length_text(screw.counterbore_mm or screw.head.diameter_mm + 1.0, unit)
    for words, nut in (("nut", of.nut), ("jam nut", of.jam_nut if isinstance(of, Drive) else None)):
        if nut is not None:
            yield from _nut(words, nut.hardware, unit)
    if of.washer is not None:
        yield (
            "washer",
            f"{length_text(of.washer.outside_mm, unit)} across, at most {length_text(of.washer.thickness_max_mm, unit)} thick",
        )


def _nut(words: str, nut: Nut | TeeNut, unit: str) -> Iterator[tuple[str, str]]:
    if isinstance(nut, TeeNut):
        yield f"hole of the {words}", length_text(nut.hole_mm, unit)
    else:
        yield f"{words} across flats", length_text(nut.across_flats_mm, unit)
        yield f"{words}'s height", length_text(nut.height_mm, unit)


def _head(flats_mm: float | None, words: str, unit: str) -> Iterator[tuple[str, str]]:
    if flats_mm is not None:
        yield f"{words} across flats", length_text(flats_mm, unit)


def _rows(of: _Set, changed: _Set) -> tuple[str, ...]:
    """The rows of the pieces that differ, each once; of a table of lengths the table."""
    had = {(origin.table, origin.key) for origin in _origins(of)}
    new = [origin for origin in _origins(changed) if (origin.table, origin.key) not in had]
    return tuple(dict.fromkeys(f"{_row(origin)} ({origin.status.replace('_', ' ')})" for origin in new))


def _row(origin: LibraryRow) -> str:
    return origin.table if origin.table.startswith("stock_lengths") else f"{origin.table} {origin.key}"


def _origins(of: _Set) -> Sequence[LibraryRow]:
    screw = of.bolt if isinstance(of, Drive) else of.screw
    found: list[Origin | None] = [of.thread.origin, screw.origin if screw is not None else None]
    found.append(screw.stock_origin if screw is not None else None)
    if isinstance(of, Foot):
        found += [of.insert.hardware.origin if of.insert is not None else None, of.nut.origin if of.nut is not None else None]
    else:
        found += [of.nut.hardware.origin if of.nut is not None else None, of.washer.origin if of.washer is not None else None]
        jam = of.jam_nut if isinstance(of, Drive) else None
        found.append(jam.hardware.origin if jam is not None else None)
    return [origin for origin in found if isinstance(origin, LibraryRow)]
