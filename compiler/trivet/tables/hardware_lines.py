"""Lines of the hardware schedule: equal pieces of a set together, less what lies in the drawer."""

from __future__ import annotations

from collections.abc import Iterable

from trivet.model.intent import Have
from trivet.record import record, replace
from trivet.source import LibraryRow
from trivet.tables.hardware_items import HardwareItem

SAME_MM = 1e-6


@record
class HardwareLine:
    """`piece`: one of them. `item`: its id, numbered from the second on where pieces of one set differ in length.

    `where`: each place once, in order. `from_drawer` of the `quantity` are there already.
    """

    item: str
    piece: HardwareItem
    quantity: int
    where: tuple[str, ...]
    from_drawer: int = 0

    @property
    def to_buy(self) -> int:
        """Pieces that are not in the drawer; spacers are cut, not bought."""
        return 0 if self.piece.kind == "spacer" else self.quantity - self.from_drawer


@record
class Schedule:
    """The lines, and of each `have` how many pieces nothing asked for."""

    lines: tuple[HardwareLine, ...]
    left_over: tuple[tuple[Have, int], ...]


def hardware_lines(items: Iterable[HardwareItem], have: tuple[Have, ...]) -> Schedule:
    """Pieces grouped in their order, each taken from the drawer where it is there; earlier lines are served first."""
    groups: dict[tuple[object, ...], list[HardwareItem]] = {}
    for piece in items:
        groups.setdefault(_key(piece), []).append(piece)
    used: dict[str, int] = {}
    left = [item.quantity for item in have]
    lines: list[HardwareLine] = []
    for pieces in groups.values():
        first = pieces[0]
        used[first.item] = used.get(first.item, 0) + 1
        number = used[first.item]
        wanted = len(pieces)
        for index, drawer in enumerate(have):
            if left[index] and wanted and serves(drawer, first):
                taken = min(left[index], wanted)
                left[index] -= taken
                wanted -= taken
        lines.append(
            HardwareLine(
                item=first.item if number == 1 else f"{first.item}-{number}",
                piece=_strictest(pieces),
                quantity=len(pieces),
                where=tuple(dict.fromkeys(piece.where for piece in pieces)),
                from_drawer=len(pieces) - wanted,
            )
        )
    return Schedule(tuple(lines), tuple((item, rest) for item, rest in zip(have, left, strict=True) if rest))


def serves(drawer: Have, piece: HardwareItem) -> bool:
    """Whether a piece in the drawer is this piece: same standard, thread and length (as bought or as cut).

    A product word that the drawer leaves out does not matter. A length that it leaves out serves only what has none.
    """
    standard = piece.standard
    if not standard or drawer.standard not in (standard, " ".join(standard.split()[:2])):
        return False
    if drawer.thread not in _designations(piece):
        return False
    lengths = [mm for mm in (piece.length_mm, piece.cut_to_mm) if mm is not None]
    if drawer.length_mm is None:
        return not lengths
    return any(abs(drawer.length_mm - mm) <= SAME_MM for mm in lengths)


def _designations(piece: HardwareItem) -> set[str]:
    """As written, with its pitch, and as its row has it: `M8x1.25` and `M8` are one thread."""
    found = {piece.designation}
    thread = piece.thread
    if thread is not None and thread.system == "metric":
        suffix = "-LH" if thread.hand < 0 else ""
        found.add(f"M{thread.major_mm:g}x{thread.pitch_mm:g}{suffix}")
        if isinstance(thread.origin, LibraryRow):
            found.add(f"{thread.origin.key}{suffix}")
    return found


def _key(piece: HardwareItem) -> tuple[object, ...]:
    lengths = (piece.length_mm, piece.cut_to_mm, piece.stated_mm, piece.size_mm, piece.height_mm)
    return piece.item, *(None if mm is None else round(mm, 3) for mm in lengths)


def _strictest(pieces: list[HardwareItem]) -> HardwareItem:
    """One piece that serves every place: the most thread wanted (throughout where one wants that), and every note once."""
    wanted = [piece.thread_wanted_mm for piece in pieces]
    known = [mm for mm in wanted if mm is not None]
    return replace(
        pieces[0],
        thread_wanted_mm=max(known) if len(known) == len(wanted) else None,
        fits=all(piece.fits for piece in pieces),
        note="; ".join(dict.fromkeys(piece.note for piece in pieces if piece.note)),
    )
