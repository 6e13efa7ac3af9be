"""Tabs that find no edge to sit on: wider than a tooth's tip, than any straight run, or as high as the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.tabs import LEAST_WIDTH_MM, TabRefusal, height_mm, refusal, stated_tabs
from trivet.units import length_text, two_lengths

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
_OTHERWISE = "hold it by screws in the waste and through its bore, or leave a skin of 0.5 mm and cut it free by hand"


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a part."""
    said: set[str] = set()
    stated = stated_tabs(design)
    for part in derived.parts:
        whole = part.belongs_to or part.part
        tabs = stated.get(whole)
        if tabs is None or whole in said:
            continue
        at = place(tabs.origin, design.origin)
        height = height_mm(part, tabs)
        if height >= part.sheet.thickness.least:
            said.add(whole)
            tall, sheet = two_lengths(height, part.sheet.thickness.least, design.units)
            message = f"the tabs of `{whole}` are {tall} high; its sheet is {sheet} at its thinnest, so they are not cut at all"
            yield Diagnostic(RULE.slug, RULE.severity, message, at, (), "`height 3 mm` is usual", (whole,))
            continue
        found = refusal(design, part)
        if found is not None:
            said.add(whole)
            yield _refused(design, whole, found)


def _refused(design: Design, whole: str, found: TabRefusal) -> Diagnostic:
    unit = design.units
    # Advice is rounded down, so that it holds.
    step = MM_PER_INCH / 100.0 if unit == "in" else 0.1
    asked, longest = two_lengths(found.asked_mm, floor(max(found.longest_mm, 0.0) / step) * step, unit)
    if found.tip_land_mm is not None and found.placed == 0:
        land = length_text(found.tip_land_mm, unit)
        message = f"the tabs of `{whole}` are {asked} wide; the tips of its teeth are {land}, which holds {longest} at most"
        narrower = f"`width {longest}` or less, or " if found.longest_mm >= LEAST_WIDTH_MM else ""
        remedy = f"{narrower}{_OTHERWISE}"
    elif found.placed == 0:
        message = f"the tabs of `{whole}` are {asked} wide; the longest run of its edge holds {longest}"
        remedy = f"`width {longest}` or less, or {_OTHERWISE}" if found.longest_mm >= LEAST_WIDTH_MM else _OTHERWISE
    else:
        message = f"`{whole}` has room for {found.placed} tab{'s' if found.placed > 1 else ''} of {asked}; {found.tabs.number} are stated"
        remedy = f"`tabs {found.placed}`, or narrower ones"
    return Diagnostic(RULE.slug, RULE.severity, message, place(found.tabs.origin, design.origin), (), remedy, (whole,))
