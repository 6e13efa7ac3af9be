"""Lines, nodes and the messages about broken lines."""

from __future__ import annotations

import time
from fractions import Fraction
from pathlib import Path

import pytest
from tests.case_files import Case, file_of, read_cases, run_case

from trivet.diagnostics import Diagnostic
from trivet.syntax.build_table import build_table
from trivet.syntax.grammar_text import grammar_text
from trivet.syntax.nodes import Bracket, Document, Item, Number, PlusMinus, Product, Range, Sum
from trivet.syntax.parse import parse
from trivet.syntax.rules import RULES
from trivet.syntax.table import generated
from trivet.syntax.tokens import tokenize

CASES = [case for name in ("mistakes",) for case in read_cases(Path(__file__).parent / "cases" / f"{name}.txt")]


def check(text: str) -> tuple[Diagnostic, ...]:
    return parse(file_of(text))[1]


def items(line: str) -> tuple[Item, ...]:
    """The items of the first phrase of a fact that parses."""
    document, found = parse(file_of(f"board deck\n  {line}\n"))
    assert not found, found
    return document.blocks[0].facts[0].phrases[0].items


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_cases(case: Case) -> None:
    run_case(case, check)


def test_numbers_are_exact() -> None:
    values = {"17.8": Fraction(89, 5), "5/16": Fraction(5, 16), "-1-1/8": Fraction(-9, 8), "-5": Fraction(-5)}
    for text, value in values.items():
        (number,) = items(f"a {text} mm")
        assert isinstance(number, Number) and number.value == value and number.unit is not None
        assert (number.digits.text, number.span.text) == (text, f"{text} mm")


def test_products_bind_before_sums_and_sums_before_ranges() -> None:
    (item,) = items("a b + 2 * c..4 - d")
    assert isinstance(item, Range) and isinstance(item.low, Sum) and isinstance(item.high, Sum)
    assert isinstance(item.low.rest[0][1], Product)


def test_sums_are_read_from_the_left() -> None:
    (item,) = items("a 9 - 3 - 2")
    assert isinstance(item, Sum)
    assert [(operator.text, part.span.text) for operator, part in item.rest] == [("-", "3"), ("-", "2")]


def test_one_word_is_one_kind_of_item() -> None:
    kinds = {
        "M8": "Designation", "M8x1.25": "Designation", "M10x1-LH": "Designation", "ST4.8": "Designation",
        "5/16-18": "Designation", "1/4-20-LH": "Designation", "10-24": "Designation", "1-1/8-7": "Designation",
        "no_8": "Name", "dog.2.1": "Name", "1-1/8 in": "Number", "ISO 7093-1": "Standard", "ASME B18.2.1": "Standard",
        "gear-on-thread": "RuleName", "by": "Connective", "mm": "UnitWord", ">=": "Comparator", '"a # b"': "Text",
        "+/- 0.15 mm": "PlusMinus", "(120, 80) mm": "Bracket", "--5": "Negative", "5 per in": "Number",
    }  # fmt: skip
    for text, kind in kinds.items():
        (item,) = items(f"a {text}")
        assert (type(item).__name__, item.span.text) == (kind, text)


def test_a_bracket_carries_its_unit_and_a_deviation_its_middle() -> None:
    bracket, deviation = items("a (deck.width / 2, 8 in) 17.8 +/- 0.2 mm")
    assert isinstance(bracket, Bracket) and len(bracket.members) == 2 and bracket.unit is None
    assert isinstance(deviation, PlusMinus) and deviation.middle is not None


def blocks(text: str) -> Document:
    return parse(file_of(text))[0]


def test_good_lines_of_a_broken_block_are_kept() -> None:
    document = blocks("board deck\n  a 3mm\n  b 4 mm\ngear {\n  c 1\ngear hub\n")
    assert [block.broken for block in document.blocks] == [True, False] and document.broken_headings == 1
    assert [fact.word.text for fact in document.blocks[0].facts] == ["b"]


def test_an_unclosed_bracket_names_where_it_opens() -> None:
    (found,) = check("board deck\n  at (120, 80 mm\n")
    assert found.related[0].span is not None and found.related[0].span.text == "("


@pytest.mark.parametrize("sign", ["\x00", "\u202e", "\u200b", "\ufeff", "\r", "\u2066"])
@pytest.mark.parametrize("line", ["  a b{}c", '  a "b{}c"', "  a 3 mm # b{}c{}", "# b{}c"])
def test_hidden_characters_are_refused_once_per_line(sign: str, line: str) -> None:
    found = check("board deck\n" + line.replace("{}", sign) + "\n")
    assert [(item.rule, item.span and item.span.text) for item in found] == [("hidden-character", sign)]
    assert f"U+{ord(sign):04X}" in found[0].message


def test_a_byte_order_mark_and_cr_lf_are_accepted() -> None:
    document, found = parse(file_of("\ufeff# note\r\nboard deck\r\n\tthickness 3 mm\r\n"))
    assert not found and len(document.blocks[0].facts) == 1


@pytest.mark.parametrize("text", ["x " + "(" * 51, "x " + "-" * 52 + "a", "a" * 101, "x " + "1" * 41, "x" + " 1," * 5000 + " 1"])
def test_limits(text: str) -> None:
    assert [item.rule for item in check(text)] == ["limit-exceeded"]


def test_just_below_the_limits() -> None:
    deep = "x " + "(" * 50 + "1" + ")" * 50
    assert not check("\n".join([deep, "x " + "-" * 50 + "a", "a" * 100, "x " + "1" * 40, "x" + " a" * 4999]))


@pytest.mark.parametrize("sign", ["a", "1", "(", "\n", "-", '"', "$", ".", "a.", "ISO ", "a-"])
def test_a_million_characters_are_answered(sign: str) -> None:
    start = time.perf_counter()
    check(sign * (1_000_000 // len(sign)))
    # A guard against quadratic cost, which would take minutes; not a benchmark.
    assert time.perf_counter() - start < 20


def test_a_larger_file_is_refused() -> None:
    assert [item.rule for item in check("a" * 1_000_001)] == ["file-too-large"]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_rule_examples(rule) -> None:
    if rule.failing:
        assert [item.rule for item in check(rule.failing)] == [rule.slug]
    assert not check(rule.passing)


def test_the_generated_table_is_that_of_the_grammar() -> None:
    assert generated(grammar_text()) == build_table(grammar_text())


def test_a_changed_grammar_does_not_use_the_generated_table() -> None:
    assert generated(grammar_text() + "\n") is None


def test_tokens_are_those_of_the_parser_generators_own_lexer() -> None:
    from lark import Lark

    text = "".join(case.text for case in CASES) + "\nx ISO 4762 M8x1.25-LH 1-1/8-7 a.b.2 (3, -4) mm # end"
    lark = Lark(grammar_text(), parser="lalr", lexer="basic", start="start")
    theirs = [(token.type, str(token)) for token in lark.lex(text, dont_ignore=True)]
    assert theirs == [(token.kind, token.text) for token in tokenize(file_of(text))]
