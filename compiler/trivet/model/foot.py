"""Screw feet, one block a set: each gear that carries the set gets its own."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import From, Named, NonNegativeLength, Noun, PositiveLength
from trivet.model.board import Face
from trivet.model.hardware import Insert, Nut, Screw, TeeNut, Thread
from trivet.model.keeper import KeeperScrews
from trivet.model.outline import Outline


class Pad(Noun):
    """What stands on the bench. `drop` is its height below the head (or below the rod's end, for a captured nut)."""

    kind: Literal["head", "dome", "swivel", "disc"]
    drop: NonNegativeLength | None = None
    diameter: PositiveLength | None = None
    grip: bool = False
    origin: From = None


class InsertUse(Noun):
    """An insert in the board: the face it is driven from and the face it lies flush with (or how far it stands proud of that face)."""

    hardware: Insert | TeeNut
    driven_from: Face
    flush: Face
    proud: NonNegativeLength | None = None
    origin: From = None


class Keeper(Noun):
    """A plate under the gear that holds it up: its stock and outline, and what holds it (None: nothing is known)."""

    stock: Named
    outline: Outline
    screws: KeeperScrews | None = None
    origin: From = None


class Guide(Noun):
    """A second bore that the screw runs in: its clearance (diametral) and length."""

    clearance: PositiveLength
    length: PositiveLength
    origin: From = None


class Foot(Noun):
    """A set of screw feet.

    riding: `screw` fixed in the gear, `insert` in the board. captured_nut: `rod` and `nut` (in the gear), `keeper`, `rod_stop`.
    `climbs_from`: a riding one that only passes motion on and stands on nothing; how far its gear hangs when the board is lowest.
    sliding_hex: `screw`, `socket_depth`, `pad` as the post below the hex, `keeper`, `insert`.
    """

    name: Named
    kind: Literal["riding", "captured_nut", "sliding_hex"]
    thread: Thread
    screw: Screw | None = None
    length: PositiveLength | None = None
    pocket: NonNegativeLength | None = None
    pad: Pad
    insert: InsertUse | None = None
    rod_standard: str = ""
    nut: Nut | None = None
    nut_pocket: Face | None = None
    keeper: Keeper | None = None
    rod_stop_diameter: PositiveLength | None = None
    socket_depth: PositiveLength | None = None
    guide: Guide | None = None
    climbs_from: NonNegativeLength | None = None
    zeroed: bool = False
    zeroed_before_gluing: bool = False
    into: Named
    origin: From = None
