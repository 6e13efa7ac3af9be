"""`trivet start --for-editor`: the files that an editor needs."""

from __future__ import annotations

from trivet.commands._input import FINE, MISUSE, print_fault, print_text
from trivet.files import DiskFiles, editor_files


def run(folder: str) -> int:
    """Write the files into a folder that exists. A file that exists is never replaced."""
    from trivet.report.visible import visible

    for name, text in editor_files().items():
        path = f"{folder.rstrip('/') or '/'}/{name}"
        fault = DiskFiles().create_text(path, text)
        if fault is not None:
            print_fault(fault)
            return MISUSE
        print_text(f"wrote {visible(path)}\n")
    return FINE
