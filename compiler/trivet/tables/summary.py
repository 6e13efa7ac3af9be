"""Page one: what a maker wants to know first, in a dozen short lines."""

from __future__ import annotations

import textwrap

from trivet.model.design import Design
from trivet.model.hardware import Screw
from trivet.solve.binding import Binding
from trivet.solve.binding_words import chance_words, eased_words, percent_words
from trivet.solve.derived import Derived, Lift, Limit
from trivet.tables.hardware_lines import HardwareLine
from trivet.tables.hardware_schedule import schedule
from trivet.tables.hardware_words import description, sold_in
from trivet.tables.report_zones import zone_lines
from trivet.tables.summary_use import use_lines
from trivet.tables.wording import inch_text
from trivet.units import length_text

COLUMNS = 80
MOST_LINES = 13
# Further cut zones stand in the report only.
MOST_ZONES = 1
# The last line, for what is not named.
SMALL_PARTS_LINE = 1
# What carries the risk that the train binds is told from here: rarer than this, other lines matter more.
TOLD_FROM = 0.01


def summary_lines(design: Design, derived: Derived, binding: Binding | None = None) -> tuple[str, ...]:
    """At most thirteen lines of at most 80 columns, in the fixture's unit; what does not fit is counted on the last line.

    `binding`: where whole trains were drawn.
    """
    unit = design.units
    told = [
        *_lift_lines(derived.lift, unit),
        *use_lines(design, derived),
        *_mesh_line(derived, unit),
        *_binding_line(binding),
        *_workpiece_lines(derived),
        *zone_lines(design, derived)[:MOST_ZONES],
    ]
    lines = [piece for line in told for piece in _wrapped(line)]
    counted = schedule(design, derived).lines
    long = [_short(_bolt_line(line, unit)) for line in counted if _is_long(line)]
    rest = sum(line.to_buy for line in counted if not _is_long(line))
    room = max(0, MOST_LINES - len(lines) - SMALL_PARTS_LINE)
    lines += long[:room]
    more = f"{rest} other pieces to buy" if rest else ""
    if len(long) > room:
        left = len(long) - room
        more = f"{left} more line{'s' if left > 1 else ''} of screws or rods" + (f" and {more}" if more else "")
    if more:
        where = "see the hardware schedule"
        lines.append(f"{more}: {where}" if len(more) + len(where) + 2 <= COLUMNS else f"{more}: see the schedule")
    return tuple(lines)


def _lift_lines(lift: Lift | None, unit: str) -> list[str]:
    if lift is None:
        return ["no lift could be computed: see the findings"]
    low, high = length_text(lift.height_min_mm, unit), length_text(lift.height_max_mm, unit)
    lines = [
        f"lift: {length_text(lift.per_turn_mm, unit, 4)} per turn; raises when turned {lift.raises_when}, seen from above",
        f"travel: {length_text(lift.travel_mm, unit)} in {lift.turns_for_travel:.1f} turns ({length_text(lift.travel_worst_mm, unit)} "
        "with the worst sheets)"
        if lift.travel_mm > 0.0
        else "travel: none is left",
        f"height: {low} to {high}",
    ]
    for end, word in (("least", "lowest"), ("most", "highest")):
        limit = _tightest(lift, end)
        if limit is not None:
            lines.append(f"{word}: {limit.sentence}")
    return lines


def _tightest(lift: Lift, end: str) -> Limit | None:
    """Limits stand tightest first at each end."""
    return next((limit for limit in lift.limits if limit.end == end), None)


def _mesh_line(derived: Derived, unit: str) -> list[str]:
    meshes = derived.train.meshes
    if not meshes:
        return []
    tight = min(meshes, key=lambda mesh: (mesh.backlash.min_mm, mesh.id))
    nominal, least = length_text(tight.backlash.nominal_mm, unit), length_text(tight.backlash.min_mm, unit)
    return [f"backlash: {nominal}; at worst {least}, between {tight.a} and {tight.b}"]


def _binding_line(found: Binding | None) -> list[str]:
    if found is None or found.chance is None:
        return []
    share = f"{percent_words(found.chance)} of " if found.chance else ""
    lines = [f"binds: {chance_words(found.chance)} ({share}{found.draws} trains drawn, seed {found.seed})"]
    eased = eased_words(found) if found.chance >= TOLD_FROM else ""
    return [*lines, f"risk: {eased}"] if eased else lines


def _workpiece_lines(derived: Derived) -> list[str]:
    lift = derived.lift
    if lift is None or not lift.workpieces:
        return []
    texts = [sentence.split(";")[0].replace("`", "") for _, _, _, sentence in lift.workpieces]
    more = f"; {len(texts) - 1} more in the report" if len(texts) > 1 else ""
    return [f"workpiece: {texts[0]}{more}"]


def _is_long(line: HardwareLine) -> bool:
    return isinstance(line.piece.hardware, Screw) or line.piece.kind == "rod"


def _bolt_line(line: HardwareLine, unit: str) -> str:
    """`crank-bolt: buy 1 of ISO 4762 M8 x 60 mm, cut to 55.5 mm`."""
    piece = line.piece

    def figure(mm: float) -> str:
        return inch_text(mm) if unit == "in" else length_text(mm)

    if isinstance(piece.hardware, Screw):
        standard = " ".join(piece.standard.split()[:2])
        asked = f"{standard} {piece.designation}"
        if piece.length_mm is None:
            return f"{line.item}: no stock length of {asked} fits: see the schedule"
        asked += f" x {inch_text(piece.length_mm) if sold_in(piece) == 'in' else length_text(piece.length_mm)}"
    else:
        asked = description(piece, unit)
    text = f"{line.item}: " + (f"buy {line.to_buy} of {asked}" if line.to_buy else f"{line.quantity} of {asked} in the drawer")
    if piece.cut_to_mm is not None:
        text += f", cut to {figure(piece.cut_to_mm)}"
    return text if piece.fits else f"{text} (does not fit: see the schedule)"


def _wrapped(line: str) -> list[str]:
    # The end of this one is the figure that counts.
    most = 3 if line.startswith("risk: ") else 2
    return textwrap.wrap(line, COLUMNS, subsequent_indent="  ", max_lines=most, placeholder=" …")


def _short(line: str) -> str:
    return textwrap.shorten(line, COLUMNS, placeholder=" …")
