"""The text of the grammar, which is package data: beside the package when installed, three folders up in a checkout."""

from __future__ import annotations


def grammar_text() -> str:
    """The text of `trivet.lark`.

    Read through this module's own loader, which costs a tenth of a millisecond where `importlib.resources` costs 13.
    Raises OSError when the installation has lost the file, which is a fault of the installation and of no file of the user's.
    """
    from posixpath import dirname

    package = dirname(dirname(__file__.replace("\\", "/")))
    try:
        data = _read(f"{package}/grammar/trivet.lark")
    except OSError:
        data = _read(f"{dirname(dirname(package))}/grammar/trivet.lark")
    return data.decode("utf-8").replace("\r\n", "\n")


def _read(path: str) -> bytes:
    loader = globals()["__loader__"]
    assert hasattr(loader, "get_data"), loader
    data: bytes = loader.get_data(path)
    return data
