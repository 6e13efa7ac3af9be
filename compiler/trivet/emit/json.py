"""JSON: plain data as text, keys in the order given, numbers rounded at one door (IETF RFC 8259)."""

from __future__ import annotations

import json as standard
import math
from collections.abc import Mapping

from trivet.emit.printable import printable

FLOAT_DECIMALS = 6


def json(value: object) -> bytes:
    """UTF-8 JSON, indented by two, with a line break at the end.

    Raises `ValueError` for a number that is not finite and `TypeError` for anything that is not plain data.
    """
    return (standard.dumps(_settled(value), indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def _settled(value: object) -> object:
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, str):
        return printable(value, keep="\t\n\r")
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"JSON holds finite numbers only, not {value}")
        return round(value, FLOAT_DECIMALS) + 0.0
    if isinstance(value, Mapping):
        if not all(isinstance(key, str) for key in value):
            raise TypeError("the keys of an object are text")
        return {printable(key): _settled(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_settled(item) for item in value]
    raise TypeError(f"{type(value).__name__} is not plain data")
