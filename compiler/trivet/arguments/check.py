"""Arguments of `trivet check`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, add_fixture, command, options_of
from trivet.arguments._many import add_many, is_many, run_many

_DESCRIPTION = """\
Reads a fixture, works out what follows from it, and says what will not work
and which number would. Writes no file."""

_EXAMPLES = """\
examples:
  trivet check my_riser.trivet
  trivet check my_riser.trivet --set "play=0.6 mm"   another value, this once
  trivet check plan.trivet --shop mine.trivet        a stranger's plan, your
                                                     sheets and cutters
Each finding ends with its rule in [brackets]; `trivet explain RULE` says why
the rule is there and shows an example."""


def add(commands: Commands) -> None:
    """The parser of the command."""
    parser = command(commands, "check", "say what will not work, and what would", _DESCRIPTION, _EXAMPLES)
    parser.set_defaults(run=run)
    add_fixture(parser, several=True)
    add_many(parser)
    parser.add_argument("--full", action="store_true", help="run the slow checks too, as compile does")


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    if is_many(parsed):
        return run_many(parsed)
    from trivet.commands.check import run as run_check

    def once() -> int:
        return run_check(options_of(parsed), parsed.full)

    if parsed.watch:
        from trivet.commands._watch import watched

        return watched(once, (parsed.files[0],), parsed.shop)
    return once()
