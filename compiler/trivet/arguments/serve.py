"""Arguments of `trivet serve`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, command

_DESCRIPTION = """\
Serves an editor that speaks the language server protocol, over standard input
and output: findings while you type, with edits that mend them, what a number
comes from, completion, renaming, formatting. The editor starts it; it writes
no file. `trivet start --for-editor FOLDER` writes what an editor needs."""


def add(commands: Commands) -> None:
    """The parser of the command."""
    parser = command(commands, "serve", "serve an editor by the language server protocol", _DESCRIPTION)
    parser.add_argument("--stdio", action="store_true", help="as without it; some editors always add it")
    parser.set_defaults(run=run)


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    from trivet.commands.serve import run as run_serve

    return run_serve()
