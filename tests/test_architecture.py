"""The house: layers, homes of packages, file lengths, docstrings, banned calls, modules that no one reaches."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[1] / "compiler" / "trivet"
TESTS = Path(__file__).resolve().parent

LAYERS: dict[str, int] = {
    "source": 0, "units": 0, "suggest": 0, "record": 0,
    "diagnostics": 1,
    "syntax": 2,
    "fmt": 3,
    "model": 4,
    "catalog": 5, "catalog_rows": 5, "catalog_keys": 5, "catalog_lengths": 5, "catalog_data": 5,
    "lower": 6,
    "solve": 7,
    "checks": 8,
    "drawing": 9, "tables": 9,
    "emit": 10,
    "report": 11,
    "files": 12, "output_folder": 12, "folder_lock": 12, "git_files": 12, "project_file": 12, "walk": 12, "watching": 12,
    "inputs": 13, "pipeline": 13, "outputs": 13, "products": 13, "compare": 13, "project": 5, "baseline": 13, "changed": 13, "rules": 13, "generate": 13,
    "over": 13, "over_ranges": 13, "substitutes": 13,
    "card": 13, "card_cells": 13, "card_rules": 13, "zip_folder": 12,
    "commands": 14, "arguments": 14, "lsp": 14, "cli": 14, "__main__": 14,
}  # fmt: skip

# Packages of others and where they may be imported.
HOMES: dict[str, tuple[str, ...]] = {
    "lark": ("syntax/",),
    "pydantic": ("model/", "catalog.py", "lower/invalid.py", "lower/context.py"),
    "shapely": ("solve/",),
    "numpy": ("solve/",),
    "svgwrite": ("emit/svg.py",),
    "ezdxf": ("emit/dxf.py",),
    "jinja2": ("emit/html.py",),
    "markupsafe": ("emit/html.py",),
    "pygls": ("lsp/server.py",),
    "lsprotocol": ("lsp/server.py", "lsp/handlers.py", "lsp/protocol.py"),
    "argparse": ("cli.py", "arguments/"),
    "reportlab": ("emit/pdf.py",),
    "watchfiles": ("watching.py",),
    "shtab": ("arguments/completion.py",),
    "argparse_manpage": ("arguments/manual.py",),
    "spyrrow": ("solve/nest_thorough.py",),
}
# Slow to import: only inside the function that needs them.
LATE = {"reportlab", "watchfiles", "spyrrow", "jinja2", "markupsafe", "shapely", "numpy", "ezdxf", "svgwrite", "lark"}
# Stricter than the order of layers.
FORBIDDEN: dict[str, tuple[str, ...]] = {
    "fmt": ("syntax.parse",),
    "checks": ("syntax",),
    "drawing": ("syntax",),
    "emit": ("model", "solve", "lower"),
    "lsp": ("cli", "commands", "arguments"),
    "report": ("syntax", "model", "lower", "solve", "checks", "drawing", "tables", "emit"),
}
# Doors to disk, the clock and the environment. `syntax/grammar_text.py` reads the grammar that ships with the package.
DOORS = {
    "files.py", "output_folder.py", "zip_folder.py", "folder_lock.py", "git_files.py",
    "project_file.py", "walk.py", "watching.py", "syntax/grammar_text.py", "syntax/generate.py", "emit/page_text.py",
}
BANNED = {"open", "input", "exec", "eval", "print"}
BANNED_MODULES = {
    "os",
    "sys",
    "time",
    "datetime",
    "random",
    "pathlib",
    "shutil",
    "subprocess",
    "socket",
    "tempfile",
    "locale",
    "importlib.resources",
}
MAY_USE_SYSTEM = ("arguments/", "changed.py", "baseline.py", "commands/", "cli.py", "__main__.py")


def modules() -> list[Path]:
    return sorted(path for path in SOURCE.rglob("*.py") if path.name != "_generated.py")


def name_of(path: Path) -> str:
    return path.relative_to(SOURCE).as_posix()


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imports(path: Path) -> Iterator[tuple[str, bool]]:
    """Imported modules, and whether at the top of the file (typing-only imports count as top: a type needed lower belongs lower)."""
    module = tree(path)
    top = set()
    for node in module.body:
        top.update(id(child) for child in ast.walk(node) if not isinstance(node, (ast.FunctionDef, ast.ClassDef)))
    for node in ast.walk(module):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, id(node) in top
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module, id(node) in top
            if node.module.split(".")[0] == "trivet":
                for alias in node.names:
                    yield f"{node.module}.{alias.name}", id(node) in top


def layer_of(dotted: str) -> int | None:
    parts = dotted.split(".")
    return LAYERS.get(parts[1]) if parts[0] == "trivet" and len(parts) > 1 else None


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_imports_point_down(path: Path) -> None:
    own = name_of(path).split("/")[0].removesuffix(".py")
    if own == "__init__":
        return
    for dotted, _ in imports(path):
        layer = layer_of(dotted)
        if layer is None:
            continue
        there = dotted.split(".")[1]
        assert layer <= LAYERS[own], f"{name_of(path)} imports {dotted} from a higher layer"
        folders = {"drawing", "tables"}
        assert not (own in folders and there in folders and own != there), f"{name_of(path)} imports across folders of one layer"
        for forbidden in FORBIDDEN.get(own, ()):
            assert not (dotted + ".").startswith(f"trivet.{forbidden}."), f"{name_of(path)} imports {dotted}"


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_packages_stay_at_home(path: Path) -> None:
    name = name_of(path)
    for dotted, at_top in imports(path):
        package = dotted.split(".")[0]
        if package in HOMES:
            assert name.startswith(HOMES[package]), f"{name} imports {package}"
        if package in LATE:
            assert not at_top or _typing_only(path, dotted), f"{name} imports {package} at its top"


def _typing_only(path: Path, dotted: str) -> bool:
    for node in tree(path).body:
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            for child in ast.walk(node):
                if isinstance(child, ast.ImportFrom) and child.module == dotted:
                    return True
                if isinstance(child, ast.Import) and any(alias.name == dotted for alias in child.names):
                    return True
    return False


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_phases_touch_neither_disk_nor_clock(path: Path) -> None:
    name = name_of(path)
    if name in DOORS:
        return
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            banned = BANNED - ({"print"} if name.startswith(MAY_USE_SYSTEM) else set())
            assert node.func.id not in banned, f"{name} calls {node.func.id}"
    if not name.startswith(MAY_USE_SYSTEM):
        for dotted, _ in imports(path):
            assert dotted not in BANNED_MODULES, f"{name} imports {dotted}"


@pytest.mark.parametrize("path", [*modules(), *sorted(TESTS.rglob("*.py"))], ids=lambda path: path.name)
def test_files_are_short(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines <= 300, f"{path.name} has {lines} lines; split it"


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_docstrings(path: Path) -> None:
    module = tree(path)
    if not module.body:
        return
    assert ast.get_docstring(module), f"{name_of(path)} has no docstring"
    for node in module.body:
        overloaded = isinstance(node, ast.FunctionDef) and any(ast.unparse(item) == "overload" for item in node.decorator_list)
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and not node.name.startswith("_") and not overloaded:
            assert ast.get_docstring(node), f"{name_of(path)}: {node.name} has no docstring"


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_no_globals_that_change(path: Path) -> None:
    for node in ast.walk(tree(path)):
        assert not isinstance(node, ast.Global), f"{name_of(path)} changes a module's global"


def test_lines_and_columns_stay_in_the_reports() -> None:
    """No field called line or column below the reports, except in `source.py`; a `line` that is a record of syntax is no number."""
    for path in modules():
        name = name_of(path)
        if name == "source.py" or LAYERS.get(name.split("/")[0].removesuffix(".py"), 0) >= LAYERS["report"]:
            continue
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and ast.unparse(node.annotation) == "int":
                assert node.target.id not in ("line", "column", "lineno"), f"{name} keeps a {node.target.id}"


def test_every_module_is_reached() -> None:
    """Each module is imported by another one, found by its folder, or a door for users."""
    by_folder = ("checks/", "fmt/passes/", "arguments/")
    doors = {"__init__.py", "__main__.py", "cli.py", "generate.py", "syntax/generate.py"}
    reached = {dotted for path in modules() for dotted, _ in imports(path)}
    for path in modules():
        name = name_of(path)
        dotted = "trivet." + name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        if name in doors or name.endswith("__init__.py") or name.startswith(by_folder):
            continue
        assert dotted in reached, f"nothing imports {name}"


def test_nothing_is_named_that_has_no_place_here() -> None:
    """Comments that promise work instead of doing it."""
    words = ("TO" + "DO", "FIX" + "ME", "NotImplemented" + "Error", "X" + "XX")
    for path in modules():
        text = path.read_text(encoding="utf-8")
        for word in words:
            assert word not in text, f"{name_of(path)} holds {word}"
