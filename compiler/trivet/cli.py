"""The `trivet` command: arguments to commands, and what happens when something goes wrong that nobody foresaw."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from trivet import __version__

_MORE = "`trivet COMMAND --help` says more. Exit codes: 0 fine, 1 findings, 2 wrong use, unreadable input or a fault of trivet."


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    parsed = _parser().parse_args(arguments)
    try:
        return _run(parsed)
    except BrokenPipeError:
        # The reader went away (`| head`): nothing is left to say, and nobody to say it to.
        sys.stderr.close()
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

            return run_check(options)
        from trivet.commands.compile import run as run_compile
        from trivet.outputs import Wanted

        return run_compile(options, parsed.out, Wanted(parsed.plain, parsed.draft))
    if command == "format":
        from trivet.commands.format import run as run_format

        return run_format(tuple(parsed.files), parsed.check)
    if command == "explain":
        from trivet.commands.explain import run as run_explain

        return run_explain(parsed.rule)
    if command == "library":
        from trivet.commands.library import run as run_library

        return run_library(parsed.word)
    from trivet.commands.start import run as run_start

    return run_start(parsed.file, parsed.inch, parsed.base)


def _setting(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip() or not value.strip():
        raise argparse.ArgumentTypeError(f'{text[:60]!r} is not NAME=VALUE, such as "play=0.5 mm"')
    return name.strip(), value.strip()


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="trivet",
        description="Checks and compiles geared, height-adjustable shop fixtures cut from sheet stock.",
        epilog=_MORE,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"trivet {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _check(commands.add_parser("check", help="say what will not work, and what would", allow_abbrev=False))
    _compile(commands.add_parser("compile", help="check, then write drawings, schedules and the report", allow_abbrev=False))
    formatting = commands.add_parser("format", help="tidy the whitespace of files, nothing else", allow_abbrev=False)
    formatting.add_argument("files", nargs="+", metavar="FILE", help="a file to format in place, or - for standard input")
    formatting.add_argument("--check", action="store_true", help="change nothing; exit 1 if a file would change")
    explain = commands.add_parser("explain", help="a rule's page: what, why, source, examples", allow_abbrev=False)
    explain.add_argument(
        "rule", nargs="?", default="", metavar="RULE", help="a rule as a finding shows it in [brackets]; without it, all rules"
    )
    library = commands.add_parser("library", help="what hardware is known, with its sources", allow_abbrev=False)
    library.add_argument(
        "word", nargs="?", default="", metavar="WORD", help="a table, a kind, a standard or a size, such as nut, ISO 4762 or M8"
    )
    start = commands.add_parser("start", help="write a commented fixture that compiles", allow_abbrev=False)
    start.add_argument(
        "file", nargs="?", default="", metavar="FILE", help="the file to write, such as my_riser.trivet; without it, print"
    )
    start.add_argument("--inch", action="store_true", help="inch sizes and unified threads")
    start.add_argument("--base", action="store_true", help="print the fixture that rule pages edit")
    return parser


def _common(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the fixture, or - for standard input")
    parser.add_argument("--as", dest="name", default="", metavar="NAME", help="the name of standard input in messages")
    parser.add_argument("--shop", default="", metavar="FILE", help="your sheets, cutters and hardware, instead of the author's")
    parser.add_argument("--set", dest="settings", action="append", default=[], type=_setting, metavar="NAME=VALUE",
                        help='a parameter\'s value, such as --set "play=0.5 mm"')  # fmt: skip
    parser.add_argument("--report", choices=("text", "json", "jsonl", "sarif", "annotations"), default="text",
                        help="the form of the findings (default text)")  # fmt: skip
    parser.add_argument("--fail-from", choices=("error", "warning", "note"), default="error",
                        help="the least severity that makes the exit code 1 (default error)")  # fmt: skip
    parser.add_argument("--debug", action="store_true", help="show the trace of a fault of trivet")


def _check(parser: argparse.ArgumentParser) -> None:
    parser.description = "Check a fixture by closed forms and say what was not run."
    _common(parser)


def _compile(parser: argparse.ArgumentParser) -> None:
    parser.description = "Check a fixture; without errors, write its outputs in one piece."
    _common(parser)
    parser.add_argument("--out", default="", metavar="FOLDER", help="where to write (default out/NAME of the fixture)")
    parser.add_argument("--plain", action="store_true", help="also write copies of the drawings without any reference layer")
    parser.add_argument("--draft", action="store_true", help="write in spite of errors, every file marked DRAFT")


if __name__ == "__main__":
    sys.exit(main())
