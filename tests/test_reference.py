"""The reference page is held to the language: its code is checked by the pipeline, its lists of facts are those of lowering."""

from __future__ import annotations

import re

import pytest
from tests.reference_page import PAGE, ROOT, Item, Snippet, sections, snippets

from trivet.files import MemoryFiles
from trivet.fmt.format import format_text
from trivet.lower.forms import BlockForm, FactForm, shown
from trivet.lower.vocabulary import FORMS, OTHER_HEADINGS
from trivet.pipeline import check
from trivet.source import SourceFile

SNIPPETS = snippets()
SHOP = "shared/shop.trivet"


def _errors(text: str, snippet: Snippet) -> list[str]:
    name = "reference.trivet"
    files = {SHOP: (ROOT / "examples" / SHOP).read_text("utf-8"), **snippet.files, name: text}
    found = check(SourceFile(name, text), MemoryFiles(files)).findings
    return [f"{item.message} [{item.rule}]" for item in found if item.severity == "error" and not item.accepted]


@pytest.mark.parametrize("snippet", SNIPPETS, ids=lambda item: f"line {item.line}")
def test_code_of_the_page(snippet: Snippet) -> None:
    """Right code has no error, and each wrong line has one."""
    for text in snippet.sources():
        errors = _errors(text, snippet)
        assert bool(errors) == snippet.wrong, (snippet.line, snippet.text, errors)


@pytest.mark.parametrize("snippet", [s for s in SNIPPETS if not s.wrong], ids=lambda item: f"line {item.line}")
def test_code_is_spaced_as_format_spaces_it(snippet: Snippet) -> None:
    """Blocks may stand close together on the page, but within a line the spaces are those of `trivet format`."""
    lead = "gear x\n" if snippet.heading else ""
    formatted = format_text(SourceFile("page.trivet", lead + snippet.text)).removeprefix(lead)
    assert [line for line in formatted.splitlines() if line] == [line for line in snippet.text.splitlines() if line]


def test_a_page_has_right_and_wrong_code() -> None:
    assert sum(snippet.wrong for snippet in SNIPPETS) >= 10
    assert sum(not snippet.wrong for snippet in SNIPPETS) >= 30


def _forms(word: str, patterns: tuple[str, ...]) -> set[str]:
    return {f"{word} {shown(pattern)}".strip() for pattern in patterns}


def _listed(form: BlockForm) -> dict[str, FactForm]:
    """The facts of a kind; a kind without facts lists its heading."""
    return {fact.word: fact for fact in form.facts} or {form.kind: FactForm(form.kind, form.heads, form.details)}


def _split(item: Item, facts: dict[str, FactForm]) -> list[tuple[str, set[str], set[str]]]:
    """The facts of one entry: codes that are details of the fact before, or further facts described together."""
    found: list[tuple[str, set[str], set[str]]] = []
    for code in (*item.heads, *item.details):
        word = code.split()[0]
        before = facts[found[-1][0]] if found else None
        if before is not None and code in _forms("", before.details):
            found[-1][2].add(code)
        elif found and found[-1][0] == word:
            found[-1][1].add(code)
        else:
            assert word in facts, f"line {item.line}: `{code}` is no fact, and no detail of `{found[-1][0] if found else ''}`"
            found.append((word, {code}, set()))
    return found


@pytest.mark.parametrize("kind", sorted(FORMS))
def test_facts_under_their_heading(kind: str) -> None:
    """Exactly the forms and details that lowering takes are listed: none is missing, none is made up."""
    facts = _listed(FORMS[kind])
    listed = sections()
    assert kind in listed, f"no section `{kind}`"
    heads: dict[str, set[str]] = {}
    details: dict[str, set[str]] = {}
    for item in listed[kind][1]:
        for word, its_heads, its_details in _split(item, facts):
            # A kind without facts lists each form of its heading in an entry of its own.
            assert word not in heads or not FORMS[kind].facts, f"line {item.line}: `{word}` is listed twice"
            heads.setdefault(word, set()).update(its_heads)
            details.setdefault(word, set()).update(its_details)
    assert heads == {word: _forms(word, fact.heads) for word, fact in facts.items()}
    assert details == {word: _forms("", fact.details) for word, fact in facts.items()}


def test_no_section_of_an_unknown_heading() -> None:
    known = {*FORMS, *OTHER_HEADINGS, "like"}
    titles = re.findall(r"^### `(.+)`$", PAGE.read_text("utf-8"), re.MULTILINE)
    assert sorted(titles) == sorted(known)


@pytest.mark.parametrize("terminal", ["CONNECTIVE", "UNIT"])
def test_words_of_the_grammar(terminal: str) -> None:
    """Every connecting word and unit of the grammar stands on the page in backticks."""
    grammar = (ROOT / "grammar" / "trivet.lark").read_text("utf-8")
    match = re.search(rf"^{terminal}\.\d+: /\(\?:(.+?)\)\(\?!", grammar, re.MULTILINE)
    assert match is not None
    words = [word.replace(" +", " ") for word in match[1].split("|")]
    assert len(words) >= 10
    page = PAGE.read_text("utf-8")
    assert [word for word in words if f"`{word}`" not in page] == []


def test_commands_of_the_page() -> None:
    """The commands in short are those of the program."""
    from trivet.cli import whole_parser

    shown_commands = set(re.findall(r"^\| `trivet (\w+)[ `]", PAGE.read_text("utf-8"), re.MULTILINE))
    actions = [action for action in whole_parser()._actions if action.dest == "command"]
    assert shown_commands == set(actions[0].choices or ())
