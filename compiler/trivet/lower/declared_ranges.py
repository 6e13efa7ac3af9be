"""Ranges that a plan declares for what a stranger brings: any sheet, any cutter. `--set` moves inside them, as for parameters."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING

from trivet.diagnostics import Diagnostic, Label, Rule
from trivet.lower.fault import Echo, Fault
from trivet.lower.fixture import from_setting, within
from trivet.lower.reader import Reader
from trivet.model.base import Band
from trivet.units import Quantity, number_text

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.entries import Entry

OUTSIDE = Rule(
    "outside-the-plan",
    "warning",
    "a sheet or cutter of the shop's file outside the range that the plan is declared for",
    "the author has tried the plan only inside it, so what holds there need not hold here",
    "derived: `for_sheets` and `up_to`, grammar/reference.md",
)
Bounds = tuple[Quantity, Quantity]
# By kind of block: the fact that declares the range, and the part that `--set` names then.
DECLARED = {"sheet": ("for_sheets", "thickness"), "cutter": ("up_to", "diameter")}


def setting_of(entry: Entry) -> str:
    """What `--set` calls the range of a sheet or cutter, such as `ply18.thickness`; empty where it declares none."""
    fact, part = DECLARED.get(entry.kind, ("", ""))
    lines = (*entry.lines, *entry.copied, *entry.defaults)
    return f"{entry.name.text}.{part}" if fact and any(line.word.text == fact for line in lines) else ""


def undeclared(name: str, named: Mapping[str, Entry]) -> str:
    """The remedy where `--set` names the part of a sheet or cutter that declares no range; empty for anything else."""
    owner, _, part = name.partition(".")
    entry = named.get(owner)
    fact, own_part = DECLARED.get(entry.kind, ("", "")) if entry is not None else ("", "")
    if not fact or part != own_part:
        return ""
    return f"the {entry.kind} `{owner}` takes it where it declares a range with `{fact}`" if entry is not None else ""


def thickness_in_use(reader: Reader, context: Context, stated: Band) -> tuple[Band, Bounds | None]:
    """The thickness as stated, or moved to the mean that `--set` gives, its deviation kept; and the range of means declared."""
    bounds: Bounds | None = reader.value("for_sheets", "value")
    if bounds is None:
        return stated, None
    name, low, high = f"{reader.name.text}.thickness", *bounds
    if low.dimension != "length" or low.mm <= stated.mean - stated.least:
        message = "`for_sheets` is a range of mean thicknesses, more than the sheet's own deviation above 0 mm"
        raise Fault("value-not-allowed", message, low.origin, remedy="write it as in `for_sheets 17.0..18.6 mm`")
    if not low.mm - 1e-9 <= stated.mean <= high.mm + 1e-9:
        message = f"the thickness of `{reader.name.text}` is outside the range that it is declared for, {low} to {high}"
        raise Fault("parameter-out-of-range", message, stated.origin, remedy="widen `for_sheets`, or correct the thickness")
    text = context.settings.get(name)
    if text is None:
        return stated, bounds
    mean = from_setting(name, text, low, context)
    within(name, mean, bounds, (), is_set=True)
    assert isinstance(mean, Quantity)
    least, most = mean.mm - (stated.mean - stated.least), mean.mm + (stated.most - stated.mean)
    return Band(mean.mm, least, most, stated.origin), bounds


def diameter_in_use(reader: Reader, context: Context, stated: Quantity | None) -> tuple[Quantity | None, Bounds | None]:
    """The diameter as stated or as `--set` gives it, and the range from the one stated up to the greatest declared."""
    most: Quantity | None = reader.value("up_to", "value")
    if most is None:
        return stated, None
    if stated is None:
        raise Fault("value-not-allowed", "`up_to` is for a cutter with a diameter", most.origin, remedy="remove it")
    name = f"{reader.name.text}.diameter"
    if most.base < stated.base:
        message = f"`{reader.name.text}` is {stated} wide and declared for cutters up to {most}"
        raise Fault("parameter-out-of-range", message, most.origin, remedy=f"at least {stated}")
    text = context.settings.get(name)
    if text is None:
        return stated, (stated, most)
    value = from_setting(name, text, stated, context)
    within(name, value, (stated, most), (), is_set=True)
    assert isinstance(value, Quantity)
    return value.at(stated.origin) if stated.origin is not None else value, (stated, most)


def outside_the_plan(context: Context) -> list[Diagnostic]:
    """Warnings for sheets and cutters of the shop's file outside what the author declared the plan for."""
    found = []
    for entry in context.collected.named.values():
        if (
            entry.replaces is None
            or entry.kind not in DECLARED
            or entry.name.text not in context.used
            or not setting_of(entry.replaces)
        ):
            continue
        mine, span = context.try_noun(entry), entry.span
        reader = Reader(entry.replaces, context.forms[entry.kind], context)
        try:
            if entry.kind == "sheet":
                low, high = reader.value("for_sheets", "value")
                has, good = f"{number_text(Fraction(repr(mine.thickness.mean)), 3)} mm", low.mm <= mine.thickness.mean <= high.mm
                allowed, where, span = f"{low} to {high}", low.origin, mine.thickness.origin or span
            else:
                most = reader.value("up_to", "value")
                if mine.diameter is None:
                    continue
                has, good, allowed = str(mine.diameter), mine.diameter.base <= most.base, f"at most {most}"
                where, span = most.origin, mine.diameter.origin or span
        except (Fault, Echo):
            continue
        if not good:
            message = f"the {entry.kind} `{entry.name.text}` of the shop's file is {has}; the plan is declared for {allowed}"
            label = Label("the author declares it here", where)
            remedy = f"another {entry.kind}, or check with care: `check --over` has not tried the plan with this one"
            found.append(Diagnostic(OUTSIDE.slug, "warning", message, span, (label,), remedy, (entry.name.text,)))
    return found
