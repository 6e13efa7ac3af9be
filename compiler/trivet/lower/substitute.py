"""A set of feet, a drive or a pivot with neighbouring hardware: the other system's thread, another pitch, another standard's head.

Only rows that the tables hold are used; what is missing raises `NoRow` with the words of the catalogue.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TypeAlias

from trivet.catalog import Catalog, NoRow
from trivet.model.foot import Foot
from trivet.model.hardware import Insert, Nut, Screw, TeeNut, Thread, Washer
from trivet.model.train import Drive, DriveNut, Pivot
from trivet.record import replace
from trivet.units import Quantity

# The usual neighbours (trade practice, from memory): near in size, never to be mixed with the thread they stand in for.
_PAIRS = (("M5", "10-24"), ("M6", "1/4-20"), ("M8", "5/16-18"), ("M10", "3/8-16"), ("M12", "1/2-13"))
_PITCHES = (
    ("M8", "M8x1"), ("M10", "M10x1.25"), ("M12", "M12x1.5"), ("1/4-20", "1/4-28"), ("5/16-18", "5/16-24"), ("3/8-16", "3/8-24"),
    ("1/2-13", "1/2-20"), ("10-24", "10-32"),
)  # fmt: skip
_STANDARDS = (
    ("ISO 4017", "ASME B18.2.1 hex_cap_screw"), ("ISO 4762", "ASME B18.3 socket_head_cap_screw"),
    ("ISO 4032", "ASME B18.2.2 hex_nut"), ("ISO 4035", "ASME B18.2.2 hex_jam_nut"),
    ("DIN 976-1", "ASME B18.31.3"), ("ISO 7089", "ASME B18.21.1 type_a_narrow"), ("ISO 7093-1", "ASME B18.21.1 type_a_wide"),
)  # fmt: skip
# The same thread to another standard: heads and nuts of other widths and heights, washers of another outside.
_ALIKE = (("ISO 4017", "DIN 933"), ("ISO 4014", "DIN 931"), ("ISO 4032", "DIN 934"), ("ISO 7089", "ISO 7093-1"))
Held: TypeAlias = Foot | Drive | Pivot
SAME_PIECES = "heads, nuts and lengths are taken as for the other pitch of this size: few shops stock them"
ASSUMED = "the insert's live thread is not in the row and is taken as far from both ends as in the insert at hand: measure it"


def other_threads(designation: str) -> tuple[tuple[str, bool], ...]:
    """The neighbours of a right-hand thread: the other system's, then the other pitch of the same size; and whether it is the latter."""
    return tuple((other, pairs is _PITCHES) for pairs in (_PAIRS, _PITCHES) for other in _others(designation, pairs))


def in_thread(of: Held, designation: str, catalog: Catalog) -> Held:
    """The set in another right-hand thread (left-hand where it is that), each piece by the neighbouring standard.

    Lengths are those sold nearest to the stated ones.
    """
    thread = catalog.thread(designation + ("-LH" if of.thread.hand < 0 else ""))
    if isinstance(of, Foot):
        return _foot(of, thread, catalog)
    if isinstance(of, Drive):
        return _drive(of, thread, catalog)
    return _pivot(of, thread, catalog)


def other_standards(of: Held, catalog: Catalog) -> Iterator[tuple[str, str, Held]]:
    """(the standard, the other one, the set with it) for each piece that has a neighbour in the tables."""
    screw = of.bolt if isinstance(of, Drive) else of.screw
    for other in _others(screw.standard, _ALIKE) if screw is not None else ():
        try:
            assert screw is not None
            head = catalog.head(other, screw.thread)
        except NoRow:
            continue
        # How far it is threaded and in which lengths it is sold is taken as for the standard that replaced it.
        changed = replace(screw, standard=other, head=head, origin=head.origin)
        yield screw.standard, other, of.model_copy(update={"bolt" if isinstance(of, Drive) else "screw": changed})
    nuts: dict[str, DriveNut | Nut | None] = {"nut": of.nut}
    if isinstance(of, Drive):
        nuts["jam_nut"] = of.jam_nut
    for field, held in nuts.items():
        nut = held.hardware if isinstance(held, DriveNut) else held
        if not isinstance(nut, Nut):
            continue
        for other in _others(nut.standard, _ALIKE):
            try:
                made = catalog.nut(other, nut.thread)
            except NoRow:
                continue
            value = held.model_copy(update={"hardware": made}) if isinstance(held, DriveNut) else made
            yield nut.standard, other, of.model_copy(update={field: value})
    washer = None if isinstance(of, Foot) else of.washer
    for other in _others(washer.standard, _ALIKE) if washer is not None else ():
        assert washer is not None
        try:
            yield washer.standard, other, of.model_copy(update={"washer": catalog.washer(other, washer.size, None)})
        except NoRow:
            continue


def assumed(of: Held, changed: Held, other_pitch: bool) -> str:
    """What is taken for granted of a set in another thread; empty where the rows have it all."""
    told = [SAME_PIECES] if other_pitch else []
    if isinstance(of, Foot) and isinstance(changed, Foot) and of.insert is not None and changed.insert is not None:
        one, other = of.insert.hardware, changed.insert.hardware
        if isinstance(one, Insert) and isinstance(other, Insert) and one.table != other.table:
            told.append(ASSUMED)
    return "; ".join(told)


def _foot(foot: Foot, thread: Thread, catalog: Catalog) -> Foot:
    right = replace(thread, designation=thread.designation.removesuffix("-LH"))
    changes: dict[str, object] = {"thread": thread}
    if foot.screw is not None:
        screw = _screw(foot.screw, right, catalog)
        changes["screw"] = screw
        changes["length"] = _nearest(foot.length, screw)
    if foot.insert is not None:
        held = foot.insert.hardware
        changes["insert"] = foot.insert.model_copy(
            update={"hardware": catalog.tee_nut(thread) if isinstance(held, TeeNut) else _insert(held, thread, catalog)}
        )
    if foot.rod_standard:
        changes["rod_standard"] = _standard(foot.rod_standard, thread)
    if foot.nut is not None:
        changes["nut"] = catalog.nut(_standard(foot.nut.standard, thread), thread)
    return foot.model_copy(update=changes)


def _drive(drive: Drive, thread: Thread, catalog: Catalog) -> Drive:
    hole, _ = catalog.clearance_mm(thread, drive.fit)
    bolt = _screw(drive.bolt, thread, catalog)
    return drive.model_copy(
        update={
            "thread": thread,
            "bolt": bolt,
            "length": _nearest(drive.length, bolt),
            "hole_mm": hole,
            "nut": _nut(drive.nut, thread, catalog),
            "jam_nut": _nut(drive.jam_nut, thread, catalog),
            "washer": _washer(drive.washer, thread, catalog),
        }
    )


def _pivot(pivot: Pivot, thread: Thread, catalog: Catalog) -> Pivot:
    screw = _screw(pivot.screw, thread, catalog)
    return pivot.model_copy(
        update={
            "thread": thread,
            "screw": screw,
            "length": _nearest(pivot.length, screw),
            "nut": _nut(pivot.nut, thread, catalog),
            "washer": _washer(pivot.washer, thread, catalog),
        }
    )


def _screw(screw: Screw, thread: Thread, catalog: Catalog) -> Screw:
    made = catalog.screw(_standard(screw.standard, thread), thread)
    if not made.stock_mm:
        raise NoRow(f"in which lengths {made.standard} {thread.designation} is sold is not known")
    return made


def _nut(nut: DriveNut | None, thread: Thread, catalog: Catalog) -> DriveNut | None:
    if nut is None:
        return None
    held = nut.hardware
    made = catalog.tee_nut(thread) if isinstance(held, TeeNut) else catalog.nut(_standard(held.standard, thread), thread)
    return nut.model_copy(update={"hardware": made})


def _washer(washer: Washer | None, thread: Thread, catalog: Catalog) -> Washer | None:
    return catalog.washer(_standard(washer.standard, thread), "", thread) if washer is not None else None


def _insert(insert: Insert, thread: Thread, catalog: Catalog) -> Insert:
    """The row of the same table; else the library's, with the live thread as far from both ends as in the insert at hand."""
    try:
        return catalog.insert(insert.table, thread)
    except NoRow:
        pass
    row = catalog.find("insert", (thread.designation,))
    outside, hole = (row.band("outside"), row.mm("hole")) if row is not None else (None, None)
    if row is None or outside is None or hole is None:
        raise NoRow(f"no table has an insert {thread.designation}")
    length = row.mm("length") or insert.length_mm
    live_to = length - (insert.length_mm - insert.live_to_mm)
    if live_to <= insert.live_from_mm:
        raise NoRow(f"the insert {thread.designation} of `{row.table}` is too short to tell its live thread by the one at hand")
    return Insert(
        table=row.table,
        thread=thread,
        outside=outside,
        length_mm=length,
        live_from_mm=insert.live_from_mm,
        live_to_mm=live_to,
        hole_mm=hole,
        origin=row.origin,
    )


def _standard(standard: str, thread: Thread) -> str:
    """The neighbouring standard where the thread is of the other system, else the same."""
    inch = standard.startswith("ASME")
    if inch == (thread.system == "unified"):
        return standard
    found = [other for other in _others(standard, _STANDARDS)]
    if not found:
        raise NoRow(f"no neighbour of {standard} for {thread.designation} is known")
    return found[0]


def _nearest(length: Quantity | None, screw: Screw) -> Quantity | None:
    if length is None:
        return None
    mm = min(screw.stock_mm, key=lambda sold: (abs(sold - length.mm), sold))
    return Quantity(Fraction(mm).limit_denominator(100_000), "mm", length.origin)


def _others(name: str, pairs: tuple[tuple[str, str], ...]) -> Iterator[str]:
    for one, other in pairs:
        if name in (one, other):
            yield other if name == one else one
