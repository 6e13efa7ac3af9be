"""A fixture that is wrong in one way, for the goldens of messages."""

from __future__ import annotations

from typing import NamedTuple


class Case(NamedTuple):
    """`edits`: of the base, or a whole file. `inches`: whether it is shown in inches too; `full`: whether it needs a full run."""

    rule: str
    title: str
    edits: str
    inches: bool = False
    full: bool = False
