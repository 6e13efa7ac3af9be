"""Rows of hardware as an editor shows them: what there is for a fact, with threads, lengths and sources."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.catalog import Catalog, NoRow
from trivet.catalog_keys import sizes
from trivet.catalog_lengths import HEADS
from trivet.catalog_rows import Table, table_of
from trivet.inputs import load_library
from trivet.lsp.view import View
from trivet.model.hardware import Thread
from trivet.record import record
from trivet.source import LibraryRow, Origin
from trivet.syntax.nodes import Block, Designation, Name, Standard
from trivet.tables.wording import STATUS_WORDS, thread_text
from trivet.units import length_text, made_text

# The kinds of tables that a fact for a standard chooses from.
_SCREWS = tuple(HEADS)
TABLES_FOR: dict[str, tuple[str, ...]] = {
    "bolt": _SCREWS, "screw": _SCREWS, "counterbore": _SCREWS, "have": (*_SCREWS, "nut", "washer"), "nut": ("nut",),
    "jam_nut": ("nut",), "washers": ("washer",), "rod": ("length_range", "stock_length"),
}  # fmt: skip
_MOST_LENGTHS = 12


@record
class Offer:
    """A piece of hardware: what to write, a few words, and more in Markdown. `fits`: there is a row for the block's thread."""

    text: str
    detail: str
    about: str
    fits: bool = True


def catalog(view: View) -> Catalog:
    """The library with the tables of the fixture's files before it."""
    users: list[Table] = []
    for document in view.documents:
        for block in document.blocks:
            if block.heading.word.text == "table":
                table = table_of(block, lambda _: None, users_own=True)
                if table is not None:
                    users.append(table)
    return Catalog(load_library, tuple(users))


def block_thread(block: Block | None) -> str:
    """The designation in a block's `thread` fact; empty where none is written."""
    for line in block.facts if block is not None else ():
        if line.word.text == "thread":
            for item in line.phrases[0].items:
                if (size := size_text(item)):
                    return size
    return ""


def size_text(item: object) -> str:
    """The thread or numbered size that an item writes (`5/16-18`, `no_10`); empty for what is none."""
    if isinstance(item, Designation):
        return item.text
    numbered = isinstance(item, Name) and item.text.startswith("no_") and item.text[3:].isdigit()
    return item.text if numbered and isinstance(item, Name) else ""


def whole_standard(items: Sequence[object], standard: Standard) -> str:
    """A standard with the product word that follows it among `items`, where one does."""
    place = next((index for index, item in enumerate(items) if item is standard), len(items))
    follows = items[place + 1] if place + 1 < len(items) else None
    return f"{standard.text} {follows.text}" if isinstance(follows, Name) and not size_text(follows) else standard.text


def find_thread(tables: Catalog, designation: str) -> Thread | None:
    """The thread of a designation, None where the tables have none."""
    try:
        return tables.thread(designation) if designation else None
    except NoRow:
        return None


def threads(tables: Catalog, inch: bool) -> list[Offer]:
    """Every thread, those of the fixture's system first."""
    offers: list[tuple[bool, Offer]] = []
    for table in tables.tables("thread"):
        for row in table.rows:
            thread = find_thread(tables, row.key)
            if thread is not None:
                mine = (thread.system == "unified") == inch
                offers.append((not mine, Offer(row.key, thread_text(thread).partition(", ")[2], source(thread.origin), mine)))
    return [offer for _, offer in sorted(offers, key=lambda pair: pair[0])]


def standards(tables: Catalog, word: str, thread: Thread | None, unit: str) -> list[Offer]:
    """The standards that a fact may name; with a thread, those with a row for it say what that row holds."""
    found: dict[str, Offer] = {}
    for kind in TABLES_FOR.get(word, ()):
        for table in tables.tables(kind):
            for name in table.standards:
                if word == "rod" and any(name in other.standards for head in _SCREWS for other in tables.tables(head)):
                    continue
                fits = thread is None or any(row.key in sizes(thread) for row in table.rows)
                held = found.get(name)
                if held is None or (fits and not held.fits):
                    detail, about = _row_words(tables, kind, name, thread, unit) if fits else (f"no row for {_shown(thread)}", "")
                    found[name] = Offer(name, detail, about, fits)
    return sorted(found.values(), key=lambda offer: not offer.fits)


def inserts(tables: Catalog, thread: Thread | None) -> list[Offer]:
    """Tables of inserts, those with a whole row for the thread first; what a row does not know must be measured."""
    found = []
    for table in tables.tables("insert"):
        words, fits = ", ".join([row.key for row in table.rows][:8]), True
        if thread is not None:
            try:
                insert = tables.insert(table.name, thread)
                words = f"{thread.designation}: {insert.length_mm:g} mm long, hole {insert.hole_mm:g} mm"
            except NoRow as missing:
                words, fits = missing.message.replace("`", ""), False
        found.append(Offer(table.name, words, table.source, fits))
    return sorted(found, key=lambda offer: not offer.fits)


def materials(tables: Catalog) -> list[Offer]:
    """Words that tables use for what sheets are made of."""
    found: dict[str, Offer] = {}
    for kind in ("sheet", "movement", "friction"):
        for table in tables.tables(kind):
            for row in table.rows:
                material = row.text("material") or row.text("species")
                if material and material.isidentifier():
                    found.setdefault(material, Offer(material, f"table {table.name}", table.source))
    return list(found.values())


def lengths(tables: Catalog, standard: str, thread: Thread | None) -> tuple[float, ...]:
    """The lengths of a screw that are sold, mm."""
    if thread is None:
        return ()
    try:
        return tables.screw(standard, thread).stock_mm
    except NoRow:
        return ()


def source(origin: Origin | None) -> str:
    """Table, row, publication and status of a row; empty for what is no row."""
    if not isinstance(origin, LibraryRow):
        return ""
    status = STATUS_WORDS.get(origin.status, origin.status)
    return f"table `{origin.table}`, row {origin.key}: {origin.source or 'no source'} ({status})"


def about_standard(tables: Catalog, word: str, standard: str, thread: Thread | None, unit: str) -> str:
    """What a standard's row for a thread holds, in Markdown; empty where there is none."""
    for offer in standards(tables, word, thread, unit):
        if offer.text == standard or offer.text.startswith(f"{standard} "):
            return "\n\n".join(part for part in (offer.detail, offer.about) if part)
    return ""


def _shown(thread: Thread | None) -> str:
    return thread.designation if thread is not None else ""


def _row_words(tables: Catalog, kind: str, standard: str, thread: Thread | None, unit: str) -> tuple[str, str]:
    if thread is None:
        return kind.replace("_", " "), ""
    try:
        if kind in HEADS:
            screw = tables.screw(standard, thread)
            head = screw.head
            high = f" by {length_text(head.height_mm, unit)}" if head.height_mm else ""
            sold = ", ".join(made_text(mm, unit).rpartition(" ")[0] for mm in screw.stock_mm[:_MOST_LENGTHS])
            more = " …" if len(screw.stock_mm) > _MOST_LENGTHS else ""
            words = f"{kind.replace('_', ' ')}, {thread.designation}: head {length_text(head.diameter_mm, unit)}{high}"
            listed = f"lengths sold: {sold}{more} {'in' if unit == 'in' else 'mm'}" if sold else "lengths sold: not known"
            return words, f"{listed}\n\n{source(head.origin)}"
        if kind == "nut":
            nut = tables.nut(standard, thread)
            words = f"nut {thread.designation}: {length_text(nut.height_mm, unit)} high, {length_text(nut.across_flats_mm, unit)} across"
            return words, source(nut.origin)
        if kind == "washer":
            washer = tables.washer(standard, "", thread)
            sides = f"{length_text(washer.inside_mm, unit)} inside, {length_text(washer.outside_mm, unit)} outside"
            return f"washer {washer.size}: {sides}, {length_text(washer.thickness_mm, unit)} thick", source(washer.origin)
    except NoRow as missing:
        return missing.message, missing.remedy
    return kind.replace("_", " "), ""
