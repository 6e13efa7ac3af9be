"""What is said of outlines as cut: at nominal centres, where errors may well bring them, at their worst; never twice with the backlash."""

from __future__ import annotations

import pytest
from tests.edited_base import findings, of_rule

from trivet.checks import outlines_overlap
from trivet.checks._examples import example_text
from trivet.files import MemoryFiles
from trivet.model.design import Design
from trivet.pipeline import check
from trivet.record import replace
from trivet.solve.derived import Derived
from trivet.source import SourceFile


def solved(edits: str) -> tuple[Design, Derived]:
    text = example_text(edits)
    found = check(SourceFile("base.trivet", text), MemoryFiles({"base.trivet": text}))
    assert found.design is not None and found.derived is not None
    return found.design, found.derived


def cutter(diameter: str) -> str:
    return f"- diameter 6 mm\n+   diameter {diameter}"


def test_severity_follows_how_likely_the_centres_are() -> None:
    """From a fine cutter to a fat one: silent, a note at the worst, an error where it may well be, an error as drawn."""
    seen: list[tuple[str, str]] = []
    design, derived = solved("- backlash 0.5 mm\n+   backlash 1.2 mm")
    for tenth in range(60, 100):
        gears = tuple(replace(state, cutter_diameter_mm=tenth / 10) for state in derived.train.gears)
        changed = replace(derived, train=replace(derived.train, gears=gears))
        found = [item for item in outlines_overlap.check(design, changed) if set(item.parts) >= {"hub", "east"}]
        if not found:
            seen.append(("", ""))
            continue
        (item,) = found
        where = "worst" if "every error at its worst" in item.message else "likely" if "may well come out" in item.message else "drawn"
        seen.append((item.severity, where))
    stages = list(dict.fromkeys(seen))
    assert stages == [("", ""), ("note", "worst"), ("error", "likely"), ("error", "drawn")]


def test_words_give_where_how_much_and_the_cure() -> None:
    item = of_rule("outlines-overlap", cutter("8 mm"))[0]
    assert "mm² as they turn; 0.01 mm² is allowed" in item.message and "nearer" not in item.message
    assert "a cutter of " in item.remedy and item.remedy.endswith("or more backlash")
    assert item.span is not None


@pytest.mark.parametrize("backlash", ["0.3 mm", "0.4 mm", "0.5 mm", "0.6 mm"])
def test_what_the_backlash_says_is_not_said_again(backlash: str) -> None:
    """Too little play at the worst overlaps as polygons too: that is said once, by the mesh that binds or may bind."""
    rules = [item.rule for item in findings(f"- backlash 0.5 mm\n+   backlash {backlash}")]
    assert "outlines-overlap" not in rules
    assert "mesh-binds" in rules or "mesh-may-bind" in rules
