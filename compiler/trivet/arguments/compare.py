"""Arguments of `trivet compare`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, add_debug, add_parameters, command

_DESCRIPTION = """\
Says what a change of a fixture means for its maker, most important first: what
the machine does, parts to cut again, hardware to buy, findings, the rest."""

_EXAMPLES = """\
examples:
  trivet compare old.trivet new.trivet
  trivet compare --git HEAD~1 riser.trivet        a revision against the file
  trivet compare --git main..work riser.trivet    two revisions
  trivet compare a.trivet b.trivet --overlay changes
as git's diff driver (git gives seven arguments, nine for a renamed file):
  git config diff.trivet.command "trivet compare"
  echo "*.trivet diff=trivet" >> .gitattributes
The exit code is 0 whatever is different, 2 where a file cannot be read."""


def add(commands: Commands) -> None:
    """The parser of the command."""
    parser = command(commands, "compare", "what a change of a fixture means for its maker", _DESCRIPTION, _EXAMPLES)
    parser.set_defaults(run=run)
    parser.add_argument(
        "files", nargs="+", metavar="FILE", help="the old and the new file; with --git one file; or git's own arguments"
    )
    parser.add_argument(
        "--git", dest="revision", default="", metavar="REV", help="the old one as it stood in this revision, or A..B for both"
    )
    parser.add_argument(
        "--report",
        choices=("text", "markdown", "json"),
        default="text",
        metavar="FORM",
        help="text (the default), markdown or json",
    )
    parser.add_argument(
        "--overlay", default="", metavar="FOLDER", help="also draw old and new outlines of the parts to cut again, as SVG"
    )
    add_parameters(parser, standard_input=False)
    add_debug(parser)


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    from trivet.commands.compare import Wanted
    from trivet.commands.compare import run as run_compare

    wanted = Wanted(parsed.report, parsed.overlay, parsed.shop, dict(parsed.settings))
    return run_compare(tuple(parsed.files), parsed.revision, wanted)
