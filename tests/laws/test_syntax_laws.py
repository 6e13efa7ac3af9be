"""Laws of the syntax and the formatter: no text raises, nothing is lost, the cost is linear."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.case_files import file_of, read_cases

from trivet.fmt.format import format_text
from trivet.syntax.driver import END_OF_LINE
from trivet.syntax.parse import parse
from trivet.syntax.tokens import tokenize

SAMPLE = "\n".join(case.text for case in read_cases(Path(__file__).parents[1] / "cases" / "mistakes.txt"))
PIECES = [
    "board", "deck.width", " ", "  ", "\n", "\n  ", "\r\n", "\t", "3", "1/2", "1-1/8", "mm", "in", "per in", "M8", "10-24", "ISO 4762",
    "gear-on-thread", '"', '"a # b"', "#", " # note", "(", ")", ",", ", ", "..", "...", "+/-", " +/- ", "-", " - ", "+", "*", "/", ">=",
    "=", "=<", "by", "°", "½", "×", "\u202e", "\ufeff", "\x00", "é", "1e9", "x", "'", ";", "{", ".", "µm",
]  # fmt: skip
TEXTS = st.one_of(
    st.text(max_size=80),
    st.lists(st.sampled_from(PIECES), max_size=30).map("".join),
    st.tuples(st.integers(0, len(SAMPLE)), st.integers(0, 5), st.sampled_from(PIECES)).map(
        lambda change: SAMPLE[: change[0]] + change[2] + SAMPLE[change[0] + change[1] :]
    ),
)
BOUNDED = settings(max_examples=150, deadline=None, derandomize=True, database=None)


@BOUNDED
@given(TEXTS)
def test_no_text_raises_and_each_line_has_at_most_one_message(text: str) -> None:
    _, found = parse(file_of(text))
    lines = [text.count("\n", 0, item.span.start) for item in found if item.span is not None]
    assert len(lines) == len(found) == len(set(lines))


@BOUNDED
@given(TEXTS)
def test_a_corrected_line_has_no_fault(text: str) -> None:
    for item in parse(file_of(text))[1]:
        if item.remedy.startswith("write `") and item.edits:
            assert not parse(file_of(item.remedy[len("write `") : -1]))[1]


@BOUNDED
@given(TEXTS)
def test_tokens_joined_are_the_text(text: str) -> None:
    assert "".join(token.text for token in tokenize(file_of(text))) == text


@BOUNDED
@given(TEXTS)
def test_formatting_changes_space_only_and_settles(text: str) -> None:
    once = format_text(file_of(text))
    assert "".join(once.split()) == "".join(text.split())
    assert format_text(file_of(once)) == once
    before, after = parse(file_of(text)), parse(file_of(once))
    assert [item.rule for item in before[1]] == [item.rule for item in after[1]]


def test_twice_the_lines_are_at_most_2_3_times_the_steps() -> None:
    from trivet.syntax import parse as module

    def steps(text: str) -> int:
        counted = [0]
        plain = module.drive

        def counting(table, kinds, values, builders):
            def wrap(build):
                def step(parts):
                    counted[0] += 1
                    return build(parts)

                return step

            counted[0] += len([*kinds, END_OF_LINE])
            return plain(table, kinds, values, {name: wrap(build) for name, build in builders.items()})

        module.drive = counting
        try:
            parse(file_of(text))
        finally:
            module.drive = plain
        return counted[0]

    block = "board deck\n  outline rectangle 480 by 350 mm, corner_radius (a + 2) * 3 mm\n"
    once = steps(block * 100)
    assert 0 < steps(block * 200) <= 2.3 * once
