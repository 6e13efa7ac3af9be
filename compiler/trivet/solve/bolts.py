"""The bolt of every drive and the screw of every pivot: its stack at all combinations, and the length to buy."""

from __future__ import annotations

from collections.abc import Mapping

from trivet.model.base import Band
from trivet.model.train import Drive, Pivot
from trivet.record import record
from trivet.solve.bolt_length import (
    LengthChoice,
    as_bands,
    choose_length,
    drawer_mm,
    fits,
    shortest_stock,
    stock_text,
)
from trivet.solve.corner import MEAN, Corner, sheet_corners
from trivet.solve.derived import Because, BoltChoice, GearState
from trivet.solve.foot_case import World
from trivet.solve.low_point import drive_of, pivot_of
from trivet.solve.recess_remedy import drive_recess, nut_recess_that_fits, pivot_nut_recess, pivot_recess, recess_for_stock
from trivet.solve.stack_drive import DriveStack, drive_stack
from trivet.solve.stack_pivot import PivotStack, pivot_stack
from trivet.units import decimal_beside, length_text, made_text

# What a stop's bolt may be longer than it must, mm, so that a stock length is found (common practice, no source).
STOP_ROOM_MM = 5.0
STOP_ITEM = "stop on the end of the bolt"
# Said of a wood screw whose room lies between two lengths.
NOT_CUT = "a thinner or a thicker stack: no length that is sold fits this one, and a wood screw is not cut"
Stack = tuple[GearState, ...]
Worlds = Mapping[tuple[int, int], World]


@record
class BenchRoom:
    """z of the bench at the lowest height with everything against us, by sheets (board, gear); bolts left out of account."""

    z_mm: Mapping[tuple[int, int], float]


def drive_stands(worlds: Worlds, stack: Stack, drive: Drive) -> tuple[DriveStack, list[DriveStack], list[DriveStack]]:
    """The nominal stack; those with the shallowest recesses and thickest washers; those with the deepest and thinnest."""

    def at(corner: Corner, washer: int) -> DriveStack:
        world = worlds[corner.board, corner.gear]
        return drive_stack(drive, stack, world.boards, world.design.shop, world.drops.get(stack[0].level, 0.0), corner, washer)

    return (
        at(MEAN, 0),
        [at(Corner(c.board, c.gear, -1), 1) for c in sheet_corners()],
        [at(Corner(c.board, c.gear, 1), -1) for c in sheet_corners()],
    )


def pivot_stands(worlds: Worlds, stack: Stack, pivot: Pivot) -> tuple[PivotStack, list[PivotStack], list[PivotStack]]:
    """As `drive_stands`, of a pivot."""

    def at(corner: Corner, washer: int) -> PivotStack:
        world = worlds[corner.board, corner.gear]
        return pivot_stack(pivot, stack, world.boards, world.design.shop, world.drops.get(stack[0].level, 0.0), corner, washer)

    return (
        at(MEAN, 0),
        [at(Corner(c.board, c.gear, -1), 1) for c in sheet_corners()],
        [at(Corner(c.board, c.gear, 1), -1) for c in sheet_corners()],
    )


def drive_bolt(worlds: Worlds, stack: Stack, root: str, bench: BenchRoom | None, unit: str, stop_mm: float = 0.0) -> BoltChoice | None:
    """The drive's bolt. Where no stock length ends within the gear but the bench leaves more room, that room is used and said so.

    `stop_mm`: what a stop takes below the last nut; its bolt ends wherever its end nut allows.
    """
    drive = drive_of(worlds[0, 0].design, worlds[0, 0].states[root].gear)
    if drive is None:
        return None
    mean, long, short = drive_stands(worlds, stack, drive)
    least, most = max(item.held_mm for item in long), min(item.face_mm for item in short)
    thread_from, ends_at = min(item.thread_from_mm for item in short), mean.face_of
    stated = drive.length.mm if drive.length is not None else None
    held = drawer_mm(worlds[0, 0].design.have, drive.bolt)
    if drive.stop:
        least += stop_mm
        most, ends_at = least + STOP_ROOM_MM, "the threads that stand out of the stop's end nut"
    choice = choose_length(drive.bolt, least, most, thread_from, unit, held)
    if bench is not None and not drive.stop and (choice.buy_mm is None or choice.cut_to_mm is not None or stated is not None):
        # Head recesses at their deepest put the bolt's end lowest.
        room = min(
            item.head_z_mm - bench.z_mm[corner.board, corner.gear] for corner, item in zip(sheet_corners(), short, strict=True)
        )
        # An end that stands out of its gear should stand out least.
        bought = shortest_stock(drive.bolt, least, room, thread_from)
        needs = stated is not None and not fits(drive.bolt, stated, least, most, thread_from)
        if room > most and (bought is not None if stated is None else needs):
            choice = LengthChoice(bought, None, bought) if bought is not None else choice
            most, ends_at = room, "the bench at the lowest height"
    remedy, depth = choice.remedy, worlds[0, 0].design.shop.depth_mm
    recess = drive_recess(drive, min(item.remaining_mm for item in short), depth)
    if choice.cut_to_mm is not None:
        remedy = recess_for_stock(drive.bolt, least, most, thread_from, recess, unit)
    elif choice.buy_mm is None and least <= most and not drive.stop:
        remedy = recess_for_stock(drive.bolt, least, most, thread_from, recess, unit) or remedy
    elif choice.buy_mm is None and not drive.stop:
        sides = [item.underside_mm for item in short]
        remedy = nut_recess_that_fits(drive, least, sides, stack[-1].face_width.least, depth, unit) or remedy
    spans = as_bands(mean.items, *(item.items for item in (*long, *short)))
    if drive.stop:
        spans += ((STOP_ITEM, Band(stop_mm, stop_mm, stop_mm)),)
    return _choice(f"{drive.name.text}.{root}", drive, choice, least, most, thread_from, stated, spans, ends_at, remedy, unit)


def pivot_screw(worlds: Worlds, stack: Stack, root: str, unit: str) -> BoltChoice | None:
    """The pivot's screw or bolt."""
    pivot = pivot_of(worlds[0, 0].design, worlds[0, 0].states[root].gear)
    if pivot is None:
        return None
    mean, long, short = pivot_stands(worlds, stack, pivot)
    least, most = max(item.held_mm for item in long), min(item.face_mm for item in short)
    thread_from = min(item.thread_from_mm for item in short)
    stated = pivot.length.mm if pivot.length is not None else None
    held = drawer_mm(worlds[0, 0].design.have, pivot.screw)
    choice = choose_length(pivot.screw, least, most, thread_from, unit, held)
    if pivot.nut is None and choice.cut_to_mm is not None:
        # A wood screw is not cut: its point goes with the end.
        choice = LengthChoice(None, None, None)
    remedy = choice.remedy
    if choice.buy_mm is None or choice.cut_to_mm is not None:
        recess = pivot_recess(pivot, stack[-1].face_width.least, worlds[0, 0].design.shop.depth_mm)
        remedy = recess_for_stock(pivot.screw, least, most, thread_from, recess, unit) or remedy
    if choice.buy_mm is None and least > most:
        board = stack[0].gear.under.text
        wood = min(world.boards.z[board].top_mm - world.boards.z[board].under_mm for world in worlds.values())
        wood -= worlds[0, 0].design.shop.depth_mm
        remedy = pivot_nut_recess(pivot, least, most, thread_from, wood, unit) or remedy
    spans = as_bands(mean.items, *(item.items for item in (*long, *short)))
    return _choice(f"{pivot.name.text}.{root}", pivot, choice, least, most, thread_from, stated, spans, mean.face_of, remedy, unit)


def _choice(
    part: str,
    of: Drive | Pivot,
    choice: LengthChoice,
    least: float,
    most: float,
    thread_from: float,
    stated: float | None,
    spans: tuple[tuple[str, Band], ...],
    ends_at: str,
    remedy: str,
    unit: str,
) -> BoltChoice:
    screw = of.bolt if isinstance(of, Drive) else of.screw
    buy, cut, good = choice.buy_mm, choice.cut_to_mm, choice.length_mm is not None
    if stated is not None:
        good = fits(screw, stated, least, most, thread_from)
        buy = min((length for length in screw.stock_mm if length >= stated - 1e-6), default=None)
        cut = None if buy is None or abs(buy - stated) <= 1e-6 else stated
        if good:
            remedy = ""
        elif choice.length_mm is not None:
            text = stock_text(screw, choice.length_mm) if choice.cut_to_mm is None else made_text(choice.length_mm, unit)
            remedy = f"`length {text}`{decimal_beside(text)} fits"
        else:
            remedy = remedy or NOT_CUT
    fitted = stated if stated is not None else choice.length_mm
    because = Because(
        quantity=f"length of the screw of {part}",
        value=length_text(fitted, unit) if fitted is not None else "none fits",
        formula="longest stack <= L <= shortest stack + room, over both sheets and the recess depths",
        inputs=(
            ("longest stack", length_text(least, unit), of.origin),
            (f"longest that ends at {ends_at}", length_text(most, unit), of.origin),
        ),
        source="derived; stock lengths from the library's table",
    )
    return BoltChoice(
        part=part,
        of=of,
        standard=screw.standard,
        designation=screw.thread.designation,
        least_mm=least,
        most_mm=most,
        stock_mm=screw.stock_mm,
        buy_mm=buy,
        cut_to_mm=cut,
        stated_mm=stated,
        fits=good,
        stack=spans,
        room_ends_at=ends_at,
        remedy=remedy,
        because=because,
    )
