"""What is done to loose boards and gears before anything is put together: glue, inserts, magnets, nuts pressed in."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.design import Design
from trivet.model.hardware import TeeNut
from trivet.model.train import DriveNut
from trivet.solve.assembly_step import AssemblyStep
from trivet.solve.derived import Derived
from trivet.solve.shaft import shafts


def preparations(design: Design, derived: Derived, late_pads: frozenset[str]) -> Iterator[AssemblyStep]:
    """Steps in order: what needs time to cure first, then boards, then gears. `late_pads`: feet whose pads are put on later."""
    stacks = shafts(derived.train)
    for board in design.boards:
        if board.layers > 1:
            yield AssemblyStep("glue_layers", (board.name.text,), (), (board.name.text,), needs_cure=True)
    for state in derived.train.gears:
        if state.gear.layers > 1:
            yield AssemblyStep("glue_layers", (state.id,), (state.id,), needs_cure=True)
    for foot in derived.feet:
        if foot.foot.insert is not None:
            face, boards = foot.foot.insert.driven_from, (foot.foot.into.text,)
            yield AssemblyStep("drive_insert", (foot.id,), (), boards, "above" if face == "topside" else "below", face)
    for pivot in derived.pivots:
        nut = pivot.pivot.nut
        if nut is not None and isinstance(nut.hardware, TeeNut):
            under = stacks[pivot.gear][0].gear.under.text
            yield AssemblyStep("press_tee_nut", (pivot.id,), (), (under,), "above", "topside")
    for magnet in design.magnets:
        ids = tuple(place.id for place in magnet.places)
        side = "above" if magnet.face == "topside" else "below"
        yield AssemblyStep("set_magnets", ids, (), (magnet.into.text,), side, magnet.face, needs_cure=True)  # type: ignore[arg-type]  # a face, kept as text in the noun
    for dowel in design.dowels:
        held = tuple(board for board, fit in dowel.into if fit == "press")
        if held:
            yield AssemblyStep("press_dowels", tuple(place.id for place in dowel.places), (), held, "above")
    for drive in derived.drives:
        stack = stacks[drive.gear]
        if drive.drive.nut.side == "above" and _sunk(drive.drive.nut):
            kind = "press_tee_nut" if isinstance(drive.drive.nut.hardware, TeeNut) else "press_nut"
            yield AssemblyStep(kind, (drive.id,), (stack[0].id,), (), "above", "topside")  # type: ignore[arg-type]  # one of two step kinds by the condition
    for stack in stacks.values():
        if len(stack) > 1:
            names = tuple(state.id for state in stack)
            clamped = any(joint.form == "clamped" and joint.gears == names for joint in derived.joints)
            yield AssemblyStep("join_gears", names, names, needs_cure=not clamped)
    for foot in derived.feet:
        if foot.foot.kind == "captured_nut" and foot.foot.nut is not None:
            topside = foot.foot.nut_pocket == "topside"
            side, face = ("above", "topside") if topside else ("below", "underside")
            yield AssemblyStep("press_nut", (foot.id,), (foot.gear,), (), side, face, needs_cure=True)  # type: ignore[arg-type]  # the two words are chosen above
    for foot in derived.feet:
        if foot.foot.kind == "riding":
            yield AssemblyStep(
                "glue_screw_in_gear", (foot.id,), (stacks[foot.gear][-1].id,), (), "below", "underside", needs_cure=True
            )
    for foot in derived.feet:
        if foot.foot.pad.kind != "head" and foot.id not in late_pads:
            yield AssemblyStep("fit_pad", (foot.id,), (foot.gear,), (), "below")


def _sunk(nut: DriveNut) -> bool:
    return isinstance(nut.hardware, TeeNut) or nut.recessed is not None
