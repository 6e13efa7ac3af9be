"""What is wrong with equal gears is said once, with the others named and at their places."""

from __future__ import annotations

from tests.edited_base import of_rule

from trivet.diagnostics import Diagnostic


def only_one(slug: str, edits: str) -> Diagnostic:
    (item,) = of_rule(slug, edits)
    return item


def test_tips_of_equal_gears() -> None:
    """The hub with 9 teeth meets two idlers of 20 at the same distance."""
    item = only_one("tip-interference", "-   teeth 16\n+   teeth 9\n")
    assert item.message.endswith("into the roots of `hub`; 1 other mesh is alike")
    assert set(item.parts) == {"east", "west", "hub"}
    others = [label for label in item.related if label.message.startswith("the same holds")]
    assert [label.message for label in others] == ["the same holds for `west` and `hub`"]
    assert others[0].span is not None and others[0].span.text == "west" and others[0].span != item.span


def test_pairs_that_differ_are_two_findings() -> None:
    """An idler of 22 reaches farther than one of 20."""
    edits = "-   teeth 16\n+   teeth 9\n- gear west, east\n+ gear west\n+   teeth 22\n+   turns_on pin\n+ gear east\n"
    assert len(of_rule("tip-interference", edits)) == 2


def test_bores_of_equal_gears() -> None:
    found = of_rule("narrower-than-cutter", "-   diameter 6 mm\n+   diameter 10 mm\n")
    (bores,) = [item for item in found if item.message.startswith("the bore")]
    assert "and 5 like it are narrower" in bores.message
    places = {label.span.text for label in bores.related if label.span is not None}
    assert places | {bores.span.text if bores.span is not None else ""} >= {"ne", "nw", "se", "sw"}


def test_rims_of_equal_gears() -> None:
    """Feet's gears of module 6 with 20 teeth: the roots are at 60 - 7.5 = 52.5; a bore of 82 mm leaves 11.5 where 12 are wanted."""
    edits = "- gear nw, sw, ne, se\n+ gear nw, sw, ne, se\n+   bore 82 mm\n"
    item = only_one("thin-gear-rim", edits)
    assert "is 11.5 mm; at least 12 mm is wanted; `nw`, `se` and `sw` too" in item.message
    assert set(item.parts) == {"nw", "sw", "ne", "se"}
