"""The files that are open, what came of each fixture among them, and which findings each file shows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from trivet.diagnostics import Diagnostic, in_order
from trivet.lsp.again import Checked, Memory
from trivet.lsp.belonging import PROJECT_FILE, Belonging, belonging
from trivet.lsp.buffers import EditorFiles, unsaved
from trivet.lsp.known import Known
from trivet.lsp.view import View
from trivet.pipeline import check
from trivet.record import record
from trivet.source import SourceFile
from trivet.syntax.nodes import Document
from trivet.syntax.reuse import Statements

# What only the whole fixture can decide: a file that is read by one, opened alone, is not blamed for it.
NEEDS_THE_WHOLE = frozenset(
    {"missing-fixture", "unknown-name", "wrong-kind", "missing-fact", "unused-name", "unknown-part", "no-such-hardware"}
)


@record(eq=False)
class Buffer:
    """An open file: `version` is the editor's."""

    file: SourceFile
    version: int | None


class _Fixture:
    """What is known of one main file. `headed`: it had a `fixture` heading at some time since it was opened."""

    def __init__(self) -> None:
        self.memory = Memory()
        self.checked: Checked | None = None
        self.known: Known | None = None
        self.reported: tuple[Diagnostic, ...] = ()
        self.versions: dict[str, int | None] = {}
        self.headed = False


class Workspace:
    """All state of the server. Checking may run in another thread: `job` takes what it needs with it, `accept` keeps what came."""

    def __init__(self) -> None:
        self.buffers: dict[str, Buffer] = {}
        self._fixtures: dict[str, _Fixture] = {}
        self._seen: dict[str, SourceFile] = {}
        self._parsed: dict[str, tuple[Statements, Document]] = {}

    def put(self, path: str, text: str, version: int | None) -> None:
        """Open a file, or change its text."""
        self.buffers[path] = Buffer(SourceFile(path, text), version)

    def close(self, path: str) -> None:
        """Forget a file that is no longer open; fixtures that read it see the disk again."""
        self.buffers.pop(path, None)
        self._fixtures.pop(path, None)
        self._parsed.pop(path, None)

    def concerned(self, path: str) -> tuple[str, ...]:
        """The open main files that a change of `path` concerns, sorted: itself if it is open, and those that read it."""
        if path.rpartition("/")[2] == PROJECT_FILE:
            return tuple(sorted(self._fixtures))
        readers = {main for main in self._fixtures if path in self._files_of(main)}
        return tuple(sorted(readers | ({path} & set(self.buffers))))

    def job(self, main: str) -> Callable[[Callable[[], None]], tuple[Checked, dict[str, int | None]]]:
        """The work of checking a main file as it stands now; it is given what to call between phases."""
        fixture = self._fixtures.setdefault(main, _Fixture())
        buffers = dict(self.buffers)
        source = buffers[main].file

        def work(pause: Callable[[], None]) -> tuple[Checked, dict[str, int | None]]:
            pause()
            held = {path: buffer.file for path, buffer in buffers.items()}
            owned = None if unsaved(main) else belonging(main, held)
            checked = fixture.memory.check(source, EditorFiles(held, self._seen), pause, owned)
            names = {part.document.file.name for part in checked.parts}
            return checked, {path: buffer.version for path, buffer in buffers.items() if path in names}

        return work

    def rest(self, main: str) -> Callable[[Callable[[], None]], Checked] | None:
        """The work that the kept result of a main file lacks, None where it lacks none."""
        fixture = self._fixtures.get(main)
        if fixture is None or fixture.checked is None or fixture.checked.rest is None:
            return None
        memory, checked = fixture.memory, fixture.checked
        return lambda pause: memory.complete(checked, pause)

    def accept(self, main: str, checked: Checked, versions: dict[str, int | None]) -> tuple[str, ...]:
        """Keep a result; returns the files whose findings may have changed, sorted. A result of a closed file is dropped."""
        fixture = self._fixtures.get(main)
        if fixture is None:
            return ()
        before = self._files_of(main)
        fixture.checked, fixture.versions = checked, versions
        fixture.headed |= any(block.heading.word.text == "fixture" for block in checked.parts[0].document.blocks)
        design, derived = checked.compilation.design, checked.compilation.derived
        if design is not None and derived is not None:
            fixture.reported = checked.compilation.findings
            held = fixture.known
            if held is None or held.derived is not derived:
                fixture.known = Known(design, derived)
        return tuple(sorted(before | self._files_of(main)))

    def check(self, main: str) -> tuple[str, ...]:
        """Check at once, to the end, and keep the result."""
        changed = self.accept(main, *self.job(main)(lambda: None))
        rest = self.rest(main)
        if rest is not None:
            self.accept(main, rest(lambda: None), self._fixtures[main].versions)
        return changed

    def versions(self, main: str) -> dict[str, int | None]:
        """The versions of the files that the kept result of a main file is of."""
        return self._fixtures[main].versions

    def behind(self, main: str) -> bool:
        """Whether a part of the fixture has another text by now than the kept result has."""
        checked = self._fixtures[main].checked if main in self._fixtures else None
        if checked is None:
            return False
        files = [part.document.file for part in checked.parts]
        return any(file.name in self.buffers and self.buffers[file.name].file is not file for file in files)

    def trial(self, path: str) -> Callable[[Mapping[str, SourceFile]], tuple[Diagnostic, ...]]:
        """What checks the fixture of an open file with other texts in place of some; it may run in another thread."""
        mains = sorted(self._mains_of(path)) or [path]
        held = {name: buffer.file for name, buffer in self.buffers.items()}

        def run(instead: Mapping[str, SourceFile]) -> tuple[Diagnostic, ...]:
            files = {**held, **instead}
            owned = Belonging() if unsaved(mains[0]) else belonging(mains[0], files)
            source = files[mains[0]]
            return check(source, EditorFiles(files), libraries=owned.libraries, units=owned.project.units).findings

        return run

    def files(self) -> EditorFiles:
        """Files as they stand now."""
        return EditorFiles({path: buffer.file for path, buffer in self.buffers.items()}, self._seen)

    def findings(self, path: str) -> tuple[Diagnostic, ...]:
        """All that is to be shown for a file: of each open fixture that it is a part of, each finding once."""
        found: list[Diagnostic] = []
        for main in sorted(self._mains_of(path)):
            checked = self._fixtures[main].checked
            assert checked is not None
            for item in checked.compilation.findings:
                name = item.span.file.name if item.span is not None else main
                if name == path and not (self._is_part(main) and item.rule in NEEDS_THE_WHOLE):
                    found.append(item)
        return in_order(found)

    def version(self, path: str) -> int | None:
        """The version of a file that its findings are of; None where it is not open."""
        mains = sorted(self._mains_of(path))
        return self._fixtures[mains[0]].versions.get(path) if mains else None

    def view(self, path: str) -> View:
        """What features see of an open file now."""
        mains = sorted(self._mains_of(path))
        fixture = self._fixtures[mains[0]] if mains else self._fixtures.get(path, _Fixture())
        checked = fixture.checked
        document = self._document(path)
        others = [part.document for part in checked.parts] if checked is not None else []
        documents = tuple(document if item.file.name == path else self._fresh(item) for item in others)
        return View(document, documents or (document,), checked.compilation if checked else None, fixture.known, fixture.reported)

    def _fresh(self, document: Document) -> Document:
        """A document as its buffer stands now."""
        return self._document(document.file.name) if document.file.name in self.buffers else document

    def _document(self, path: str) -> Document:
        file = self.buffers[path].file
        statements, document = self._parsed.get(path, (None, None))
        if document is None or document.file is not file:
            statements = statements or Statements()
            document = statements.parse(file)[0]
            self._parsed[path] = (statements, document)
        return document

    def _mains_of(self, path: str) -> Iterable[str]:
        """The main files that show findings in `path`: those that read it, else itself."""
        mains = {main for main in self._fixtures if path in self._files_of(main)}
        return mains - {path} if mains - {path} and self._is_part(path) else mains

    def _files_of(self, main: str) -> set[str]:
        checked = self._fixtures[main].checked if main in self._fixtures else None
        if checked is None:
            return set()
        places = {item.span.file.name for item in checked.compilation.findings if item.span is not None}
        return places | {part.document.file.name for part in checked.parts}

    def _is_part(self, path: str) -> bool:
        """Whether a file looks like one that others read: it has statements, and never had a `fixture` heading while it was open."""
        fixture = self._fixtures.get(path)
        if fixture is None or fixture.checked is None or fixture.headed:
            return False
        document = fixture.checked.parts[0].document
        return bool(document.blocks) and not document.broken_headings
