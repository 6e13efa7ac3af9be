"""A mutant put into a running program: the code of one function is exchanged, which every module that imported it sees at once."""

from __future__ import annotations

import functools
import sys
import types
from typing import Any


def changed_functions(text: str, changed: str, path: str) -> list[tuple[str, types.CodeType]] | None:
    """Qualified names and new code of the functions that differ; None where what differs runs at import (constants, defaults, classes)."""
    found: list[tuple[str, types.CodeType]] = []
    if not _differing(compile(text, path, "exec"), compile(changed, path, "exec"), found):
        return None
    return found or None


def exchange(module: str, functions: list[tuple[str, types.CodeType]]) -> bool:
    """Give the functions of a loaded module their new code; False where one of them cannot be found, and then nothing is changed."""
    places = [(_function(sys.modules[module], name), code) for name, code in functions]
    if any(place is None or place.__code__.co_freevars != code.co_freevars for place, code in places):
        return False
    for place, code in places:
        assert place is not None
        place.__code__ = code
    return True


def changed_constants(module: str, changed: str, path: str) -> dict[str, Any]:
    """Names and values that the changed text gives otherwise than the loaded module; plain values only."""
    live = vars(sys.modules[module])
    scratch = types.ModuleType(module)
    scratch.__dict__.update({name: live[name] for name in ("__package__", "__spec__", "__loader__", "__file__")})
    exec(compile(changed, path, "exec"), scratch.__dict__)
    return {name: value for name, value in vars(scratch).items() if name in live and _plain(value) and value != live[name]}


def replace_constants(module: str, values: dict[str, Any]) -> None:
    """In the module and in every other that imported the name."""
    for name, value in values.items():
        old = vars(sys.modules[module])[name]
        for other in list(sys.modules.values()):
            if getattr(other, "__dict__", {}).get(name) is old:
                setattr(other, name, value)


def forget(prefixes: tuple[str, ...]) -> None:
    """Empty every cache of the modules whose names begin so."""
    for name, module in list(sys.modules.items()):
        if name.startswith(prefixes):
            for value in list(vars(module).values()):
                if isinstance(value, functools._lru_cache_wrapper):
                    value.cache_clear()


def _differing(old: types.CodeType, new: types.CodeType, found: list[tuple[str, types.CodeType]]) -> bool:
    """Add the differing functions under a module or class; False where its own statements differ."""
    if _own(old) != _own(new):
        return False
    inside = zip(_codes(old), _codes(new), strict=True)
    for one, other in inside:
        if one == other:
            continue
        if one.co_flags & 0x1:  # its variables are kept as a function's, which a class body's are not
            if "<" in one.co_qualname:
                return False
            found.append((one.co_qualname, other))
        elif not _differing(one, other, found):
            return False
    return True


def _plain(value: object) -> bool:
    if isinstance(value, tuple | frozenset):
        return all(_plain(item) for item in value)
    if isinstance(value, dict):
        return all(_plain(key) and _plain(item) for key, item in value.items())
    return isinstance(value, bool | int | float | str)


def _own(code: types.CodeType) -> tuple[object, ...]:
    plain = tuple(repr(item) for item in code.co_consts if not isinstance(item, types.CodeType))
    return code.co_code, plain, code.co_names, len(_codes(code))


def _codes(code: types.CodeType) -> list[types.CodeType]:
    return [item for item in code.co_consts if isinstance(item, types.CodeType)]


def _function(module: types.ModuleType, name: str) -> types.FunctionType | None:
    found: Any = module
    for part in name.split("."):
        found = vars(found).get(part)
        if found is None:
            return None
    for inner in ("__func__", "fget", "func", "__wrapped__"):
        found = getattr(found, inner, found) if not isinstance(found, types.FunctionType) else found
    return found if isinstance(found, types.FunctionType) and found.__code__.co_qualname == name else None
