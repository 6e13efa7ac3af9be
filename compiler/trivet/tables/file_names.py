"""Names of parts as names of files that every file system takes."""

from __future__ import annotations

from collections.abc import Iterable

# Device names of Windows, reserved with any extension too; from memory.
_RESERVED = frozenset(["con", "prn", "aux", "nul"] + [word + digit for word in ("com", "lpt") for digit in "0123456789¹²³"])
# What common file systems allow, from memory; a part's name leaves room for its face and an extension.
_DISK_LIMIT_BYTES = 255
_LONGEST_BYTES = 120


def safe_file_name(text: str) -> str:
    """`text` as a file name: letters and digits of any script, `.`, `_` and `-`; anything else becomes `_`.

    Names are composed (NFC), reserved names get an underscore, and names over 120 bytes are cut and marked with a hash.
    Raises ValueError for an empty name, `.`, `..` and path separators, which no part is called.
    """
    if text in ("", ".", "..") or "/" in text or "\\" in text:
        raise ValueError(f"not a file name: {text!r}")
    name = _plain(text)
    if len(name.encode("utf-8")) <= _LONGEST_BYTES:
        return name
    import hashlib

    mark = hashlib.sha256(name.encode("utf-8")).hexdigest()[:12]
    return name.encode("utf-8")[: _LONGEST_BYTES - 13].decode("utf-8", "ignore") + "-" + mark


def is_safe_file_name(name: str) -> bool:
    """Whether a whole file name, extension and all, may stand on any disk as it is."""
    separated = "/" in name or "\\" in name
    return bool(name) and not separated and _plain(name) == name and len(name.encode("utf-8")) <= _DISK_LIMIT_BYTES


def file_names(ids: Iterable[str]) -> dict[str, str]:
    """A file name for each id, no two alike even where capitals do not count; later ids, sorted, get `_2`, `_3`…"""
    taken: set[str] = set()
    names: dict[str, str] = {}
    for part in sorted(set(ids)):
        plain = safe_file_name(part)
        name, number = plain, 1
        while folded(name) in taken:
            number += 1
            name = f"{plain}_{number}"
        taken.add(folded(name))
        names[part] = name
    return names


def folded(name: str) -> str:
    """The form in which two names are the same file on a disk that ignores capitals and composition."""
    import unicodedata

    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", name).casefold())


def _plain(text: str) -> str:
    import unicodedata

    name = "".join(letter if _allowed(letter) else "_" for letter in unicodedata.normalize("NFC", text))
    stem, dot, rest = name.partition(".")
    if stem.casefold() in _RESERVED:
        name = f"{stem}_{dot}{rest}"
    if name[0] in ".-":
        name = "_" + name
    return name + "_" if name.endswith(".") else name


def _allowed(letter: str) -> bool:
    import unicodedata

    return letter in "._-" or unicodedata.category(letter)[0] in "LM" or unicodedata.category(letter) == "Nd"
