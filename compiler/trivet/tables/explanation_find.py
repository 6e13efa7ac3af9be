"""Which explanations a quantity and its parts ask for; what there is, where they ask for nothing known."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.record import record
from trivet.suggest import nearest
from trivet.tables.explanation import Entry
from trivet.tables.explanation_all import OF_KEYS, TOGETHER, group_quantities, unlisted

# A list of parts longer than this is cut: a table of fifty gears is no help.
MOST_LISTED = 24


@record
class Asked:
    """`found`: the entries asked for. Else `trouble` says what is unknown, and `known` lists what could be written instead."""

    found: tuple[Entry, ...]
    trouble: str = ""
    known: str = ""


def find(entries: Sequence[Entry], quantity: str, parts: Sequence[str]) -> Asked:
    """The entries of a quantity about exactly these parts, in any order; a `limit` may be named by some of its words.

    A key of the report stands for its quantity: `travel_mm`, `load_share_n`.
    """
    names = tuple(dict.fromkeys((*(entry.quantity for entry in entries), *group_quantities())))
    quantity = OF_KEYS.get(quantity, quantity)
    wanted = TOGETHER.get(quantity, (quantity,))
    held = [entry for entry in entries if entry.quantity in wanted]
    held = held or [entry for entry in entries if quantity in _keys(entry)]
    if not held:
        everything = (*names, *TOGETHER)
        if quantity in everything:
            return Asked((), f"nothing in this file has a {quantity}", f"quantities: {', '.join(names)}")
        near = nearest(quantity, everything)
        hint = f"; did you mean {near}?" if near else ""
        return Asked((), f"there is no quantity {_cut(quantity)}{hint}", f"quantities: {', '.join(sorted(everything))}")
    chosen = tuple(entry for entry in held if _about(entry, parts))
    if chosen:
        return Asked(chosen)
    known = tuple(dict.fromkeys(" ".join(entry.parts) for entry in held))
    listed = _listed(known)
    if not held[0].parts:
        return Asked((), f"{quantity} is about the whole fixture and takes no part", f"write `trivet explain {quantity} --in FILE`")
    if not parts:
        return Asked((), f"{quantity} needs a part", f"{quantity} is known of: {listed}")
    words = {word for entry in held for word in (*entry.parts, *entry.also)}
    unknown = [part for part in parts if part not in words]
    near = nearest(unknown[0], words) if unknown else None
    hint = f"; did you mean {near}?" if near else ""
    about = _cut(unknown[0]) if unknown else " and ".join(_cut(part) for part in parts)
    return Asked((), f"no {quantity} of {about} is known{hint}", f"{quantity} is known of: {listed}")


def listing(entries: Sequence[Entry]) -> str:
    """Every quantity of a fixture and what it is known of, a line each."""
    known: dict[str, list[str]] = {}
    for entry in entries:
        known.setdefault(entry.quantity, []).append(" ".join(entry.parts))
    slow = "worked out when asked for; without a part it says of what"
    lines = {name: _listed(list(dict.fromkeys(parts))) for name, parts in known.items()} | dict.fromkeys(unlisted(), slow)
    width = max(map(len, lines), default=0)
    return "\n".join(f"{name:{width}}  {parts}".rstrip() for name, parts in lines.items())


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names[:MOST_LISTED]) + (f" and {len(names) - MOST_LISTED} more" if len(names) > MOST_LISTED else "")


def _keys(entry: Entry) -> tuple[str, ...]:
    """The keys of the report at the end of an entry's path: `lift.travel_mm` and `meshes[0].as_cut.nominal.overlap_mm2`."""
    return tuple(step for step in entry.path[-1:] if isinstance(step, str))


def _about(entry: Entry, parts: Sequence[str]) -> bool:
    if entry.quantity.startswith("limit"):
        return set(parts) <= set(entry.parts)
    if entry.some and parts:
        return set(parts) <= {*entry.parts, *entry.also}
    if len(parts) == 1 and parts[0] in entry.also:
        return True
    return sorted(parts) == sorted(entry.parts)


def _cut(text: str) -> str:
    return text[:60]
