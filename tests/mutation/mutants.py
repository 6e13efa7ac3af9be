"""Mutants of the mechanism and the checks: every place where a mutation operator applies, and the text with it applied."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("compiler/trivet/solve", "compiler/trivet/checks")

# Of the tool's operators those that a slip of the pen could make; exchanging `+` for `<<` would prove little.
OPERATORS = tuple(
    f"core/{name}"
    for name in (
        *(
            f"ReplaceBinaryOperator_{pair}"
            for pair in ("Add_Sub", "Sub_Add", "Mul_Div", "Div_Mul", "Pow_Mul", "Mod_Mul", "FloorDiv_Div")
        ),
        *(
            f"ReplaceComparisonOperator_{pair}"
            for pair in ("Lt_LtE", "LtE_Lt", "Gt_GtE", "GtE_Gt", "Lt_Gt", "Gt_Lt", "LtE_GtE", "GtE_LtE")
        ),
        *(f"ReplaceComparisonOperator_{pair}" for pair in ("Eq_NotEq", "NotEq_Eq", "Is_IsNot", "IsNot_Is")),
        *("NumberReplacer", "AddNot", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd"),
        *(
            "ReplaceUnaryOperator_Delete_USub",
            "ReplaceUnaryOperator_Delete_Not",
            "ReplaceContinueWithBreak",
            "ZeroIterationForLoop",
        ),
    )
)


@dataclass(frozen=True)
class Mutant:
    """One change of one file; `line` is 1-based, `occurrence` counts the operator's places in the file."""

    path: str
    operator: str
    occurrence: int
    line: int

    @property
    def name(self) -> str:
        """Short and unique."""
        return f"{self.path}:{self.line} {self.operator.removeprefix('core/')} {self.occurrence}"


def mutants(only: tuple[str, ...] = ()) -> list[Mutant]:
    """All of them in a fixed order; with `only`, those in files whose path has one of these parts."""
    found = []
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.py")):
            name = path.relative_to(ROOT).as_posix()
            if not only or any(part in name for part in only):
                found += _in_file(name)
    return found


def mutated(mutant: Mutant, text: str) -> str | None:
    """The file's text with the change; None where it makes none."""
    from cosmic_ray.mutating import mutate_code

    changed = mutate_code(text.encode("utf-8"), _operator(mutant.operator), mutant.occurrence)
    return None if changed is None else changed.decode("utf-8") if isinstance(changed, bytes) else changed


def changed_lines(text: str, changed: str) -> str:
    """The lines that differ: `old -> new`."""
    pairs = [(a.strip(), b.strip()) for a, b in zip(text.splitlines(), changed.splitlines(), strict=False) if a != b]
    return " / ".join(a for a, _ in pairs[:1]) + " -> " + " / ".join(b for _, b in pairs[:1])


def _in_file(name: str) -> list[Mutant]:
    from cosmic_ray.ast import ast_nodes, get_ast

    text = (ROOT / name).read_text("utf-8")
    lines, words = text.splitlines(), _words(text)
    tree = get_ast((ROOT / name).read_bytes())
    nodes = list(ast_nodes(tree))
    found = []
    for operator in OPERATORS:
        made = _operator(operator)
        count = 0
        for node in nodes:
            for (line, column), _ in made.mutation_positions(node):
                if not _is_words(lines[line - 1]) and not any(start <= (line, column) < end for start, end in words):
                    found.append(Mutant(name, operator, count, line))
                count += 1
    return sorted(found, key=lambda item: (item.line, item.operator, item.occurrence))


def _is_words(line: str) -> bool:
    """Imports for types, how much a cache holds, and lines that only put words together, are no part of what is proven."""
    stripped = line.strip()
    return stripped.startswith(("if TYPE_CHECKING", "from ", "import ", "@lru_cache", 'f"', '"'))


def _words(text: str) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """From and to, line and column, of all texts that are put together."""
    found = (node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.JoinedStr))
    return [((node.lineno, node.col_offset), (node.end_lineno or 0, node.end_col_offset or 0)) for node in found]


@cache
def _operator(name: str) -> Any:
    from cosmic_ray.plugins import get_operator

    return get_operator(name)()
