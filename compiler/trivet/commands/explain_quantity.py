"""`trivet explain QUANTITY PART --in FILE`: how a number of the report comes about."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from trivet.commands._input import FINDINGS, FINE, MISUSE, Options, exit_code, print_fault, print_text, read


def run(options: Options, quantity: str, parts: Sequence[str]) -> int:
    """Print the chain behind a number; 1 where errors keep the file from being worked out, 2 for an unknown quantity or part."""
    from trivet.pipeline import check

    sources = read(options)
    if sources.main is None or sources.faults:
        for fault in sources.faults:
            print_fault(fault)
        return exit_code(sources.faults, options.fail_from)
    result = check(sources.main, sources.files, options.settings, sources.shop)
    design, derived = result.design, result.derived
    if design is None or derived is None:
        from trivet.commands._input import show

        show(tuple(item for item in result.findings if item.severity == "error"), options, "")
        return max(FINDINGS, exit_code(result.findings, options.fail_from))
    from trivet.commands._explanation_text import agrees, explanation_text, visible_lines
    from trivet.commands._report_for import report_for
    from trivet.tables.explanation import reported
    from trivet.tables.explanation_all import entries_for
    from trivet.tables.explanation_find import find, listing

    known = entries_for(design, derived, quantity)
    if not quantity:
        print_text(visible_lines(listing(known)) + "\n")
        return FINE
    asked = find(known, quantity, parts)
    if not asked.found:
        # A list of quantities is long: it is broken at spaces, so that names stay whole.
        known_of = textwrap.fill(asked.known, 98, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False, break_long_words=False)
        print_text(visible_lines(f"trivet: {asked.trouble}\n{known_of}\n"), error=True)
        return MISUSE
    whole = report_for(design, derived, asked.found)
    parameters = {item.name.text: (item.text, item.origin) for item in design.parameters}
    code = FINE
    for index, entry in enumerate(asked.found):
        number, held = entry.explain(), reported(whole, entry.path)
        print_text(
            ("\n" if index else "") + explanation_text(entry, number, held if entry.path else None, design.units, parameters)
        )
        if entry.path and not agrees(number, held):
            print_text("trivet: a fault of trivet: this explanation gives another number than the report\n", error=True)
            code = MISUSE
    return code
