"""The LALR automaton: shifts tokens, builds nodes, says where it could not go on."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from trivet.record import record
from trivet.syntax.table import Table

END_OF_LINE = "$END"


@record
class Stopped:
    """The item that could not follow those before it (the number of items: the line's end), and the kinds that could."""

    index: int
    accepted: frozenset[str]


def drive(
    table: Table, kinds: Sequence[str], values: Sequence[Any], builders: Mapping[str, Callable[[list[Any]], Any]]
) -> Any | Stopped:
    """Parse one line of tokens; `builders` make a node of the parts of a production.

    Each token is shifted once and each production reduced at most a bounded number of times for each, so the cost is linear.
    """
    states, productions = table.states, table.productions
    stack, built = [0], list[Any]()
    for index, kind in enumerate([*kinds, END_OF_LINE]):
        while True:
            if kind == END_OF_LINE and stack[-1] == table.end:
                return built[-1]
            number = states[stack[-1]].get(kind)
            if number is None:
                return Stopped(index, frozenset(name for name in states[stack[-1]] if name.isupper()))
            if number >= 0:
                stack.append(number)
                built.append(values[index])
                break
            name, left, length = productions[-1 - number]
            if name:
                parts = built[-length:]
                del built[-length:]
                built.append(builders[name](parts))
            del stack[-length:]
            stack.append(states[stack[-1]][left])
    raise AssertionError("a table always ends a line")
