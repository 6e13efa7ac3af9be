"""The text of `_generated.py`, which spares every run the parser generator.

`python -m trivet.syntax.generate` prints it. A generated module that does not fit the grammar is not used: see `table.py`.
"""

from __future__ import annotations

import sys
from json import dumps
from textwrap import wrap

from trivet.syntax.build_table import build_table
from trivet.syntax.grammar_text import grammar_text
from trivet.syntax.table import fingerprint

_WIDTH = 116


def generated_source(grammar: str) -> str:
    """A module with the table of `grammar` as literals, every line within 120 characters."""
    plain = build_table(grammar)
    lines = [
        '"""The lexer and parser table, made from grammar/trivet.lark by `python -m trivet.syntax.generate`: not for editing."""',
        "",
        f"GRAMMAR = {_literal(fingerprint(grammar))}",
        "TERMINALS: tuple[tuple[str, str], ...] = (",
    ]
    for name, pattern in plain.terminals:
        pieces = [pattern[start : start + 80] for start in range(0, len(pattern), 80)]
        literals = [_literal(piece) for piece in pieces]
        if len(literals) == 1:
            lines.append(f"    ({_literal(name)}, {literals[0]}),")
        else:
            lines += ["    (", f"        {_literal(name)},", *(f"        {literal}" for literal in literals), "    ),"]
    lines += [")", "PRODUCTIONS: tuple[tuple[str, str, int], ...] = ("]
    lines += _wrapped(" ".join(f"({_literal(left)}, {_literal(right)}, {size})," for left, right, size in plain.productions))
    lines += [")", "STATES: tuple[tuple[tuple[str, int], ...], ...] = ("]
    for state in plain.states:
        lines += _wrapped("(" + " ".join(f"({_literal(symbol)}, {number})," for symbol, number in state) + "),")
    lines += [")", f"END = {plain.end}", ""]
    return "\n".join(lines)


def _wrapped(text: str) -> list[str]:
    return [f"    {line}" for line in wrap(text, _WIDTH, break_on_hyphens=False)]


def _literal(text: str) -> str:
    """A double-quoted ASCII literal; what JSON escapes in the basic plane, Python reads alike."""
    return dumps(text)


if __name__ == "__main__":
    sys.stdout.write(generated_source(grammar_text()))
