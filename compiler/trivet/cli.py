"""The `trivet` command: arguments to commands, and what happens when something goes wrong that nobody foresaw."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence

from trivet import __version__

_MORE = """\
to begin:
  trivet start my_riser.trivet     a commented file, to change step by step
  trivet check my_riser.trivet     what will not work, and what would
  trivet compile my_riser.trivet   drawings and schedules into out/my_riser

`trivet COMMAND --help` says more about a command.
exit codes: 0 fine, 1 findings, 2 wrong use, unreadable input or a fault of
trivet"""

_CHECK = """\
examples:
  trivet check my_riser.trivet
  trivet check my_riser.trivet --set "play=0.6 mm"   another value, this once
  trivet check plan.trivet --shop mine.trivet        a stranger's plan, your
                                                     sheets and cutters
Each finding ends with its rule in [brackets]; `trivet explain RULE` says why
the rule is there and shows an example."""

_EXPLAIN = """\
examples:
  trivet explain few-teeth                    why a finding matters
  trivet explain travel --in my_riser.trivet  how a number comes about
  trivet explain backlash hub west --in my_riser.trivet
  trivet explain --in my_riser.trivet         the quantities to ask for"""

_COMPILE = """\
examples:
  trivet compile my_riser.trivet                 into out/my_riser
  trivet compile my_riser.trivet --out drawings
The folder is replaced as a whole, and only if trivet wrote it. With errors
nothing is written, and what was there stays."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    # The validation library looks for plug-ins in every installed package, which costs a sixth of a cold check; trivet has none.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # Importing makes many objects and no garbage: collecting as often as usual costs a tenth of a cold check.
    gc.set_threshold(50_000)
    parser = _parser()
    parsed = parser.parse_args(arguments)
    _no_setting_twice(parser, getattr(parsed, "settings", []))
    try:
        if parsed.command is None:
            parser.print_help(sys.stderr)
            return 2
        code = _run(parsed)
        if sys.stdout is not None:
            sys.stdout.flush()
        return code
    except BrokenPipeError:
        # The reader went away (`| head`): nothing is left to say, and nobody to say it to, not even when Python ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 2
    except KeyboardInterrupt:
        print("trivet: stopped", file=sys.stderr)
        return 2
    except Exception as error:
        if getattr(parsed, "debug", False):
            raise
        print(f"trivet: a fault of trivet, not of your file: {type(error).__name__}: {error}", file=sys.stderr)
        print("  --debug shows where; please report it with the file", file=sys.stderr)
        return 2


def _run(parsed: argparse.Namespace) -> int:
    command = parsed.command
    if command in ("check", "compile"):
        from trivet.commands._input import Options

        options = Options(
            parsed.file, parsed.name, parsed.shop, dict(parsed.settings), parsed.report, parsed.fail_from, parsed.debug
        )
        if command == "check":
            from trivet.commands.check import run as run_check

            return run_check(options, parsed.full)
        from trivet.commands.compile import run as run_compile
        from trivet.outputs import Wanted

        return run_compile(options, parsed.out, Wanted(parsed.plain, parsed.draft, parsed.polyline))
    if command == "format":
        from trivet.commands.format import run as run_format

        return run_format(tuple(parsed.files), parsed.check)
    if command == "explain":
        from trivet.commands.explain import run as run_explain

        return run_explain(parsed.words, parsed.file, parsed.name, parsed.shop, dict(parsed.settings))
    if command == "library":
        from trivet.commands.library import run as run_library

        return run_library(parsed.word)
    from trivet.commands.start import run as run_start

    return run_start(parsed.file, parsed.inch, parsed.base)


def _no_setting_twice(parser: argparse.ArgumentParser, settings: Sequence[tuple[str, str]]) -> None:
    names = [name for name, _ in settings]
    for name in names:
        if names.count(name) > 1:
            parser.error(f"--set gives {name[:60]!r} twice: keep one")


def _setting(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip() or not value.strip():
        raise argparse.ArgumentTypeError(f'{text[:60]!r} is not NAME=VALUE, such as "play=0.5 mm"')
    return name.strip(), value.strip()


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="trivet",
        description="Checks and compiles geared, height-adjustable shop fixtures cut from sheet\nstock.",
        epilog=_MORE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"trivet {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    _check(commands.add_parser("check", help="say what will not work, and what would", allow_abbrev=False))
    _compile(commands.add_parser("compile", help="check, then write drawings, schedules and the report", allow_abbrev=False))
    formatting = commands.add_parser("format", help="tidy the whitespace of files, nothing else", allow_abbrev=False)
    formatting.description = "Sets spaces and line ends; words, numbers and comments stay as they are."
    formatting.add_argument("files", nargs="+", metavar="FILE", help="a file to format in place, or - for standard input")
    formatting.add_argument("--check", action="store_true", help="change nothing; exit 1 if a file would change")
    _explain(commands.add_parser("explain", help="a rule's page, or how a number comes about", allow_abbrev=False))
    library = commands.add_parser("library", help="what hardware is known, with its sources", allow_abbrev=False)
    library.description = "Lists the tables of hardware, or the rows that hold a word, each with its source."
    library.add_argument(
        "word", nargs="?", default="", metavar="WORD", help="a table, a kind, a standard or a size, such as nut, ISO 4762 or M8"
    )
    start = commands.add_parser("start", help="write a commented fixture that compiles", allow_abbrev=False)
    start.description = "Writes a commented fixture that compiles, to change step by step."
    start.add_argument(
        "file", nargs="?", default="", metavar="FILE", help="the file to write, such as my_riser.trivet; without it, print"
    )
    start.add_argument("--inch", action="store_true", help="inch sizes and unified threads")
    start.add_argument("--base", action="store_true", help="print the file that the examples of `explain` edit")
    return parser


def _common(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the fixture, or - for standard input")
    _parameters(parser)
    parser.add_argument("--report", choices=("text", "json", "jsonl", "sarif", "annotations"), default="text",
                        metavar="FORM", help="how findings are printed: text (the default), json, jsonl (one a line), "
                        "sarif or annotations (for build services)")  # fmt: skip
    parser.add_argument("--fail-from", choices=("error", "warning", "note"), default="error",
                        metavar="SEVERITY", help="the least severity that makes the exit code 1: error (the default), warning or note")  # fmt: skip
    parser.add_argument("--debug", action="store_true", help="show the trace of a fault of trivet")


def _parameters(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--as", dest="name", default="", metavar="NAME", help="what messages call standard input")
    parser.add_argument("--shop", default="", metavar="FILE",
                        help="a file with your sheets, cutters and hardware; they replace the author's of the same names")  # fmt: skip
    parser.add_argument("--set", dest="settings", action="append", default=[], type=_setting, metavar="NAME=VALUE",
                        help='a parameter\'s value, such as --set "play=0.5 mm"')  # fmt: skip


def _check(parser: argparse.ArgumentParser) -> None:
    parser.description = (
        "Reads a fixture, works out what follows from it, and says what will not work\nand which number would. Writes no file."
    )
    parser.epilog = _CHECK
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    _common(parser)
    parser.add_argument("--full", action="store_true", help="run the slow checks too, as compile does")


def _explain(parser: argparse.ArgumentParser) -> None:
    parser.description = (
        "Prints the page of a rule, or the list of all rules; with --in, how a number of\n"
        "the fixture's report comes about: places, formulas, and the numbers put in."
    )
    parser.epilog = _EXPLAIN
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("words", nargs="*", metavar="RULE|QUANTITY [PART]",
                        help="a rule as a finding shows it in [brackets]; or, with --in, a quantity and its part or parts")  # fmt: skip
    parser.add_argument(
        "--in", dest="file", default="", metavar="FILE", help="the fixture whose number is explained, or - for standard input"
    )
    _parameters(parser)
    parser.add_argument("--debug", action="store_true", help="show the trace of a fault of trivet")


def _compile(parser: argparse.ArgumentParser) -> None:
    parser.description = "Checks a fixture and, if no error stands, writes cut drawings, hardware\nschedule, cut list and report."
    parser.epilog = _COMPILE
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    _common(parser)
    parser.add_argument("--out", default="", metavar="FOLDER", help="where to write (default: out/ and the fixture's name)")
    plain = "also write copies of the drawings with nothing in them but cuts, for machines that cut all they see"
    parser.add_argument("--plain", action="store_true", help=plain)
    parser.add_argument("--polyline", action="store_true", help="draw outlines as short straight lines, for readers without arcs")
    parser.add_argument("--draft", action="store_true", help="write in spite of errors; every file is marked DRAFT")


if __name__ == "__main__":
    sys.exit(main())
