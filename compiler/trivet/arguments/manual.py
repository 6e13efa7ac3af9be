"""Arguments of `trivet manual`, and the command: the parser that it describes is here."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, command

_EXAMPLES = """\
examples:
  trivet manual > trivet.1 && man ./trivet.1"""


def add(commands: Commands) -> None:
    """The parser of the command."""
    description = "Prints the manual page of all commands, for man."
    command(commands, "manual", "the manual page, for man", description, _EXAMPLES).set_defaults(run=run)


def run(parsed: argparse.Namespace) -> int:
    """Print the page."""
    from argparse_manpage.manpage import Manpage

    from trivet import __version__
    from trivet.cli import whole_parser
    from trivet.commands._input import FINE, print_text

    parser = whole_parser()
    data = {"project_name": "trivet", "version": __version__, "manual_title": "trivet", "date": ""}
    print_text(str(Manpage(parser, _data=data)))
    return FINE
