"""How the parts lie on their sheets: as kept beside the fixture, by a thorough search, or as computed; and keeping it."""

from __future__ import annotations

import json
import sys
import time

from trivet.commands._input import Options, Sources, print_text
from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.solve.nest_records import Nest
from trivet.source import SourceFile

# Nothing is said about work that is done sooner than this, s.
_QUIET_S = 1.0


@record
class Nesting:
    """The nest, the file that it is kept in with its text where one was used, and lines for people."""

    nest: Nest
    kept_in: str = ""
    kept_text: str = ""
    lines: tuple[str, ...] = ()


def placement_path(file: str) -> str:
    """Where the placement of a fixture is kept: beside it."""
    return file.removesuffix(".trivet") + ".placement.json"


def nesting(options: Options, sources: Sources, design: Design, derived: Derived, thorough: bool) -> Nesting | str:
    """The nest, or a sentence where the thorough search cannot be made. A kept placement that still holds is used
    again, unless a thorough search is asked for."""
    from trivet.solve.nest import nest
    from trivet.solve.nest_job import jobs_of
    from trivet.solve.nest_kept import NotKept, kept_nest

    path = placement_path(options.file)
    lines: tuple[str, ...] = ()
    found = sources.files.read(path) if options.file != "-" and not thorough else None
    if isinstance(found, SourceFile):
        try:
            kept = kept_nest(jobs_of(design, derived), _loaded(found.text))
            return Nesting(kept, path, found.text, (f"sheets: laid as kept in {_last(path)}",))
        except NotKept as reason:
            lines = (f"sheets: the placement {_last(path)} {reason}: nested anew; --keep-placement keeps the new one",)
    progress = _Progress()
    # Where nobody watches, what a check has found already is not sought again.
    say = progress.say if progress.terminal else None
    try:
        if not thorough:
            return Nesting(nest(design, derived, say), lines=lines)
        from trivet.solve.nest_thorough import EngineMissing, thorough_nest

        try:
            return Nesting(thorough_nest(design, derived, progress=progress.say), lines=lines)
        except EngineMissing:
            return "the thorough search needs the package `spyrrow`: pip install 'trivet[nest]'"
    finally:
        progress.end()


def keep(sources: Sources, path: str, design: Design, derived: Derived, nest: Nest) -> Diagnostic | None:
    """Write the placement beside the fixture, in place of an older one."""
    from trivet.emit.json import json as json_bytes
    from trivet.solve.nest_job import jobs_of
    from trivet.solve.nest_kept import kept_record

    text = json_bytes(kept_record(jobs_of(design, derived), nest)).decode("utf-8")
    if isinstance(sources.files.read(path), SourceFile):
        return sources.files.replace_text(path, text)
    return sources.files.create_text(path, text)


def _loaded(text: str) -> object:
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        return None


def _last(path: str) -> str:
    from trivet.report.visible import visible

    return str(visible(path.rpartition("/")[2]))


class _Progress:
    """One line on a terminal's standard error that changes, once the work has taken a second."""

    def __init__(self) -> None:
        self._begun = time.monotonic()
        self._wide = 0
        self.terminal = sys.stderr is not None and sys.stderr.isatty()

    def say(self, words: str, wait: bool) -> None:
        """Show words in place of those before; at once where a `wait` follows."""
        if not self.terminal or (not wait and time.monotonic() - self._begun < _QUIET_S):
            return
        print_text("\r" + words.ljust(self._wide), error=True)
        sys.stderr.flush()
        self._wide = len(words)

    def end(self) -> None:
        """Take the line away."""
        if self._wide:
            print_text("\r" + " " * self._wide + "\r", error=True)
            sys.stderr.flush()
