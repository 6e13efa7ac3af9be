"""Checking a fixture again after an edit: what need not be worked out anew is kept. The result is always that of a fresh check."""

from __future__ import annotations

import gc
from bisect import bisect_right
from collections.abc import Callable
from threading import Lock

from trivet.diagnostics import Diagnostic
from trivet.files import Files
from trivet.inputs import read_parts, with_libraries, with_units
from trivet.lower.entries import Part
from trivet.lsp.belonging import Belonging
from trivet.pipeline import Compilation, WorkedOut, judge, work_out
from trivet.record import record, replace
from trivet.source import SourceFile, Span
from trivet.syntax.nodes import Document, Line
from trivet.syntax.reuse import Statements

# Results that are kept to come back to: what a letter typed and taken back, or one step of undoing, returns to.
MOST_KEPT = 4


# The project, and what the statements of all parts say and in which blocks they stand, without where.
_Key = tuple[object, ...]


@record(eq=False)
class Checked:
    """A compilation with the parts that it is of. `rest`: what the checks have to go on with, None once they are through.

    The first result lacks what is solved anew to say what would help, which takes many times longer; `Memory.complete` adds it.
    """

    compilation: Compilation
    parts: tuple[Part, ...]
    key: _Key | None = None
    rest: tuple[WorkedOut, tuple[Part, ...], Belonging] | None = None


Parsed = tuple[Document, tuple[Diagnostic, ...]]


class Memory:
    """What is kept of a fixture between two checks: its lines as parsed, by file, and the last results.

    `check` runs in one thread at a time, `complete` may run in another meanwhile.
    """

    def __init__(self) -> None:
        self._lock = Lock()
        self._statements: dict[str, Statements] = {}
        self._parsed: dict[str, tuple[SourceFile, Parsed]] = {}
        self._kept: dict[_Key, Checked] = {}

    def check(
        self, source: SourceFile, files: Files, pause: Callable[[], None] = lambda: None, owned: Belonging | None = None
    ) -> Checked:
        """As `pipeline.check` without `full` and without trying changes. `pause` is called between phases; what it raises ends the work."""
        collecting = gc.isenabled()
        gc.disable()
        try:
            return self._check(source, files, pause, owned or Belonging())
        finally:
            if collecting:
                gc.enable()

    def _check(self, source: SourceFile, files: Files, pause: Callable[[], None], owned: Belonging) -> Checked:
        parts, found = with_libraries(*read_parts(source, files, None, self._parse), owned.libraries)
        names = {part.document.file.name for part in parts}
        self._statements = {name: kept for name, kept in self._statements.items() if name in names}
        self._parsed = {name: kept for name, kept in self._parsed.items() if name in names}
        pause()
        key = None if found else _key(parts, owned)
        with self._lock:
            before = self._kept.get(key) if key is not None else None
        moved = _moved(before, parts) if before is not None else None
        if moved is not None and before is not None:
            checked = Checked(moved, parts, key, before.rest)
        else:
            rest = work_out(with_units(parts, owned.project.units), found, {}, pause)
            compilation = owned.seen(judge(rest, False, False, pause))
            checked = Checked(compilation, parts, key, (rest, parts, owned) if rest.derived is not None else None)
        self._keep(checked)
        return checked

    def complete(self, checked: Checked, pause: Callable[[], None] = lambda: None) -> Checked:
        """The whole result, which is that of `pipeline.check`; `pause` is called between checks."""
        if checked.rest is None:
            return checked
        worked, parts, owned = checked.rest
        whole = owned.seen(judge(worked, False, True, pause))
        if parts is not checked.parts:
            moved = _moved(Checked(whole, parts), checked.parts)
            assert moved is not None, "what moved once moves again"
            whole = moved
        done = Checked(whole, checked.parts, checked.key)
        self._keep(done)
        return done

    def _keep(self, checked: Checked) -> None:
        """Keep a result as the newest; only results without faults of reading have a key."""
        if checked.key is None:
            return
        with self._lock:
            self._kept.pop(checked.key, None)
            self._kept[checked.key] = checked
            if len(self._kept) > MOST_KEPT:
                del self._kept[next(iter(self._kept))]

    def _parse(self, file: SourceFile) -> Parsed:
        held = self._parsed.get(file.name)
        if held is not None and held[0] is file:
            return held[1]
        parsed = self._statements.setdefault(file.name, Statements()).parse(file)
        self._parsed[file.name] = (file, parsed)
        return parsed


def _key(parts: tuple[Part, ...], owned: Belonging) -> _Key | None:
    """None where a line is broken: what it says is not known."""
    found: list[object] = [owned.key]
    for part in parts:
        document = part.document
        if document.broken_headings or any(block.broken for block in document.blocks):
            return None
        blocks = tuple(tuple(line.span.text for line in (block.heading, *block.facts)) for block in document.blocks)
        found.append((document.file.name, part.role, blocks))
    return tuple(found)


def _moved(before: Checked, parts: tuple[Part, ...]) -> Compilation | None:
    """The result for parts whose statements are those of before, at other places; None where a finding lies outside statements.

    A finding depends on what the statements say and in which order they stand, not on comments, blank lines and indents between
    them. Places inside `design` and `derived` stay those of the older text.
    """
    shifts: dict[int, _Shift] = {}
    for old, new in zip(before.parts, parts, strict=True):
        shifts[id(old.document.file)] = _Shift(_lines(old.document), _lines(new.document), new.document.file)
    findings = [_finding(item, shifts) for item in before.compilation.findings]
    if any(item is None for item in findings):
        return None
    documents = tuple(part.document for part in parts)
    return replace(before.compilation, documents=documents, findings=tuple(item for item in findings if item is not None))


def _lines(document: Document) -> list[Line]:
    return [line for block in document.blocks for line in (block.heading, *block.facts)]


class _Shift:
    """Where the statements of one file went."""

    def __init__(self, old: list[Line], new: list[Line], file: SourceFile) -> None:
        self._starts = [line.span.start for line in old]
        self._ends = [line.span.end for line in old]
        self._new = [line.span.start for line in new]
        self._file = file

    def of(self, span: Span) -> Span | None:
        """The span in the new text; None where it does not lie in statements."""
        start, end = self._offset(span.start), self._offset(span.end)
        return None if start is None or end is None else Span(self._file, start, end)

    def _offset(self, offset: int) -> int | None:
        index = bisect_right(self._starts, offset) - 1
        if index < 0 or offset > self._ends[index]:
            return None
        return self._new[index] + offset - self._starts[index]


def _finding(item: Diagnostic, shifts: dict[int, _Shift]) -> Diagnostic | None:
    failed = False

    def place(span: Span | None) -> Span | None:
        nonlocal failed
        if span is None or (shift := shifts.get(id(span.file))) is None:
            # A place in a table of the library, which did not move.
            return span
        new = shift.of(span)
        failed |= new is None
        return new

    related = tuple(replace(label, span=place(label.span)) for label in item.related)
    moved = replace(item, span=place(item.span), related=related)
    edits = tuple(replace(edit, span=new) for edit in item.edits if (new := place(edit.span)) is not None)
    return None if failed else replace(moved, edits=edits)
