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
