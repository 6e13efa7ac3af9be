"""The parser's table as literals: what is generated from the grammar, and what the parser generator is turned into."""

from __future__ import annotations

from trivet.record import record

# ((terminal, pattern), ...) in the order they are tried.
Terminals = tuple[tuple[str, str], ...]
# (node to build or "", left-hand side, number of parts)
Production = tuple[str, str, int]
# For each state ((symbol, number), ...): a terminal's number is the next state, or -1 - i to reduce by production i;
# a nonterminal's number is the state to go to.
States = tuple[tuple[tuple[str, int], ...], ...]


@record
class PlainTable:
    """What is generated: literals only. `end` is the state in which the parse is complete; state 0 is the first."""

    terminals: Terminals
    productions: tuple[Production, ...]
    states: States
    end: int
