"""Arguments of `trivet format`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, command


def add(commands: Commands) -> None:
    """The parser of the command."""
    description = "Sets spaces and line ends; words, numbers and comments stay as they are."
    parser = command(commands, "format", "tidy the whitespace of files, nothing else", description)
    parser.set_defaults(run=run)
    parser.add_argument("files", nargs="+", metavar="FILE", help="a file to format in place, or - for standard input")
    parser.add_argument(
        "--check", action="store_true", help="change nothing; show what would change, and exit 1 if something would"
    )
    parser.add_argument("--as", dest="name", default="", metavar="NAME", help="what messages call standard input")


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    from trivet.commands.format import run as run_format

    return run_format(tuple(parsed.files), parsed.check, parsed.name)
