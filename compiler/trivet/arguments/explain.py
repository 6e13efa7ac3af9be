"""Arguments of `trivet explain`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, add_debug, add_parameters, command

_DESCRIPTION = """\
Prints the page of a rule, or the list of all rules; with --in, how a number of
the fixture's report comes about: places, formulas, and the numbers put in."""

_EXAMPLES = """\
examples:
  trivet explain few-teeth                    why a finding matters
  trivet explain travel --in my_riser.trivet  how a number comes about
  trivet explain backlash hub west --in my_riser.trivet
  trivet explain --in my_riser.trivet         the quantities to ask for
  trivet explain --search washer              the rules that speak of it"""


def add(commands: Commands) -> None:
    """The parser of the command."""
    parser = command(commands, "explain", "a rule's page, or how a number comes about", _DESCRIPTION, _EXAMPLES)
    parser.set_defaults(run=run)
    parser.add_argument("words", nargs="*", metavar="RULE|QUANTITY [PART]",
                        help="a rule as a finding shows it in [brackets]; or, with --in, a quantity and its part or parts")  # fmt: skip
    parser.add_argument(
        "--in", dest="file", default="", metavar="FILE", help="the fixture whose number is explained, or - for standard input"
    )
    parser.add_argument("--search", default="", metavar="WORD", help="list the rules that hold a word")
    add_parameters(parser)
    add_debug(parser)


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    if parsed.search:
        from trivet.commands.explain import search

        return search(parsed.search)
    from trivet.commands.explain import run as run_explain

    return run_explain(parsed.words, parsed.file, parsed.name, parsed.shop, dict(parsed.settings))
