"""What an order of assembly is made of: frozen records."""

from __future__ import annotations

from typing import Literal

from trivet.model.board import Face
from trivet.record import record

Side = Literal["above", "below"]
StepKind = Literal[
    "glue_layers", "drive_insert", "press_tee_nut", "press_nut", "set_magnets", "press_dowels", "join_gears", "glue_screw_in_gear",
    "fit_pad", "lay_board", "place_gear", "fit_keeper", "turn_in_screw", "thread_rod", "thread_feet", "hang_idler", "fit_drive",
]  # fmt: skip


@record
class AssemblyStep:
    """One step; alike parts that follow one another share one.

    `parts`: ids of what is put in or worked on (`corner.nw`, `pin.west`, `crank.hub`, a gear, a board, a keeper, a magnet, a dowel).
    `gears`: the gears concerned, `boards`: the boards. `side`: where the part comes from, with the boards as they are in use;
    `face`: the face that is worked on, where it is one. `needs_cure`: glue has to set before the next step uses the part.
    `exact`: gears must come in with their teeth in the spaces of neighbours that are there already.
    """

    kind: StepKind
    parts: tuple[str, ...]
    gears: tuple[str, ...] = ()
    boards: tuple[str, ...] = ()
    side: Side = "below"
    face: Face | None = None
    needs_cure: bool = False
    exact: bool = False


@record
class Captive:
    """A part that cannot be put in: `held_by` the parts that are in its way and cannot come later, `why` for each of them."""

    kind: StepKind
    part: str
    held_by: tuple[str, ...]
    why: tuple[str, ...]


@record
class Assembly:
    """An order in which everything goes together. Parts in `blocked` have their steps too, where they would stand if they could.

    `fixed`: the board that all else is put to. `blocked` holds only parts that hold each other captive, not what waits for them.
    """

    fixed: str
    steps: tuple[AssemblyStep, ...]
    blocked: tuple[Captive, ...] = ()
