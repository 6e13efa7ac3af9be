"""`trivet format`: whitespace only; the file is replaced in whole or left alone."""

from __future__ import annotations

import sys

from trivet.commands._input import FINDINGS, FINE, MISUSE, Options, exit_code, print_text, show
from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles


def run(names: tuple[str, ...], check: bool) -> int:
    """Format files in place; with `check` only say which would change. `-` goes from standard input to standard output."""
    from trivet.fmt.format import format_text

    files = DiskFiles()
    code = FINE
    for name in names:
        source = files.read_stream(sys.stdin.buffer, "standard-input.trivet") if name == "-" else files.read(name)
        if isinstance(source, Diagnostic):
            show((source,), Options(name), "")
            code = max(code, exit_code((source,), "error"))
            continue
        text = format_text(source)
        if name == "-" and not check:
            print_text(text)
        elif text != source.text and check:
            print_text(f"{name} would change\n")
            code = max(code, FINDINGS)
        elif text != source.text:
            fault = files.replace_text(name, text)
            if fault is not None:
                show((fault,), Options(name), "")
                return MISUSE
            print_text(f"{name} is formatted\n")
    return code
