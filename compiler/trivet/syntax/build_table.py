"""From the grammar to a plain table: the one place that needs the parser generator."""

from __future__ import annotations

from typing import Any

from trivet.syntax.plain_table import PlainTable, Production


def build_table(grammar: str) -> PlainTable:
    """The lexer's terminals and the LALR(1) table of a grammar, the same for every run and hash seed.

    States are numbered in the order a breadth-first walk over sorted symbols meets them. Raises the generator's own error when
    the grammar is wrong or ambiguous.
    """
    from lark import Lark
    from lark.parsers.lalr_analysis import Shift

    lark = Lark(grammar, parser="lalr", lexer="basic", start="start", keep_all_tokens=True, maybe_placeholders=False)
    found: Any = lark.parser.parser
    parse_table = found._parse_table
    first, end = parse_table.start_states["start"], parse_table.end_states["start"]
    productions = sorted({_production(rule) for rule in lark.rules})
    order = {production: number for number, production in enumerate(productions)}
    numbers = {first: 0}
    queue = [first]
    states: list[tuple[tuple[str, int], ...]] = []
    while len(states) < len(queue):
        row: list[tuple[str, int]] = []
        for symbol, (action, argument) in sorted(parse_table.states[queue[len(states)]].items()):
            if action is Shift:
                if argument not in numbers:
                    numbers[argument] = len(numbers)
                    queue.append(argument)
                row.append((str(symbol), numbers[argument]))
            else:
                row.append((str(symbol), -1 - order[_production(argument)]))
        states.append(tuple(row))
    terminals = sorted((item for item in lark.terminals), key=lambda item: -item.priority)
    return PlainTable(
        tuple((item.name, item.pattern.to_regexp()) for item in terminals if item.name != "LONE_UNIT"),
        tuple(productions),
        tuple(states),
        numbers[end],
    )


def _production(rule: Any) -> Production:
    """The node to build, the left-hand side and the number of parts; productions that agree in all three act alike."""
    assert rule.alias or len(rule.expansion) == 1, rule
    return rule.alias or "", str(rule.origin.name), len(rule.expansion)
