"""Under which keys hardware is filed, and which standards a table is of."""

from __future__ import annotations

from trivet.catalog_rows import Table
from trivet.model.hardware import Thread


def holds(table: Table, standard: str) -> bool:
    """Whether a table is of a standard; a standard without its product word matches when the table has just that one."""
    return any(standard in (name, name.split(" ")[0] + " " + name.split(" ")[1]) for name in table.standards if " " in name)


def sizes(thread: Thread) -> tuple[str, ...]:
    """The keys under which a thread's hardware may be filed: the designation, then its size alone."""
    return sizes_of_text(thread.designation)


def sizes_of_text(designation: str) -> tuple[str, ...]:
    """`M8x1-LH` → M8x1, M8; `5/16-18` → 5/16-18, 5/16; `10-24` → 10-24, no_10."""
    base = designation.removesuffix("-LH")
    if base.startswith("M"):
        return tuple(dict.fromkeys((base, base.split("x")[0])))
    if "/" in base:
        return base, base.rpartition("-")[0] or base
    gauge, dash, _ = base.partition("-")
    return (base, f"no_{gauge}") if dash and gauge.isdigit() else (base,)


# A message lists no more keys than a reader takes in.
_MOST_LISTED = 14


def usual_first(keys: list[str], like: str) -> list[str]:
    """At most 14 keys: those of the system that `like` belongs to, coarse threads before fine ones, in the table's order."""
    metric = like.startswith("M")
    same = [key for key in keys if key.startswith("M") == metric and key.startswith("ST") == like.startswith("ST")]
    ranked = sorted(same or keys, key=lambda key: "x" in key)
    return ranked[:_MOST_LISTED] + (["…"] if len(ranked) > _MOST_LISTED else [])


def is_metric(key: str) -> bool:
    """Whether a size is metric: M8, ST6.3."""
    return key.startswith(("M", "ST"))


def own_system(tables: tuple[Table, ...], size: str) -> tuple[str, ...]:
    """The standards that have a row of a size, in the order of the tables."""
    found = [name for table in tables if any(row.key == size for row in table.rows) for name in table.standards]
    return tuple(f"`{name}`" for name in dict.fromkeys(found))


# What a table of one's own must have at least, for messages that ask for one.
COLUMNS = {
    "insert": "columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm",
    "tee_nut": "columns thread, outside_diameter mm, flange_thickness mm, barrel_diameter mm, length mm, hole mm",
    "hexagon_head": "columns thread, across_flats mm, head_height_nominal mm, head_height_max mm",
    "socket_head": "columns thread, head_diameter_max mm, head_height_max mm, key mm",
    "button_head": "columns thread, head_diameter_max mm, head_height_max mm, key mm",
    "countersunk_head": "columns thread, angle deg, head_diameter_max mm, head_height_max mm, key mm",
    "nut": "columns thread, across_flats mm, across_corners_min mm, height_max mm, height_min mm",
}


def measure_yours(kind: str, thread: Thread, standard: str = "") -> str:
    """What table to add, in the unit that the thread is sold in."""
    columns = COLUMNS.get(kind, "").replace(" mm", " in") if thread.system == "unified" else COLUMNS.get(kind, "")
    lines = [f"`standard {standard}`"] if standard else []
    lines += [f"`{columns}`"] if columns else []
    name = f"my_{kind}"
    used = f"; then write `insert {name}` where it is used" if kind == "insert" else ""
    return (
        f"measure yours and add a table: `table {name} is {kind}`, under it "
        f"{', '.join(['`source` with how you measured', *lines])} and a `row` for {thread.designation}{used}"
    )
