"""What is bought and what is cut, of generated and hand-written fixtures, counted anew from the model: one of each for each axis it serves."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import pytest
from tests.oracles.second_bolts import drive_bolt, pivot_screw
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_facts import Facts, facts
from tests.oracles.second_gear_cuts import gear_cuts
from tests.oracles.second_stand import keeper_room, length_of, sleeve_of
from tests.oracles.second_teeth import train
from tests.oracles.second_travel import screw_length

from trivet.model.hardware import TeeNut
from trivet.solve.level_gaps import level_gaps_mm
from trivet.tables.cut_list import cut_parts
from trivet.tables.hardware_items import hardware_items

Count = Counter[tuple[str, str]]


def close(value: Any) -> Any:
    return None if value is None else pytest.approx(value, abs=1e-5)


def nut_kind(nut: Any, other: str) -> str:
    return "tee_nut" if isinstance(nut, TeeNut) else other


def wanted(name: str) -> Count:
    """(kind, where) of each piece."""
    f, derived = facts(name), solved(name)[1]
    found: Count = Counter()
    for root in sorted({f.root(gear) for gear in f.gears}):
        kind, block = f.held(root)
        where = f"{block.name.text}.{root}"
        if kind == "drive":
            found["bolt", where] += 1
            found[nut_kind(block.nut.hardware, "nut"), where] += 1
            found["jam_nut", where] += block.jam_nut is not None
            found["nut", where] += (3 if block.stop_locked_by == "jam_nut" else 2) * block.stop
            found["washer", where] += (block.stop and block.stop_washer is not None) + (len(block.washer_places) if block.washer else 0)
        elif kind == "pivot":
            found["bolt" if block.bolt else "screw", where] += 1
            found["nut", where] += block.nut is not None
            found["washer", where] += len(block.washer_places) if block.washer is not None else 0
            found["sleeve", where] += block.sleeve_outside is not None
        else:
            found["screw" if block.screw is not None else "rod", where] += 1
            if block.insert is not None:
                found[nut_kind(block.insert.hardware, "insert"), where] += 1
            found["nut", where] += block.nut is not None
            found["pad", where] += block.pad.kind != "head"
            found["cross_pin", where] += block.rod_stop_diameter is not None
        if f.level(f.stack(root)[0]) > 0 and not f.rides(root):
            found["spacer", where] += 1
        found["dowel", root] += sum(len(joint.places) for joint in derived.joints if joint.root == root)
    for held in derived.keepers:
        found["screw", held.id] += len(held.places)
        found["sleeve", held.id] += len(held.places) * (held.stand_off.form == "sleeve")
    for dowel in f.design.dowels:
        for place in dowel.places:
            found["dowel", place.id] += 1
    for magnet in f.design.magnets:
        for place in magnet.places:
            found["magnet", place.id] += 1
    for gear, made in f.gears.items():
        if made.layers > 1:
            dowels = [cut for cut in gear_cuts(name, gear) if cut.depth is None and _is_dowel(f, cut.shape)]
            found["dowel", gear] += 2 if len(dowels) == 2 else 0
    return +found


def _is_dowel(f: Facts, shape: Any) -> bool:
    """Off the axis, as wide as a usual dowel and its push fit."""
    usual = (6.35, 7.9375, 9.525, 12.7) if f.design.hardware == "inch" else (6.0, 8.0, 10.0, 12.0)
    return isinstance(shape, tuple) and shape[:2] != (0.0, 0.0) and any(abs(shape[2] - size - 0.05) < 1e-6 for size in usual)


def check_pieces(name: str) -> None:
    f, (design, derived) = facts(name), solved(name)
    items = hardware_items(design, derived)
    assert Counter((item.kind, item.where) for item in items) == wanted(name)
    for item in items:
        _, _, gear = item.where.partition(".")
        kind, block = f.held(gear) if gear in f.gears else ("", None)
        if kind == "drive" and item.kind == "bolt":
            bolt = drive_bolt(name)
            assert (item.length_mm, item.cut_to_mm, item.fits) == (close(bolt.buy), close(bolt.cut), bolt.fits)
            fitted = item.stated_mm or bolt.cut or bolt.buy
            assert item.thread_wanted_mm == (None if fitted is None else close(max(0.0, fitted - bolt.thread_from)))
        elif kind == "pivot" and item.item.endswith(("-bolt", "-screw")):
            bolt = pivot_screw(name, gear)
            assert (item.length_mm, item.cut_to_mm, item.fits) == (close(bolt.buy), close(bolt.cut), bolt.fits)
        elif kind == "pivot" and item.kind == "sleeve":
            assert (item.size_mm, item.cut_to_mm) == (close(block.sleeve_outside.mm), close(sleeve_of(f, gear)))
        elif item.kind == "rod":
            assert item.cut_to_mm == close(screw_length(block))
        elif item.kind == "spacer":
            assert item.height_mm == close(f.down(f.level(f.stack(gear)[0])))
        elif item.kind == "pad":
            assert (item.size_mm, item.height_mm) == (close(length_of(block.pad.diameter) or None), close(length_of(block.pad.drop)))
        elif item.kind == "sleeve":
            root = item.where.split(".")[1]
            assert item.cut_to_mm == close(keeper_room(f, root) + f.down(f.level(f.stack(root)[0])))
    gaps = level_gaps_mm(design, derived.train)
    low = {root for root in map(f.root, f.gears) if f.level(f.stack(root)[0]) > 0 and not f.rides(root)}
    assert set(gaps) == low and all(gap == close(f.down(f.level(f.stack(root)[0]))) for root, gap in gaps.items())


def check_cut_list(name: str) -> None:
    f, (design, derived) = facts(name), solved(name)
    parts = cut_parts(design, derived)
    pieces: Counter[str] = Counter()
    for part in parts:
        pieces[part.kind] += part.pieces
        assert part.area_mm2 == pytest.approx(part.width_mm * part.height_mm * part.quantity * part.layers)
        if part.kind == "gear":
            teeth = [train(name).teeth[gear] for gear in part.ids]
            shapes = {(replace(one, thin=round(one.thin, 6)), f.held(gear)[1].name.text) for one, gear in zip(teeth, part.ids, strict=True)}
            assert len(shapes) == 1 and part.quantity == len(part.ids)
            assert part.width_mm == part.height_mm == close(2 * train(name).teeth[part.ids[0]].ra)
    assert pieces["board"] == sum(board.layers for board in design.boards)
    assert pieces["gear"] == sum(gear.layers for gear in design.gears)
    assert pieces["keeper"] == sum(f.held(gear)[1].keeper is not None for gear in f.feet)
    assert pieces["spacer"] == sum(spacer.quantity for spacer in design.spacers)
    wooden = [held for held in derived.keepers if held.stand_off.form == "wood"]
    assert pieces["stand_off"] == sum(len(held.places) * sum(f.gears[gear].layers for gear in held.gears) for held in wooden)
    ids = [one for part in parts for one in part.ids]
    assert len(ids) == len(set(ids))
    # The drawings are as many as the pieces, but for those that are cut alike.
    drawn = Counter({kind: sum(part.quantity for part in derived.parts if part.kind == kind) for kind in ("board", "gear", "keeper")})
    assert {kind: pieces[kind] for kind in ("board", "gear", "keeper")} == dict(drawn)


@pytest.mark.parametrize("name", NAMES)
def test_lists(name: str) -> None:
    check_pieces(name)
    check_cut_list(name)
