"""The filled inspection card: readings in mm by row, or what is wrong with a cell."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from trivet.card_cells import Cell, cells_of
from trivet.card_rules import BELIEVED, FORM, HEADINGS, LIMITS, NOT_A_CARD, OTHER, TWICE, UNKNOWN
from trivet.diagnostics import Diagnostic, Rule
from trivet.record import record
from trivet.solve.inspection_reading import MM_PER_INCH, Reading, printed
from trivet.source import SourceFile, Span
from trivet.suggest import nearest
from trivet.units import length_text

# A reading that is farther off than so many widths of its limits, and than so much, is a slip and no reading (common practice, no source).
WIDTHS, LEAST_SLIP_MM = 4.0, 0.5
# What a cell may hold is short; longer ones are shown by their beginning.
SHOWN = 40
MOST_READINGS = 100
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?", re.ASCII)
_COMMA = re.compile(r"[0-9]+,[0-9]+", re.ASCII)
_FRACTION = re.compile(r"(?:([0-9]+)-)?([0-9]+)/([0-9]+)", re.ASCII)
# A whole number and a fraction with a space between.
_MIXED = re.compile(r"(?<![0-9./-])([0-9]+) +([0-9]+/[0-9]+)", re.ASCII)
_INCH_MARK = re.compile(r"([0-9./-]+)(?:\"|”|″|'')")
UNITS = {"mm": 1.0, "in": MM_PER_INCH}


@record
class Card:
    """`filled`: readings in mm by the id of their row; `faults`: cells that could not be read; `limits`: readings outside their limits."""

    filled: dict[str, tuple[float, ...]]
    faults: tuple[Diagnostic, ...]
    limits: tuple[Diagnostic, ...]


def read_card(file: SourceFile, rows: Sequence[Reading], unit: str) -> Card:
    """The card of a fixture whose rows are these and whose unit is `unit`. Total: every fault is a finding at its cell."""
    lines = cells_of(file)
    columns = {cell.text.strip().lower(): index for index, cell in reversed(list(enumerate(lines[0])))} if lines else {}
    if not set(HEADINGS) <= set(columns):
        place = lines[0][0].span.to(lines[0][-1].span) if lines else Span(file, 0, 0)
        message = "this is no inspection card: its first line has no columns `row` and `measured`"
        return Card({}, (_fault(NOT_A_CARD, message, place, "fill in the `inspection.csv` that `compile` wrote"),), ())
    known = {row.row: row for row in rows}
    filled: dict[str, tuple[float, ...]] = {}
    faults: list[Diagnostic] = []
    limits: list[Diagnostic] = []
    others: list[Diagnostic] = []
    for line in lines[1:]:
        name, value = _at(line, columns["row"]), _at(line, columns["measured"])
        if name is None or value is None or not value.text.strip():
            continue
        row = known.get(name.text.strip().removeprefix("'"))
        if row is None:
            faults.append(_unknown(name, known))
            continue
        if row.row in filled:
            faults.append(
                _fault(TWICE, f"`{row.row}` is filled in twice", name.span, "write several readings into one cell: 41.9; 41.8")
            )
            continue
        if not others and (other := _other_plan(_at(line, columns["expect"]) if "expect" in columns else None, row, unit)):
            others.append(other)
        own = _at(line, columns["unit"]) if "unit" in columns else None
        read = list(_readings(value, own, row, unit))
        wrong = [item for item in read if isinstance(item, Diagnostic)]
        faults += wrong
        if not wrong:
            filled[row.row] = tuple(item for item in read if isinstance(item, float))
            limits += _outside(row, filled[row.row], value.span, unit)
    return Card(filled, (*others, *faults), tuple(limits))


def _other_plan(expected: Cell | None, row: Reading, unit: str) -> Diagnostic | None:
    """Said once, at the first figure that differs: the others would differ for the same reason."""
    here = printed(row.nominal_mm, unit)
    if expected is None or _number(expected.text.strip()) in (None, float(here)):
        return None
    message = f"the card expects {_short(expected.text.strip())} for `{row.row}`; the fixture, as it is read now, has {here} {unit}"
    return _fault(
        OTHER, message, expected.span, "read the card with the `--set` and `--shop` that it was compiled with, or compile a new one"
    )


def _at(line: tuple[Cell, ...], index: int) -> Cell | None:
    return line[index] if index < len(line) else None


def _readings(value: Cell, own: Cell | None, row: Reading, unit: str) -> Iterator[float | Diagnostic]:
    """Each reading of a cell in mm; they are parted by semicolons or spaces, and may carry a unit each or one at the end."""
    base = own.text.strip() if own is not None and own.text.strip() else unit
    if base not in UNITS:
        yield _fault(FORM, f"`{_short(base)}` is no unit of this card", (own or value).span, "write mm or in")
        return
    words = value.text.replace(";", " ").split()
    stated = {word for word in words if word in UNITS}
    if len(words) > MOST_READINGS or not words or set(words) <= stated:
        yield _fault(
            FORM,
            f"`{_short(value.text)}` holds no readings",
            value.span,
            f"write a number, such as {printed(row.nominal_mm, unit)}",
        )
        return
    if len(stated) > 1:
        yield _fault(FORM, "one cell holds readings in two units", value.span, "write them all in one unit")
        return
    parted = _MIXED.search(value.text)
    if parted:
        yield _fault(
            FORM, f"`{_short(parted[0])}` reads as two readings", value.span, f"write `{_short(parted[1])}-{_short(parted[2])}` for one"
        )
        return
    factor = UNITS[next(iter(stated), base)]
    for word in words:
        if word in UNITS:
            continue
        number = _number(word)
        if number is None:
            # One cell is one slip: what follows in it would only repeat it.
            yield _fault(FORM, f"`{_short(word)}` is not a number", value.span, _hint(word, row, unit))
            return
        mm = number * factor
        yield mm if (slip := _slip(row, mm, value.span, unit)) is None else slip


def _number(word: str) -> float | None:
    if _NUMBER.fullmatch(word) and len(word) <= SHOWN:
        return float(word)
    parts = _FRACTION.fullmatch(word)
    if parts and len(word) <= SHOWN and int(parts[3]):
        return int(parts[1] or 0) + int(parts[2]) / int(parts[3])
    return None


def _hint(word: str, row: Reading, unit: str) -> str:
    if _COMMA.fullmatch(word):
        return f"decimals have a point: write {_short(word).replace(',', '.')}"
    mark = _INCH_MARK.fullmatch(word)
    if mark:
        return f"inches are written with the word: {_short(mark[1])} in"
    if re.fullmatch(r"[0-9./-]+(?:mm|in)", word, re.ASCII):
        return f"put a space before the unit: {word[:-2]} {word[-2:]}"
    return f"write a number, such as {printed(row.nominal_mm, unit)}, or several with spaces between them"


def _slip(row: Reading, mm: float, span: Span, unit: str) -> Diagnostic | None:
    """A reading too far off to be one."""
    allowed = max(WIDTHS * (row.most_mm - row.least_mm), LEAST_SLIP_MM)
    if abs(mm - row.nominal_mm) <= allowed:
        return None
    shown, expected = length_text(mm, unit), length_text(row.nominal_mm, unit)
    remedy = f"within {length_text(allowed, unit)} of it a reading is taken; measure again, or look whether it is another row's"
    for factor, words in ((MM_PER_INCH, "in inches"), (1.0 / MM_PER_INCH, "in millimetres")):
        if abs(mm * factor - row.nominal_mm) <= allowed:
            other = "in" if factor > 1.0 else "mm"
            remedy = f"it would fit {words}: write the unit behind it, `{other}`"
    return _fault(BELIEVED, f"`{row.row}` reads {shown}; {expected} is expected", span, remedy)


def _outside(row: Reading, values: tuple[float, ...], span: Span, unit: str) -> Iterator[Diagnostic]:
    # A reading that prints as the limit is at the limit.
    low, high = printed(row.least_mm, unit), printed(row.most_mm, unit)
    for mm in (min(values), max(values)) if len(set(values)) > 1 else values[:1]:
        shown = printed(mm, unit)
        if not float(low) <= float(shown) <= float(high):
            message = f"`{row.row}` reads {shown} {unit}; {low} to {high} {unit} is expected"
            side = "under" if float(shown) < float(low) else "over"
            yield _fault(LIMITS, message, span, f"{_meaning(row, side)}; the limits: {row.why}")


def _meaning(row: Reading, side: str) -> str:
    meanings = {
        ("span", "under"): "thin teeth give backlash, and cost little",
        ("span", "over"): "thick teeth take backlash: the figures below say whether the mesh still runs",
        ("tip", "over"): "tips too high may touch the roots of the mate",
        ("bore", "under"): "what goes in will not turn freely: ease the bore",
        ("bore", "over"): "play lets the gear wander: the figures below count it",
        ("hole", "over"): "an insert may not hold and a bolt may wander",
        ("hole", "under"): "open it before it splits the wood",
        ("flats", "under"): "the head will not go in",
        ("flats", "over"): "the head may turn in its pocket: more glue, or a packing",
        ("depth", "under"): "deepen it; heads and nuts stand out by as much",
        ("depth", "over"): "less wood is left under it",
        ("thickness", "under"): "put what you measured into your shop file and compile again",
        ("thickness", "over"): "put what you measured into your shop file and compile again",
        ("spacing", "under"): "near centres take backlash: the figures below say whether the mesh still runs",
        ("spacing", "over"): "wide centres give backlash and take contact",
        ("length", "under"): "it may not reach through its nut",
        ("length", "over"): "shorten it, or it touches what stands under it",
    }
    return meanings.get((row.kind, side), "measure again")


def _unknown(name: Cell, known: dict[str, Reading]) -> Diagnostic:
    text = name.text.strip()
    close = nearest(text[:SHOWN], known) if text else None
    remedy = f"`{close}` is a row of it" if close else "take the card of this fixture and these parameters: `compile` writes it"
    message = f"the fixture has no reading `{_short(text)}`" if text else "a reading stands in a line without a row"
    return _fault(UNKNOWN, message, name.span, remedy)


def _short(text: str) -> str:
    return text if len(text) <= SHOWN else f"{text[:SHOWN]}…"


def _fault(rule: Rule, message: str, span: Span, remedy: str) -> Diagnostic:
    return Diagnostic(rule.slug, rule.severity, message, span, remedy=remedy)
