"""From a faulty line to its one diagnostic: what is wrong, where, and the line that would do."""

from __future__ import annotations

from collections.abc import Callable

from trivet.diagnostics import Diagnostic, Edit, Label
from trivet.source import SourceFile, Span
from trivet.syntax.fault import Fault
from trivet.syntax.mistakes import BLANK, known_mistake
from trivet.syntax.tokens import TokenLine, token_lines

# Beyond this a line is not compared with the known mistakes and no corrected line is given: nobody reads it, and it costs time.
LONGEST_EXPLAINED = 1_000
_ROUNDS = 12

FindFault = Callable[[SourceFile, TokenLine], Fault | None]


def explain(file: SourceFile, line: TokenLine, fault: Fault, find: FindFault) -> Diagnostic:
    """The diagnostic of a faulty line. `find` is the search for a fault: a corrected line is only given if it finds none in it."""
    best = _best(file, line, fault)
    span = Span(file, best.start, best.end)
    related: tuple[Label, ...] = ()
    if best.opening is not None:
        related = (Label("the bracket opens here", Span(file, best.opening, best.opening + 1)),)
    remedy = best.hint
    edits: tuple[Edit, ...] = ()
    if best.fix is not None:
        corrected = _corrected(file, line, best, find)
        if corrected:
            remedy = f"write `{corrected}`"
        elif corrected == "":
            remedy = "leave the line out"
        edits = (Edit(Span(file, *best.fix_place), best.fix),)
    return Diagnostic(best.slug, "error", best.message, span, related, remedy, edits=edits)


def _best(file: SourceFile, line: TokenLine, fault: Fault) -> Fault:
    """The known mistake if it lies at the fault or before it, else the fault as found."""
    end = line.tokens[-1].end
    if not line.complete or end - line.start > LONGEST_EXPLAINED or fault.slug in ("limit-exceeded", "hidden-character"):
        return fault
    masked, length = _masked(line)
    known = known_mistake(masked, file.text[line.start : line.start + length], line.start)
    if known is None or known.start > max(fault.end, fault.start + 1):
        return fault
    return known


def _masked(line: TokenLine) -> tuple[str, int]:
    """The line without its comment, line end and the insides of its texts, and its length."""
    parts: list[str] = []
    before = ""
    for token in line.tokens:
        if token.kind in ("COMMENT", "NEWLINE"):
            break
        # A quote glued to a number is an inch mark, and what follows it is no text.
        if token.kind in ("STRING", "UNCLOSED_STRING") and before != "NUMBER":
            inside = BLANK * (len(token.text) - (2 if token.kind == "STRING" else 1))
            parts.append('"' + inside + ('"' if token.kind == "STRING" else ""))
        else:
            parts.append(" " if token.kind == "BYTE_MARK" else token.text)
        before = token.kind
    text = "".join(parts)
    return text, len(text)


def _corrected(file: SourceFile, line: TokenLine, fault: Fault, find: FindFault) -> str | None:
    """The line with this fault and those after it mended, without indent; None if that does not lead to a line that parses."""
    end = line.tokens[-1].end
    if not line.complete or end - line.start > LONGEST_EXPLAINED:
        return None
    text, offset = file.text[line.start : end].rstrip("\r\n"), line.start
    for _ in range(_ROUNDS):
        if fault.fix is None:
            return None
        start, stop = fault.fix_place
        text = text[: start - offset] + fault.fix + text[stop - offset :]
        offset = 0
        attempt = SourceFile(file.name, text)
        new_line = next(token_lines(attempt), None)
        found = None if new_line is None or not new_line.items else find(attempt, new_line)
        if found is None or new_line is None:
            return text.strip().lstrip("\ufeff")
        fault = _best(attempt, new_line, found)
    return None
