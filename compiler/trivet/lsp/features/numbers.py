"""Which derived numbers belong to a statement, and each with its derivation as Markdown: what `trivet explain` says, shorter."""

from __future__ import annotations

from trivet.lsp.known import Known
from trivet.lsp.view import View
from trivet.source import LibraryRow, Span
from trivet.syntax.nodes import Block, Line, Name
from trivet.tables.explanation import Entry, Number
from trivet.tables.formula import shown
from trivet.tables.wording import STATUS_WORDS

# quantities by block and fact; the empty fact is the heading. Their part is the block's name unless said below.
_OF_BLOCK: dict[tuple[str, str], tuple[str, ...]] = {
    ("gear", ""): ("tip_diameter", "pitch_diameter", "root_diameter"),
    ("gear", "teeth"): ("pitch_diameter", "tip_diameter"),
    ("gear", "at"): ("x", "y"),
    ("gear", "bore"): ("bore",),
    ("gear", "profile_shift"): ("tip_diameter", "tooth_thickness"),
    ("gear", "turned_by"): ("speed",),
    ("gear", "turns_on"): ("speed",),
    ("gear", "carries"): ("speed",),
    ("gear", "cutter"): ("largest_cutter",),
    ("drive", "bolt"): ("length", "cut_to"),
    ("pivot", "screw"): ("length", "cut_to"),
    ("pivot", "bolt"): ("length", "cut_to"),
    ("foot", "screw"): ("length", "cut_to"),
    ("foot", "rod"): ("length", "cut_to"),
    ("hole", ""): ("hole",),
    ("hole", "dowel"): ("hole",),
    ("hole", "clearance"): ("hole",),
}
_OF_FIXTURE: dict[tuple[str, str], tuple[str, ...]] = {
    ("drive", ""): ("lift", "turns_for_travel"),
    ("drive", "thread"): ("lift",),
    ("foot", ""): ("travel", "height_min", "height_max"),
    ("foot", "thread"): ("lift",),
}
_REQUIRED: dict[str, tuple[str, ...]] = {
    "travel": ("travel",), "height": ("height_min", "height_max"), "lift_per_turn": ("lift",),
    "turns_for_travel": ("turns_for_travel",),
}  # fmt: skip
_OF_MESH = ("centre_distance", "backlash", "backlash_min", "contact_ratio")


def quantities_at(view: View, block: Block, line: Line) -> tuple[Entry, ...]:
    """The numbers that a statement is about, of the last result without errors."""
    known = view.known
    if known is None:
        return ()
    kind = block.heading.word.text
    word = "" if line is block.heading else line.word.text
    if kind == "mesh" and word == "with":
        pair = (_first_name(block.heading), _first_name(line))
        return _entries(known, _OF_MESH, *(name for name in pair if name))
    if kind == "require":
        return _entries(known, _REQUIRED.get(_first_name(line), ()))
    names = _names(block)
    about = tuple(entry for name in names[:1] for entry in _entries(known, _OF_BLOCK.get((kind, word), ()), name))
    return about + _entries(known, _OF_FIXTURE.get((kind, word), ()))


def about_numbers(view: View, entries: tuple[Entry, ...]) -> str:
    """The first number with its derivation, the others with their values, as Markdown; empty where there are none."""
    if not entries:
        return ""
    unit = view.known.design.units if view.known is not None else "mm"
    others = [f"{_named(entry)}: {value_text(entry.explain(), unit)}" for entry in entries[1:]]
    return "\n\n".join([_about(view, entries[0]), *others])


def _named(entry: Entry) -> str:
    return " ".join((entry.quantity.replace("_", " "), *(f"`{part}`" for part in entry.parts)))


def _about(view: View, entry: Entry) -> str:
    """A number with its last step and what goes into that."""
    number = entry.explain()
    unit = view.known.design.units if view.known is not None else "mm"
    lines = [f"**{_named(entry)}: {value_text(number, unit)}**"]
    if number.formula:
        lines.append(f"{number.symbol} = {number.formula}")
        if number.with_numbers != number.formula:
            lines.append(f"{' ' * len(number.symbol)} = {number.with_numbers}")
    elif number.how:
        lines.append(number.how)
    text = lines[0] + ("\n\n```text\n" + "\n".join(lines[1:]) + "\n```" if len(lines) > 1 else "")
    given = [f"- {_input(item, unit)}" for item in number.inputs[:8]]
    text += "\n\n" + "\n".join(given) if given else _origin(number)
    return text + (f"\n\nsource: {number.source}" if number.source else "")


def _input(item: Number, unit: str) -> str:
    """A number that goes into another: its value, and its own formula or where it is from."""
    steps = [step for step in (item.formula, item.with_numbers) if step and step != shown(item.value)]
    step = "".join(f" = {step}" for step in dict.fromkeys(steps))
    return f"{item.symbol}{step} = {value_text(item, unit)}: {item.words}{_origin(item)}"


def value_text(number: Number, unit: str) -> str:
    """A value with its unit; a length of an inch fixture in inches too."""
    text = shown(number.value)
    if number.unit == "mm" and unit == "in":
        return f"{text} mm ({number.value / 25.4:.4f} in)"
    return f"{text} {number.unit}".rstrip()


def _origin(number: Number) -> str:
    origin = number.origin
    if isinstance(origin, Span):
        return f" (`{' '.join(origin.text.split())[:60]}`)"
    if isinstance(origin, LibraryRow):
        return f" (table `{origin.table}`, row {origin.key}: {origin.source}, {STATUS_WORDS.get(origin.status, origin.status)})"
    return ""


def _entries(known: Known, quantities: tuple[str, ...], *parts: str) -> tuple[Entry, ...]:
    found = (known.entry(quantity, *parts) for quantity in quantities)
    return tuple(entry for entry in found if entry is not None)


def _first_name(line: Line) -> str:
    items = line.phrases[0].items
    return items[0].text if items and isinstance(items[0], Name) else ""


def _names(block: Block) -> list[str]:
    return [phrase.items[0].text for phrase in block.heading.phrases if phrase.items and isinstance(phrase.items[0], Name)]
