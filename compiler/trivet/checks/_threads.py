"""Which thread each drive, pivot and foot has, and the threads that run in it."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.model.hardware import Thread
from trivet.record import record
from trivet.source import Origin

_Mate = tuple[str, Thread, Origin | None]


@record
class ThreadUse:
    """The thread that a block states, and what is screwed into it: (what, thread, where it comes from)."""

    part: str
    thread: Thread
    origin: Origin | None
    mates: tuple[_Mate, ...]


def thread_uses(design: Design) -> list[ThreadUse]:
    """Drives, pivots and feet in the order of the file. The hand is left out: a foot's screw is listed by its right-hand row."""
    found = []
    for drive in design.drives:
        mates: list[_Mate] = [("bolt", drive.bolt.thread, drive.bolt.origin), ("nut", drive.nut.hardware.thread, drive.nut.origin)]
        if drive.jam_nut is not None:
            mates.append(("jam nut", drive.jam_nut.hardware.thread, drive.jam_nut.origin))
        found.append(ThreadUse(drive.name.text, drive.thread, drive.name.origin, tuple(mates)))
    for pivot in design.pivots:
        mates = [("bolt" if pivot.bolt else "screw", pivot.screw.thread, pivot.screw.origin)]
        if pivot.nut is not None:
            mates.append(("nut", pivot.nut.hardware.thread, pivot.nut.origin))
        found.append(ThreadUse(pivot.name.text, pivot.thread, pivot.name.origin, tuple(mates)))
    for foot in design.feet:
        mates = []
        if foot.screw is not None:
            mates.append(("screw", foot.screw.thread, foot.screw.origin))
        if foot.insert is not None:
            mates.append(("insert", foot.insert.hardware.thread, foot.insert.origin))
        if foot.nut is not None:
            mates.append(("nut", foot.nut.thread, foot.nut.origin))
        found.append(ThreadUse(foot.name.text, foot.thread, foot.name.origin, tuple(mates)))
    return found
