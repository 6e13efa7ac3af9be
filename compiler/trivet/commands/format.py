"""`trivet format`: whitespace only; the file is replaced in whole or left alone."""

from __future__ import annotations

from trivet.commands._input import FINDINGS, FINE, MISUSE, print_exact, print_fault, print_text, read_standard_input
from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles


def run(names: tuple[str, ...], check: bool, piped: str = "") -> int:
    """Format files in place; with `check` only show what would change. `-` goes from standard input to standard output."""
    from trivet.fmt.format import format_text
    from trivet.report.visible import visible

    files = DiskFiles()
    code = FINE
    for name in names:
        source = read_standard_input(files, piped or "standard-input.trivet") if name == "-" else files.read(name)
        if isinstance(source, Diagnostic):
            print_fault(source)
            code = MISUSE
            continue
        text = format_text(source)
        if name == "-" and not check:
            print_exact(text)
        elif text != source.text and check:
            print_text(f"{visible(source.name)} would change\n")
            print_text(_difference(source.text, text, source.name))
            code = max(code, FINDINGS)
        elif text != source.text:
            fault = files.replace_text(name, text)
            if fault is not None:
                print_fault(fault)
                return MISUSE
            print_text(f"{visible(name)} is formatted\n")
    return code


def _difference(old: str, new: str, name: str) -> str:
    """The lines that would change, as a unified diff, without context: spaces at a line's end are shown as such."""
    from difflib import unified_diff

    from trivet.report.visible import visible

    lines = unified_diff(old.splitlines(), new.splitlines(), name, f"{name}, formatted", n=0, lineterm="")
    return "".join(f"{visible(line)}\n" for line in lines)
