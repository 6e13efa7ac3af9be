"""What features answer, as plain records in offsets; the server makes protocol objects of them."""

from __future__ import annotations

from trivet.diagnostics import Diagnostic, Edit
from trivet.record import record
from trivet.source import Span


@record
class Hover:
    """Markdown about [start, end) of the file."""

    text: str
    start: int
    end: int


@record
class Choice:
    """One completion: `kind` is heading, fact, word, name, hardware, unit, rule or value; `insert` replaces [start, end) of the file.

    `rank`: the lower, the earlier in the list. `detail` stands beside the label, `about` is Markdown for a window of its own.
    """

    label: str
    kind: str
    start: int
    end: int
    insert: str
    detail: str = ""
    about: str = ""
    rank: int = 5


@record
class Symbol:
    """A block or a fact in the outline: `span` covers all of it, `name_span` its first words."""

    name: str
    kind: str
    detail: str
    span: Span
    name_span: Span
    children: tuple[Symbol, ...] = ()


@record
class Fold:
    """Lines that can be folded into their first, as offsets in the first and the last of them."""

    start: int
    end: int
    comment: bool


@record
class Hint:
    """A derived number shown at an offset, with Markdown that says how it comes about."""

    offset: int
    text: str
    about: str = ""


@record
class Coloured:
    """A token with its kind as the protocol names it; `declares`: a name is declared here."""

    start: int
    end: int
    kind: str
    declares: bool = False


@record
class Signature:
    """One form of a fact: `parameters` are ranges of the label, `active` the one that the cursor is at, -1 for none of them."""

    label: str
    parameters: tuple[tuple[int, int], ...]
    active: int
    about: str = ""


@record
class Change:
    """Replace [start, end) of the file by `text`."""

    start: int
    end: int
    text: str


@record
class Action:
    """An edit that mends a finding; the text with it was parsed and checked before it is offered."""

    title: str
    edits: tuple[Edit, ...]
    mends: Diagnostic
    safe: bool
