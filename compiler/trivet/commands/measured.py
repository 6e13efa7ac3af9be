"""`trivet check --measured`: the fixture with the parts as they were cut, before anything is put together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trivet.commands._input import Options, exit_code, read, show
from trivet.diagnostics import Diagnostic, in_order

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived


def run(options: Options, path: str, full: bool) -> int:
    """Read the filled card, check the fixture as measured, and say what the readings change; returns the exit code."""
    from trivet.card import read_card
    from trivet.pipeline import check
    from trivet.solve.binding import binding
    from trivet.solve.inspection import readings
    from trivet.solve.measured import measured
    from trivet.tables.measured_changes import change_lines

    sources = read(options)
    card_file = sources.files.read(path)
    faults = (*sources.faults, *((card_file,) if isinstance(card_file, Diagnostic) else ()))
    if sources.main is None or isinstance(card_file, Diagnostic) or faults:
        show(faults, options, options.file)
        return exit_code(faults, options.fail_from)
    plan = check(sources.main, sources.files, options.settings, sources.shop, full)
    design, derived = plan.design, plan.derived
    if design is None or derived is None:
        show(plan.findings, options, "")
        return exit_code(plan.findings, options.fail_from)
    rows = readings(design, derived)
    card = read_card(card_file, rows, design.units)
    if card.faults:
        found = in_order((*card.faults, *card.limits))
        show(found, options, design.name, design.title, design.revision, ("nothing is computed from the card until it is mended",))
        return exit_code(found, options.fail_from)
    cut = measured(design, derived, rows, card.filled)
    found = in_order((*card.limits, *_checked(cut.design, cut.derived, full)))
    extra: tuple[str, ...] = ()
    if options.report == "text":
        chances = binding(design, derived), binding(cut.design, cut.derived)
        extra = change_lines(design, derived, cut, chances, len(card.filled), len(rows))
    show(found, options, design.name, design.title, design.revision, extra)
    code = exit_code(found, options.fail_from)
    return max(code, 1) if cut.apart else code


def _checked(design: Design, derived: Derived, full: bool) -> list[Diagnostic]:
    """All findings of the parts as they are, with the file's acceptances."""
    from trivet.checks._accept import accept
    from trivet.checks._check import not_run, run_checks
    from trivet.rules import all_rules

    found = run_checks(design, derived, full)
    return accept(design, found, all_rules(), () if full else not_run()) if design.accepts else found
