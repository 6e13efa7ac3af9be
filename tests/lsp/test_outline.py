"""Symbols, folds, colours and hints."""

from __future__ import annotations

from itertools import pairwise

from tests.lsp.marked import view_of
from tests.lsp.texts import RISER

from trivet.lsp.features.folding import folds
from trivet.lsp.features.hints import hints
from trivet.lsp.features.symbols import symbols
from trivet.lsp.features.tokens import TYPES, coloured


def test_symbols_are_blocks_with_their_facts() -> None:
    found = symbols(view_of(RISER))
    by_name = {symbol.name: symbol for symbol in found}
    assert {"outfeed_riser", "deck", "nw, sw, ne, se", "hub"} <= set(by_name)
    gear = next(symbol for symbol in found if symbol.name == "hub" and symbol.kind == "gear")
    assert [child.name for child in gear.children] == ["teeth", "at", "turned_by"] and gear.children[0].detail == "16"
    assert gear.span.text.endswith("turned_by crank") and gear.name_span.text == "gear hub"
    assert next(symbol for symbol in found if symbol.kind == "shop").name == "shop"


def test_a_broken_file_keeps_its_outline() -> None:
    found = symbols(view_of(RISER.replace("teeth 16", "teeth (16")))
    assert [child.name for symbol in found if symbol.name == "hub" for child in symbol.children] == ["at", "turned_by", "with", "with"]


def test_folds() -> None:
    text = "# one\n# two\nfixture a\n  title \"b\"\n\n  units mm\n\nsheet s\nboard b\n  layers (2\n  # within\n\n# alone\n"
    view = view_of(text)
    lines = [(text.count("\n", 0, fold.start), text.count("\n", 0, fold.end), fold.comment) for fold in folds(view)]
    assert lines == [(0, 1, True), (2, 5, False), (8, 10, False)]


def colours(text: str) -> list[tuple[str, str]]:
    view = view_of(text)
    return [(text[item.start : item.end], item.kind + ("!" if item.declares else "")) for item in coloured(view)]


def test_colours_say_what_a_word_means() -> None:
    found = colours('parameter play 0.5 mm  # said\ndrive crank\n  play play\n  nut tee_nut, above gear\naccept few-teeth because "x"\n')
    assert found == [
        ("parameter", "keyword"), ("play", "variable!"), ("0.5", "number"), ("mm", "type"), ("# said", "comment"),
        ("drive", "keyword"), ("crank", "variable!"), ("play", "property"), ("play", "variable"),
        ("nut", "property"), ("tee_nut", "enumMember"), ("above", "keyword"), ("gear", "enumMember"),
        ("accept", "keyword"), ("few-teeth", "macro"), ("because", "keyword"), ('"x"', "string"),
    ]  # fmt: skip


def test_every_colour_is_in_the_legend_and_colours_follow_each_other() -> None:
    found = coloured(view_of(RISER + "board broken (\n"))
    assert {item.kind for item in found} <= set(TYPES)
    assert all(one.end <= two.start for one, two in pairwise(found))


def hinted(text: str, good: str | None = None) -> dict[str, str]:
    view = view_of(text, good)
    return {text[text.rfind("\n", 0, hint.offset) + 1 : hint.offset].strip(): hint.text for hint in hints(view, 0, len(text))}


def test_hints() -> None:
    """16 and 20 teeth at module 6: 108 mm apart; two of 20: 120 mm; M8 at 16 to 20 teeth: 1.25 · 0.8 = 1 mm a turn."""
    found = hinted(RISER)
    assert found["with west at 180 deg"] == "108 mm apart" and found["with nw at 118 deg"] == "120 mm apart"
    assert found["drive crank"] == "lifts 1 mm per turn" and found["require lift_per_turn within 0.9..1.1 mm"] == "is 1 mm"
    assert found["bolt ISO 4762, head recessed 9 mm"].startswith("30 mm, cut to ")
    assert "screw ISO 4017, length 30 mm, pocket 5.8 mm" not in found, "a length that is stated is no news"
    assert found["require travel >= 8 mm"].startswith("is ") and " to " in found["require height covers 40..47 mm"]


def test_hints_of_a_broken_file_are_those_of_the_last_good_text() -> None:
    broken = "# new\n" + RISER.replace("teeth 16", "teeth (16")
    assert hinted(broken, RISER)["with west at 180 deg"] == "108 mm apart"
    assert hinted(broken) == {}


def test_hints_in_a_part_of_the_file() -> None:
    start = RISER.index("mesh hub")
    assert [hint.text for hint in hints(view_of(RISER), start, start + 40)] == ["108 mm apart", "108 mm apart"]
