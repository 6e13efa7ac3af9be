"""Lines at another place: the same nodes with every span shifted, many times cheaper than reading the line again."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from trivet.source import SourceFile, Span
from trivet.syntax.nodes import Line

# What is done with the attributes of a node, by the kind of each.
Plan = tuple[tuple[tuple[Callable[[Any], Any], Callable[[Any, Any], None]], ...], ...]

_FILE: Any = Span.file
_START: Any = Span.start
_END: Any = Span.end
_PLAIN = frozenset({"str", "Fraction", "bool", "int"})


def moved(line: Line, file: SourceFile, by: int) -> Line:
    """The line with its spans in `file`, `by` code points further on; the text there must be the same."""
    make = object.__new__
    get_start, get_end = _START.__get__, _END.__get__
    put_file, put_start, put_end = _FILE.__set__, _START.__set__, _END.__set__

    def copy(node: Any) -> Any:
        kind: Any = type(node)
        if kind is tuple:
            # Phrases hold tuples of items, sums tuples of pairs.
            return tuple([copy(part) for part in node])
        plain, spans, others = _plan(kind)
        made = make(kind)
        for get, put in plain:
            put(made, get(node))
        for get, put in spans:
            old, new = get(node), make(Span)
            put_file(new, file)
            put_start(new, get_start(old) + by)
            put_end(new, get_end(old) + by)
            put(made, new)
        for get, put in others:
            value = get(node)
            put(made, None if value is None else copy(value))
        return made

    result: Line = copy(line)
    return result


@cache
def _plan(kind: Any) -> Plan:
    plain: list[Any] = []
    spans: list[Any] = []
    others: list[Any] = []
    for attribute, annotation in kind.__annotations__.items():
        slot = getattr(kind, attribute)
        pair = (slot.__get__, slot.__set__)
        (plain if annotation in _PLAIN else spans if annotation == "Span" else others).append(pair)
    return tuple(plain), tuple(spans), tuple(others)
