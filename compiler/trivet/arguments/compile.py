"""Arguments of `trivet compile`."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, add_fixture, command, options_of

_DESCRIPTION = """\
Checks a fixture and, if no error stands, writes cut drawings, hardware
schedule, cut list and report."""

_EXAMPLES = """\
examples:
  trivet compile my_riser.trivet                 into out/my_riser
  trivet compile my_riser.trivet --out drawings
  trivet compile my_riser.trivet --zip           a folder to hand on, zipped
The folder is replaced as a whole, and only if trivet wrote it. With errors
nothing is written, and what was there stays."""


def add(commands: Commands) -> None:
    """The parser of the command."""
    parser = command(commands, "compile", "check, then write drawings, schedules and the report", _DESCRIPTION, _EXAMPLES)
    parser.set_defaults(run=run)
    add_fixture(parser)
    parser.add_argument("--out", default="", metavar="FOLDER", help="where to write (default: out/ and the fixture's name)")
    plain = "also write copies of the drawings with nothing in them but cuts, for machines that cut all they see"
    parser.add_argument("--plain", action="store_true", help=plain)
    parser.add_argument("--polyline", action="store_true", help="draw outlines as short straight lines, for readers without arcs")
    parser.add_argument(
        "--paper",
        choices=("A4", "Letter"),
        default=None,
        metavar="SIZE",
        help="also write templates at full size on pages of A4 or Letter, as PDF",
    )
    parser.add_argument("--watch", action="store_true", help="compile again whenever a file changes, until stopped with Ctrl-C")
    parser.add_argument("--draft", action="store_true", help="write in spite of errors; every file is marked DRAFT")
    parser.add_argument("--nest", choices=("usual", "thorough"), default="usual", metavar="HOW",
                        help="how a place on the sheets is sought for the parts: usual (the default), or thorough, which takes "
                        "half a minute a sheet, needs trivet[nest] and may differ from run to run")  # fmt: skip
    keep = "write where the parts lie beside the fixture; it is used again as long as parts and sheets stay as they are"
    parser.add_argument("--zip", action="store_true", help="also write a zip beside the folder, its revision in its name; the same bytes each time")
    parser.add_argument("--keep-placement", action="store_true", help=keep)


def run(parsed: argparse.Namespace) -> int:
    """Run the command."""
    from trivet.commands.compile import run as run_compile
    from trivet.outputs import Wanted

    wanted = Wanted(parsed.plain, parsed.draft, parsed.polyline, paper=parsed.paper)

    def once() -> int:
        return run_compile(options_of(parsed), parsed.out, wanted, parsed.nest, parsed.keep_placement, parsed.zip)

    if parsed.watch:
        from trivet.commands._watch import watched

        return watched(once, (parsed.file,), parsed.shop)
    return once()
