"""The lexer's pattern and the parser's table: read from the generated module, or built from the grammar where that is out of date."""

from __future__ import annotations

import re
from functools import cache

from trivet.record import record
from trivet.syntax.plain_table import PlainTable, Production


@record(eq=False)
class Table:
    """A plain table made ready for use: one pattern for all terminals, one dictionary for each state."""

    pattern: re.Pattern[str]
    productions: tuple[Production, ...]
    states: tuple[dict[str, int], ...]
    end: int


@cache
def table() -> Table:
    """The table of the grammar in use."""
    return ready(_plain())


def ready(plain: PlainTable) -> Table:
    """The table with its pattern compiled."""
    pattern = re.compile("|".join(f"(?P<{name}>{text})" for name, text in plain.terminals))
    return Table(pattern, plain.productions, tuple(map(dict, plain.states)), plain.end)


def _plain() -> PlainTable:
    from trivet.syntax.grammar_text import grammar_text

    grammar = grammar_text()
    found = generated(grammar)
    if found is None:
        from trivet.syntax.build_table import build_table

        found = build_table(grammar)
    return found


def generated(grammar: str) -> PlainTable | None:
    """The generated table if there is one and it was made from this very grammar, else None."""
    try:
        from trivet.syntax import _generated
    except ImportError:
        return None
    if getattr(_generated, "GRAMMAR", None) != fingerprint(grammar):
        return None
    return PlainTable(_generated.TERMINALS, _generated.PRODUCTIONS, _generated.STATES, _generated.END)


def fingerprint(grammar: str) -> str:
    """Length and CRC-32 of the grammar: it guards against a forgotten step, not against malice."""
    from zlib import crc32

    data = grammar.encode()
    return f"{len(data)}-{crc32(data):08x}"
