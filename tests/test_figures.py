"""Every figure that stands in the mechanism or in a check under a name, in one list: none of them changes without being seen.

The list holds no truth of its own. Published figures are held to their sources in `tests/oracles/`, what they decide in the tests of each rule.
"""

from __future__ import annotations

import ast
import pkgutil
import re
from collections.abc import Iterator
from importlib import import_module

from tests.conftest import Golden

PACKAGES = ("trivet.solve", "trivet.checks")


def _figures() -> Iterator[str]:
    for package in PACKAGES:
        for item in pkgutil.iter_modules(import_module(package).__path__):
            module = import_module(f"{package}.{item.name}")
            for name in _assigned(str(module.__file__)):
                value = getattr(module, name)
                if _has_number(value):
                    yield f"{package.removeprefix('trivet.')}/{item.name}.{name} = {_written(value)}"


def _assigned(path: str) -> list[str]:
    """Names in capitals that the module itself gives a value to."""
    with open(path, encoding="utf-8") as stream:
        body = ast.parse(stream.read()).body
    targets = [target for node in body if isinstance(node, ast.Assign) for target in node.targets]
    targets += [node.target for node in body if isinstance(node, ast.AnnAssign)]
    names = (item.id for target in targets for item in ast.walk(target) if isinstance(item, ast.Name))
    return sorted(name for name in names if re.fullmatch(r"_?[A-Z][A-Z0-9_]*", name))


def _has_number(value: object) -> bool:
    if isinstance(value, dict):
        return any(_has_number(item) for pair in value.items() for item in pair)
    if isinstance(value, tuple | frozenset):
        return any(_has_number(item) for item in value)
    return isinstance(value, int | float)


def _written(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.12g}"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_written(key)}: {_written(item)}" for key, item in value.items()) + "}"
    if isinstance(value, tuple):
        return "(" + ", ".join(_written(item) for item in value) + ")"
    return "{" + ", ".join(sorted(map(_written, value))) + "}" if isinstance(value, frozenset) else repr(value)


def test_no_figure_changes_unseen(golden: Golden) -> None:
    """A change here is a decision: read it, mend the page and the source that name the figure, then run with `--update`."""
    found = list(_figures())
    assert len(found) > 150
    golden("figures.txt", ("\n".join(found) + "\n").encode("utf-8"))
