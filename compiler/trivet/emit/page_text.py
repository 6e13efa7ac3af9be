"""The page's templates, style and script, which are package data beside this module."""

from __future__ import annotations


def page_text(name: str) -> str:
    """The text of a file in `page/`.

    Read through this module's own loader, as the grammar is. Raises OSError when the installation has lost the file, which is a
    fault of the installation and of no file of the user's.
    """
    from posixpath import dirname

    loader = globals()["__loader__"]
    assert hasattr(loader, "get_data"), loader
    data: bytes = loader.get_data(f"{dirname(__file__.replace(chr(92), '/'))}/page/{name}")
    return data.decode("utf-8").replace("\r\n", "\n")
