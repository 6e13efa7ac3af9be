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
  trivet check plan.trivet --over                    at every corner of the
                                                     ranges it declares
  trivet check plan.trivet --measured card.csv       the parts as they came
                                                     off the machine
Each finding ends with its rule in [brackets]; `trivet explain RULE` says why
the rule is there and shows an example."""


def add(commands: Commands) -> None:
    """The parser of the command."""
    parser = command(commands, "check", "say what will not work, and what would", _DESCRIPTION, _EXAMPLES)
    parser.set_defaults(run=run)
    add_fixture(parser, several=True)
    add_many(parser)
    depth = parser.add_mutually_exclusive_group()
    depth.add_argument("--full", action="store_true", help="run the slow checks too, as compile does")
    parser.add_argument("--measured", default="", metavar="CARD",
                        help="the inspection card as filled in: says before assembly what the parts will do as they are")  # fmt: skip
    depth.add_argument("--over", action="store_true", help="try the plan over the ranges that it declares: parameters within a"
                        " range, one_of, for_sheets, up_to; every corner and the worst places between")  # fmt: skip


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    if is_many(parsed) and (parsed.over or parsed.measured):
        from trivet.commands._input import MISUSE, print_text

        print_text("trivet check: --over and --measured are for one file\n", error=True)
        return MISUSE
    if is_many(parsed):
        return run_many(parsed)

    def once() -> int:
        return _once(parsed)

    if parsed.watch:
        from trivet.commands._watch import watched

        return watched(once, (parsed.files[0],), parsed.shop)
    return once()


def _once(parsed: argparse.Namespace) -> int:
    if parsed.over and parsed.measured:
        from trivet.commands._input import MISUSE, print_text

        print_text("trivet check: --over and --measured do not go together: measured parts are one set\n", error=True)
        return MISUSE
    if parsed.over:
        from trivet.commands.over import run as run_over

        return run_over(options_of(parsed))
    if parsed.measured:
        from trivet.commands.measured import run as run_measured

        return run_measured(options_of(parsed), parsed.measured, parsed.full)
    from trivet.commands.check import run as run_check

    return run_check(options_of(parsed), parsed.full)
