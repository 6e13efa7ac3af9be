"""The phases in order: text to findings. Every intermediate is kept, so that a broken file still gives what it can."""

from __future__ import annotations

import gc
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from trivet.diagnostics import Diagnostic, has_errors, in_order
from trivet.files import Files
from trivet.inputs import load_library, read_parts, with_libraries, with_units
from trivet.lower.entries import Part
from trivet.lower.lower import lower
from trivet.record import record, replace
from trivet.source import SourceFile
from trivet.syntax.nodes import Document

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived


@record
class Compilation:
    """What came of a file. `design` and `derived` are None when an error stands before them; `findings` are in order, each once."""

    documents: tuple[Document, ...]
    design: Design | None
    derived: Derived | None
    findings: tuple[Diagnostic, ...]

    @property
    def failed(self) -> bool:
        """Whether an error stands that nobody accepted."""
        return has_errors(self.findings)


def check(
    source: SourceFile,
    files: Files,
    settings: Mapping[str, str] | None = None,
    shop: SourceFile | None = None,
    full: bool = False,
    libraries: Sequence[SourceFile] = (),
    units: str = "",
) -> Compilation:
    """Parse, lower, solve and check one fixture; with `full` the slow checks too.

    `libraries`: files with tables of the project's own. `units`: what is printed where the fixture does not say, `mm` or `in`.
    """
    # All that is made here is kept until the end: looking for garbage meanwhile costs more with every gear.
    collecting = gc.isenabled()
    gc.disable()
    try:
        parts, found = read_parts(source, files, shop)
        parts, found = with_libraries(parts, found, libraries)
        return check_parts(with_units(parts, units), found, settings or {}, full)
    finally:
        if collecting:
            gc.enable()


def check_parts(
    parts: Sequence[Part], read: Sequence[Diagnostic], settings: Mapping[str, str], full: bool, try_changes: bool = True
) -> Compilation:
    """Lower, solve and check what is read and parsed already; `read`: the findings of that.

    Without `try_changes` nothing is solved anew to see what would help: for many runs of one plan.
    """
    return judge(work_out(parts, read, settings), full, try_changes)


@record(eq=False)
class WorkedOut:
    """What there is before the checks: `found` is of parsing and lowering; `derived` is None where that found an error."""

    documents: tuple[Document, ...]
    design: Design | None
    derived: Derived | None
    found: tuple[Diagnostic, ...]


def work_out(
    parts: Sequence[Part], read: Sequence[Diagnostic], settings: Mapping[str, str], pause: Callable[[], None] = lambda: None
) -> WorkedOut:
    """Lower and solve. `pause` is called between phases; what it raises ends the work."""
    documents = tuple(part.document for part in parts)
    design, lowered = lower(parts, load_library, settings)
    found = (*read, *lowered)
    if design is None or has_errors(found):
        return WorkedOut(documents, None, None, found)
    from trivet.solve.solve import solve

    pause()
    return WorkedOut(documents, design, solve(design), found)


def judge(before: WorkedOut, full: bool, try_changes: bool = True, pause: Callable[[], None] = lambda: None) -> Compilation:
    """Run the checks and mark what is accepted; `pause` is called before each check."""
    design, derived = before.design, before.derived
    if design is None or derived is None:
        return Compilation(before.documents, None, None, in_order(before.found))
    from trivet.checks._check import all_checks, run_checks

    told = derived if try_changes else replace(derived, try_changes=False)
    found = list(before.found)
    for each in all_checks():
        pause()
        found.extend(run_checks(design, told, full, (each,)))
    if design.accepts:
        from trivet.checks._accept import accept
        from trivet.checks._check import not_run, slugs

        known = slugs()
        if any(item.rule.text not in known for item in design.accepts):
            # The rules of all phases lie in modules that nothing else here needs.
            from trivet.rules import all_rules

            known = tuple(all_rules())
        found = accept(design, found, known, () if full else not_run())
    return Compilation(before.documents, design, derived, in_order(found))
