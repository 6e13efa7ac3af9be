"""Depths, holes and lengths as measured, put in place of the facts that they were cut from; of equal ones their mean."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

from trivet.model.base import Noun
from trivet.model.design import Design
from trivet.solve.inspection_reading import Reading
from trivet.units import Quantity

# A difference is a measured figure: further digits are those of binary fractions.
DIGITS = 6
# (field of the design, name, fact, or nut and its fact)
_Fact = tuple[str, str, str, str]


def with_depths_and_lengths(design: Design, rows: Sequence[Reading], differences: Mapping[str, float]) -> Design:
    """The design with head recesses, nut recesses, pockets, sockets, the drive's hole and cut lengths changed by their differences."""
    changes: dict[_Fact, list[tuple[float, Reading]]] = {}
    for row in rows:
        # What is not measured is taken as planned.
        for fact in _facts(design, row):
            changes.setdefault(fact, []).append((differences.get(row.row, 0.0), row))
    for (kind, name, field, inner), found in changes.items():
        by = [difference for difference, _ in found]
        # Of a hole through several layers the narrowest leaves the play.
        change = min(by) if field == "hole_mm" else math.fsum(by) / len(by)
        if abs(change) >= 10.0**-DIGITS:
            nominal = found[0][1].nominal_mm
            design = design.model_copy(update={kind: tuple(_changed(getattr(design, kind), name, field, inner, change, nominal))})
    return design


def _facts(design: Design, row: Reading) -> tuple[_Fact, ...]:
    """The fact that a row was cut from; empty for rows that only have limits."""
    owner = row.title.split(", ")[0].rpartition(" ")[2] if row.title else row.of[0]
    name = owner.partition(".")[0]
    kind = next((kind for kind in ("drives", "pivots", "feet") if _has(getattr(design, kind), name)), "")
    if not kind or (row.title and not row.title.split(", ")[0].endswith(owner)):
        return ()
    if row.kind == "hole" and kind == "drives" and row.title.startswith("hole for the drive bolt"):
        return ((kind, name, "hole_mm", ""),)
    if row.kind == "length":
        field = "play" if row.row.endswith(".sleeve") else "length"
        return ((kind, name, field, ""),)
    if row.kind != "depth":
        return ()
    if kind == "feet":
        found = "socket_depth" if "socket" in row.title else "pocket" if "pocket for the" in row.title else ""
        return ((kind, name, found, ""),) if found else ()
    if "head" in row.title:
        return ((kind, name, "head_recessed", ""),)
    if "nut" in row.title:
        side = "above" if row.of[1] == "topside" else "below"
        nuts = ("nut", "jam_nut") if kind == "drives" else ("nut",)
        holder = next(item for item in getattr(design, kind) if item.name.text == name)
        for nut in nuts:
            held = getattr(holder, nut)
            if held is not None and held.recessed is not None and (kind == "pivots" or held.side == side):
                return ((kind, name, nut, "recessed"),)
    return ()


def _has(items: Iterable[Any], name: str) -> bool:
    return any(item.name.text == name for item in items)


def _changed(items: Iterable[Any], name: str, field: str, inner: str, by: float, nominal: float) -> Iterable[Noun]:
    for item in items:
        if item.name.text != name:
            yield item
        elif field == "hole_mm":
            yield item.model_copy(update={field: max(item.hole_mm + by, 0.0)})
        elif inner:
            nut = getattr(item, field)
            yield item.model_copy(update={field: nut.model_copy(update={inner: _moved(getattr(nut, inner), by, nominal)})})
        else:
            yield item.model_copy(update={field: _moved(getattr(item, field), by, nominal)})


def _moved(fact: Quantity | None, by: float, nominal: float) -> Quantity:
    mm = max((fact.mm if fact is not None else nominal) + by, 0.0)
    return Quantity(Fraction(str(round(mm, DIGITS))), "mm", fact.origin if fact is not None else None)
