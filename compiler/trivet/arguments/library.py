"""Arguments of `trivet library`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, command


def add(commands: Commands) -> None:
    """The parser of the command."""
    description = "Lists the tables of hardware, or the rows that hold a word, each with its\nsource."
    parser = command(commands, "library", "what hardware is known, with its sources", description)
    parser.set_defaults(run=run)
    parser.add_argument(
        "word", nargs="?", default="", metavar="WORD", help="a table, a kind, a standard or a size, such as nut, ISO 4762 or M8"
    )


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    from trivet.commands.library import run as run_library

    return run_library(parsed.word)
