"""`trivet start`: a commented file that compiles."""

from __future__ import annotations

from trivet.commands._input import FINE, MISUSE, print_exact, print_fault, print_text
from trivet.files import DiskFiles, template_text


def run(name: str, inch: bool, base: bool) -> int:
    """Write a commented fixture to `name`; without a name, print it. An existing file is never replaced."""
    if base:
        from trivet.checks._examples import BASE

        print_exact(BASE)
        return FINE
    text = template_text("inch" if inch else "metric")
    if not name:
        print_exact(text)
        return FINE
    fault = DiskFiles().create_text(name, text)
    if fault is not None:
        print_fault(fault)
        return MISUSE
    from trivet.report.visible import visible

    print_text(f"wrote {visible(name)}; `trivet check {visible(name)}` checks it\n")
    return FINE
