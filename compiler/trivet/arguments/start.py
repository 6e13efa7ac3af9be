"""Arguments of `trivet start`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, command


def add(commands: Commands) -> None:
    """The parser of the command."""
    description = "Writes a commented fixture that compiles, to change step by step."
    parser = command(commands, "start", "write a commented fixture that compiles", description)
    parser.set_defaults(run=run)
    parser.add_argument(
        "file", nargs="?", default="", metavar="FILE", help="the file to write, such as my_riser.trivet; without it, print"
    )
    parser.add_argument("--inch", action="store_true", help="inch sizes and unified threads")
    parser.add_argument(
        "--for-editor", dest="editor", default="", metavar="FOLDER", help="write instead what an editor needs: colours and how to set it up"
    )
    parser.add_argument("--base", action="store_true", help="print the file that the examples of `explain` edit")


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    if parsed.editor:
        from trivet.commands.start_editor import run as run_editor

        return run_editor(parsed.editor)
    from trivet.commands.start import run as run_start

    return run_start(parsed.file, parsed.inch, parsed.base)
