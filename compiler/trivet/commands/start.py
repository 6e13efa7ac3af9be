"""`trivet start`: a commented file that compiles."""

from __future__ import annotations

from trivet.commands._input import FINE, MISUSE, print_text
from trivet.files import DiskFiles, template_text


def run(name: str, inch: bool, base: bool) -> int:
    """Write a commented fixture to `name`; without a name, print it. An existing file is never replaced."""
    if base:
        from trivet.checks._examples import BASE

        print_text(BASE)
        return FINE
    text = template_text("inch" if inch else "metric")
    if not name:
        print_text(text)
        return FINE
    fault = DiskFiles().create_text(name, text)
    if fault is not None:
        from trivet.report.terminal import terminal

        print_text(terminal((fault,)))
        return MISUSE
    print_text(f"wrote {name}; `trivet check {name}` checks it\n")
    return FINE
