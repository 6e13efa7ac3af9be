"""What several commands take: the file, parameters, the form of the report."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from trivet.commands._input import Options

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


class Plain(argparse.RawDescriptionHelpFormatter):
    """Lines as they are written, as wide as the terminal.

    Without a width the standard library asks `shutil`, which loads every compressor it knows, once for each argument.
    """

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=_columns() - 2)


def _columns() -> int:
    """Columns of the terminal; 80 where there is none."""
    stated = os.environ.get("COLUMNS", "")
    if stated.isdecimal() and int(stated):
        return int(stated)
    try:
        return os.get_terminal_size(sys.__stdout__.fileno()).columns or 80 if sys.__stdout__ is not None else 80
    except (OSError, ValueError, AttributeError):
        return 80


def command(commands: Commands, name: str, help: str, description: str, examples: str = "") -> argparse.ArgumentParser:
    """A command's parser, its lines kept as they are written."""
    parser = commands.add_parser(
        name, help=help, allow_abbrev=False, description=description, epilog=examples,
        formatter_class=Plain,
    )  # fmt: skip
    return parser


def add_fixture(parser: argparse.ArgumentParser, several: bool = False) -> None:
    """The fixture (or `several`, and folders), its parameters, and how findings are printed."""
    if several:
        parser.add_argument(
            "files", nargs="+", metavar="FILE", help="the fixture, or several, or folders of them, or - for standard input"
        )
    else:
        parser.add_argument("file", metavar="FILE", help="the fixture, or - for standard input")
    add_parameters(parser)
    add_report(parser)


def add_report(parser: argparse.ArgumentParser) -> None:
    """How findings are printed and which of them fail."""
    parser.add_argument("--report", choices=("text", "json", "jsonl", "sarif", "annotations"), default="text",
                        metavar="FORM", help="how findings are printed: text (the default), json, jsonl (one a line), "
                        "sarif or annotations (for build services)")  # fmt: skip
    parser.add_argument("--fail-from", choices=("error", "warning", "note"), default="error",
                        metavar="SEVERITY", help="the least severity that makes the exit code 1: error (the default), warning or note")  # fmt: skip
    add_debug(parser)


def add_debug(parser: argparse.ArgumentParser) -> None:
    """The trace of a fault of ours."""
    parser.add_argument("--debug", action="store_true", help="show the trace of a fault of trivet")


def add_parameters(parser: argparse.ArgumentParser, standard_input: bool = True) -> None:
    """Name of standard input where that is read, the shop's file, settings."""
    if standard_input:
        parser.add_argument("--as", dest="name", default="", metavar="NAME", help="what messages call standard input")
    parser.add_argument("--shop", default="", metavar="FILE",
                        help="a file with your sheets, cutters and hardware; they replace the author's of the same names")  # fmt: skip
    parser.add_argument("--set", dest="settings", action="append", default=[], type=_setting, metavar="NAME=VALUE",
                        help='a parameter\'s value, such as --set "play=0.5 mm"')  # fmt: skip


def options_of(parsed: argparse.Namespace) -> Options:
    """The options of `add_fixture` as a record."""
    from trivet.commands._input import Options

    return Options(
        parsed.files[0] if "files" in parsed else parsed.file,
        parsed.name,
        parsed.shop,
        dict(parsed.settings),
        parsed.report,
        parsed.fail_from,
        parsed.debug,
    )


def no_setting_twice(parser: argparse.ArgumentParser, parsed: argparse.Namespace) -> None:
    """Ends with a message of wrong use where `--set` names a parameter twice."""
    names = [name for name, _ in getattr(parsed, "settings", [])]
    for name in names:
        if names.count(name) > 1:
            parser.error(f"--set gives {name[:60]!r} twice: keep one")


def _setting(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip() or not value.strip():
        raise argparse.ArgumentTypeError(f'{text[:60]!r} is not NAME=VALUE, such as "play=0.5 mm"')
    return name.strip(), value.strip()
