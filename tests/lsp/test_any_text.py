"""No feature raises on any text, at any place, whatever was known before; and none changes what it looks at."""

from __future__ import annotations

from random import Random

import pytest
from tests.lsp.marked import view_of
from tests.lsp.random_edits import edits
from tests.lsp.texts import EXAMPLES, RISER

from trivet.lsp.features.completion import completion
from trivet.lsp.features.definition import definition, references
from trivet.lsp.features.folding import folds
from trivet.lsp.features.formatting import formatted, line_ended
from trivet.lsp.features.hints import hints
from trivet.lsp.features.hover import hover
from trivet.lsp.features.rename import CannotRename, rename
from trivet.lsp.features.signature import signatures
from trivet.lsp.features.symbols import symbols
from trivet.lsp.features.tokens import coloured
from trivet.lsp.view import View
from trivet.source import SourceFile
from trivet.syntax.parse import parse

STRANGE = (
    "", "\n", "\r", "\ufeff", "  ", "#", '"', "(", "  (", "gear", "gear ,", "mesh", "  with", "table is", "default", "read", "accept x on .",
    "require", "parameter", "ISO", "fixture a\n  \n", "a" * 200, "  x " + "(" * 60, "gear a,, b\n  teeth\n\n  at (", "drive d\n  bolt ISO 4762 M8,",
    "table t is insert\n  columns\n  row ,", "\tgear a", "gear é\n  teeth ½", "gear a.b\n  carries c.d.e", "x" + " y" * 100,
)  # fmt: skip


def everything(view: View, offset: int) -> None:
    """Every feature at a place."""
    text = view.text
    for choice in completion(view, offset):
        assert 0 <= choice.start <= choice.end <= len(text)
    for signature in signatures(view, offset):
        assert all(0 <= start <= end <= len(signature.label) for start, end in signature.parameters) and signature.label.isascii()
    found = hover(view, offset)
    assert found is None or (0 <= found.start <= found.end <= len(text) and found.text)
    definition(view, offset)
    references(view, offset)
    try:
        rename(view, offset, "brand_new")
    except CannotRename as error:
        assert "no declared name" in str(error)
    line_ended(view, offset)


def whole(view: View) -> None:
    """Every feature of a file."""
    assert all(symbol.name for symbol in symbols(view)), "an outline's names are never empty: the protocol wants that"
    folds(view)
    colours = coloured(view)
    assert all(item.start < item.end and "\n" not in view.text[item.start : item.end] for item in colours)
    hints(view, 0, len(view.text))
    formatted(view)


@pytest.mark.parametrize("name", ["outfeed_riser", "inch_table"])
def test_edited_examples(name: str) -> None:
    text = (EXAMPLES / f"{name}.trivet").read_text(encoding="utf-8")
    known = view_of(text).known
    random = Random(name)
    for edited in edits(text, seed=11, count=12):
        document = parse(SourceFile("main.trivet", edited))[0]
        view = View(document, (document,), None, known)
        whole(view)
        for _ in range(12):
            everything(view, random.randint(0, len(edited)))
        assert view.text == edited


@pytest.mark.parametrize("text", STRANGE, ids=lambda text: repr(text[:20]))
def test_strange_texts(text: str) -> None:
    known = view_of(RISER).known if "gear" in text else None
    for plan in (text, text + "\n", f"fixture a\n{text}\n{text}"):
        document = parse(SourceFile("main.trivet", plan))[0]
        view = View(document, (document,), None, known)
        whole(view)
        for offset in range(0, len(plan) + 1, 1 if len(plan) < 80 else 17):
            everything(view, offset)
