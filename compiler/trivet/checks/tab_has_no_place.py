"""Tabs that find no edge to sit on: wider than a tooth's tip, than any straight run, or as high as the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from trivet.checks._check import place
from trivet.checks._equal import grouped, too
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.part_features import PartFeatures
from trivet.solve.tabs import LEAST_WIDTH_MM, TabRefusal, height_mm, refusal, stated_tabs
from trivet.source import Span
from trivet.units import length_text, made_text, two_lengths

MM_PER_INCH = 25.4  # exact: international yard and pound agreement of 1959

RULE = Rule(
    "tab-has-no-place",
    "error",
    "tabs on a part whose edge has no run for them: of a gear only the tips of its teeth count, of other parts runs that are straight"
    " or hardly bent",
    "a tab on a flank leaves a stump that the mating tooth runs onto; a tab over a corner breaks out; without any, the part comes loose"
    " on the last pass and is thrown or gouged",
    "common practice, no source: tabs go on tip lands, never on flanks, bores or edges that register",
    failing="""
- gear hub
+ gear hub
+   tabs 4, width 8 mm, height 3 mm
""",
    passing="""
- gear hub
+ gear hub
+   tabs 4, width 3 mm, height 3 mm
""",
)
Said = tuple[str, str, Span | None]
_OTHERWISE = "hold it by screws in the waste and through its bore, or leave a skin of {} and cut it free by hand"


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for all parts that one statement gives the same tabs in vain."""
    parts = {part.belongs_to or part.part: part for part in reversed(derived.parts)}
    found: list[tuple[Said, str]] = []
    for whole, tabs in stated_tabs(design).items():
        said = _said(design, parts[whole]) if whole in parts else None
        if said is not None:
            found.append(((*said, place(tabs.origin, design.origin)), whole))
    for items in grouped((said, (said, whole)) for said, whole in found):
        (message, remedy, span), whole = items[0]
        names = tuple(name for _, name in items)
        yield Diagnostic(RULE.slug, RULE.severity, message.format(f"`{whole}`") + too(names[1:]), span, (), remedy, names)


def _said(design: Design, part: PartFeatures) -> tuple[str, str] | None:
    """What is wrong, with a place for the part's name, and what would do; None where all tabs find a place."""
    tabs = stated_tabs(design)[part.belongs_to or part.part]
    height = height_mm(part, tabs)
    if height >= part.sheet.thickness.least:
        tall, sheet = two_lengths(height, part.sheet.thickness.least, design.units)
        usual = made_text(25.4 / 8.0 if design.units == "in" else 3.0, design.units)
        message = f"the tabs of {{}} are {tall} high; its sheet is {sheet} at its thinnest, so they are not cut at all"
        return message, f"`height {usual}` is usual"
    found = refusal(design, part)
    return _refused(found, design.units) if found is not None else None


def _refused(found: TabRefusal, unit: str) -> tuple[str, str]:
    # Advice is rounded down, so that it holds.
    step = MM_PER_INCH / 100.0 if unit == "in" else 0.1
    asked, longest = two_lengths(found.asked_mm, floor(max(found.longest_mm, 0.0) / step + 1e-6) * step, unit)
    otherwise = _OTHERWISE.format(made_text(25.4 / 64.0 if unit == "in" else 0.5, unit))
    if found.tip_land_mm is not None and found.placed == 0:
        land = length_text(found.tip_land_mm, unit)
        narrower = f"`width {longest}` or less, or " if found.longest_mm >= LEAST_WIDTH_MM else ""
        return f"the tabs of {{}} are {asked} wide; the tips of its teeth are {land}, which holds {longest} at most", f"{narrower}{otherwise}"
    if found.placed == 0:
        narrower = f"`width {longest}` or less, or " if found.longest_mm >= LEAST_WIDTH_MM else ""
        return f"the tabs of {{}} are {asked} wide; the longest run of its edge holds {longest}", f"{narrower}{otherwise}"
    some = f"{found.placed} tab{'s' if found.placed > 1 else ''} of {asked}"
    return f"{{}} has room for {some}; {found.tabs.number} are stated", f"`tabs {found.placed}`, or narrower ones"
