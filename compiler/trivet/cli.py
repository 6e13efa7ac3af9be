"""The `trivet` command: arguments to commands, and what happens when something goes wrong that nobody foresaw."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module

from trivet import __version__
from trivet.arguments._common import Plain, no_setting_twice

# In the order of the help; each is a module in `arguments`.
_COMMANDS = ("check", "compile", "compare", "format", "explain", "library", "start", "serve", "completion", "manual")

_MORE = """\
to begin:
  trivet start my_riser.trivet     a commented file, to change step by step
  trivet check my_riser.trivet     what will not work, and what would
  trivet compile my_riser.trivet   drawings and schedules into out/my_riser

`trivet COMMAND --help` says more about a command.
exit codes: 0 fine, 1 findings, 2 wrong use, unreadable input or a fault of
trivet"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    # The validation library looks for plug-ins in every installed package, which costs a sixth of a cold check; trivet has none.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # Importing makes many objects and no garbage: collecting as often as usual costs a tenth of a cold check.
    gc.set_threshold(50_000)
    given = sys.argv[1:] if arguments is None else list(arguments)
    # Making the parsers of all commands costs a twentieth of a cold check; one that is named first is all that is asked for.
    parser = _parser(given[:1] if given and given[0] in _COMMANDS else _COMMANDS)
    parsed = parser.parse_args(given)
    no_setting_twice(parser, parsed)
    try:
        if parsed.command is None:
            parser.print_help(sys.stderr)
            return 2
        code: int = parsed.run(parsed)
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


def whole_parser() -> argparse.ArgumentParser:
    """The parser of all commands."""
    return _parser(_COMMANDS)


def _parser(names: Sequence[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="trivet",
        description="Checks and compiles geared, height-adjustable shop fixtures cut from sheet\nstock.",
        epilog=_MORE,
        formatter_class=Plain,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"trivet {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    for name in names:
        import_module(f"trivet.arguments.{name}").add(commands)
    return parser


if __name__ == "__main__":
    sys.exit(main())
