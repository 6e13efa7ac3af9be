"""The TextMate grammar cuts and colours every example as the lexer does."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.lsp.textmate import Grammar

from trivet.files import EDITOR_FILES, editor_files, library_names, library_text
from trivet.lower.vocabulary import FORMS
from trivet.lsp.lines import OTHERS
from trivet.source import SourceFile
from trivet.syntax.table import table
from trivet.syntax.tokens import Token, token_lines

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").rglob("*.trivet")) + sorted((ROOT / "grammar").glob("*.trivet"))
# kinds of the lexer: the scope that the grammar gives.
SCOPES = {
    "COMMENT": "comment.line.number-sign", "STRING": "string.quoted.double", "UNCLOSED_STRING": "invalid.illegal.unclosed",
    "STANDARD": "constant.other.standard", "GLUED_STANDARD": "invalid.illegal.glued", "DESIGNATION": "constant.other.designation",
    "NUMBER": "constant.numeric", "RULE_NAME": "constant.language.rule", "UNIT": "keyword.other.unit",
    "CONNECTIVE": "keyword.operator.word", "NAME": "variable.other", "WRONG_COMPARATOR": "invalid.illegal.comparator",
    "COMPARATOR": "keyword.operator.comparison", "LONG_RANGE": "invalid.illegal.range", "RANGE": "keyword.operator.range",
    "PLUS_MINUS": "keyword.operator.deviation", "PLUS": "keyword.operator.arithmetic", "MINUS": "keyword.operator.arithmetic",
    "NEGATIVE": "keyword.operator.arithmetic", "STAR": "keyword.operator.arithmetic", "SLASH": "keyword.operator.arithmetic",
    "OPEN": "punctuation.section.parens", "CLOSE": "punctuation.section.parens", "COMMA": "punctuation.separator.comma",
    "ERROR": "invalid.illegal.character",
}  # fmt: skip
SPACE = {"SPACE", "NEWLINE", "BYTE_MARK"}
# Marks and words that no example has, each a fault of its own or a rare form.
ODD = """\
\ufefffixture odd
  title "open
  size 1-1/8 in by -3/4 in, (1, 2) mm  # said # twice
  a ISO4762 and DIN-912 == 3 ... 4 .. 5 +/- 6 * 7 / 8 - 9 + name.of.2.thing
  thread M8x1.25-LH, 10-24, ST4.8, 5/16-18, M8x30
  x span - 2 in -2 -name (-3) "a"-b per  in, no#comment
  été 3 mm, Ø6 §
gear-on x
  few-teeth-here 2
accept few-teeth because "why # not"
  units 1 mm, 1 cm, 1 in, 1 thou, 1 deg, 1 percent, 1 N, 1 Nm, 1 kg, 1 per in, mmm, in.x
  words and around at above because below by from into is of on over per to under within with word, withs
#tag
  # fact comment
"""


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    return Grammar(json.loads(editor_files()["trivet.tmLanguage.json"]))


def wanted(tokens: tuple[Token, ...], start: int, indented: bool) -> list[tuple[int, int, str]]:
    """What the lexer says: the first word of a line is a heading or a fact, whatever its kind."""
    found = []
    first = True
    for token in tokens:
        if token.kind in SPACE:
            continue
        scope = SCOPES[token.kind]
        if first and token.kind in ("NAME", "CONNECTIVE", "UNIT"):
            scope = "support.type.property-name" if indented else "keyword.other.heading"
        first = False
        found.append((token.start - start, token.end - start, f"{scope}.trivet"))
    return found


def compare(grammar: Grammar, name: str, text: str) -> int:
    count = 0
    for line in token_lines(SourceFile(name, text)):
        written = "".join(token.text for token in line.tokens)
        found = [(item.start, len(written[: item.end].rstrip()) if "comment" in item.scope else item.end, item.scope)
                 for item in grammar.line(written)]  # fmt: skip
        assert found == wanted(line.tokens, line.start, line.indented), (name, written)
        count += len(found)
    return count


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_examples(grammar: Grammar, path: Path) -> None:
    assert compare(grammar, path.name, path.read_text(encoding="utf-8")) > 20


def test_library_tables(grammar: Grammar) -> None:
    assert sum(compare(grammar, name, library_text(name)) for name in library_names()) > 5_000


def test_what_no_example_has(grammar: Grammar) -> None:
    assert compare(grammar, "odd", ODD) > 80


def test_every_terminal_has_a_scope() -> None:
    assert set(table().pattern.groupindex) == set(SCOPES) | SPACE


def test_patterns_are_fit_for_the_usual_engine() -> None:
    """That engine knows neither `(?P<…>)` nor `\\u` escapes, and its `\\Z` is not Python's."""
    text = editor_files()["trivet.tmLanguage.json"]
    for rule in json.dumps(json.loads(text)["repository"]).split('"match": ')[1:]:
        assert "(?P" not in rule and "\\\\u" not in rule and "\\\\Z" not in rule, rule[:80]


def test_the_notes_name_every_request_that_they_should() -> None:
    notes = editor_files()["editor_setup.md"]
    assert set(EDITOR_FILES) == {"editor_setup.md", "trivet.tmLanguage.json"}
    for word in ("trivet serve", "*.trivet", "textDocument/hover", "source.trivet", "150 ms"):
        assert word in notes


def test_headings_are_known_to_the_server() -> None:
    assert {"gear", "mesh", "read", "table", "default"} <= set(FORMS) | set(OTHERS)
