"""Arguments of `trivet completion`, and the command: the parser that it describes is here."""

from __future__ import annotations

import argparse

from trivet.arguments._common import Commands, command

_EXAMPLES = """\
examples:
  trivet completion bash > ~/.local/share/bash-completion/completions/trivet
  trivet completion zsh > _trivet          into a folder of your $fpath"""


def add(commands: Commands) -> None:
    """The parser of the command."""
    description = "Prints a script that lets a shell complete commands, options and file names."
    parser = command(commands, "completion", "a script for your shell to complete commands", description, _EXAMPLES)
    parser.set_defaults(run=run)
    parser.add_argument("shell", choices=("bash", "zsh", "tcsh"), metavar="SHELL", help="bash, zsh or tcsh")


def run(parsed: argparse.Namespace) -> int:
    """Print the script."""
    import shtab

    from trivet.cli import whole_parser
    from trivet.commands._input import FINE, print_text

    parser = whole_parser()
    _complete_files(parser, shtab.FILE)
    print_text(shtab.complete(parser, shell=parsed.shell))
    return FINE


def _complete_files(parser: argparse.ArgumentParser, how: object) -> None:
    """File names are completed where a file or folder is asked for."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for each in action.choices.values():
                _complete_files(each, how)
        elif action.metavar in ("FILE", "FOLDER"):
            action.complete = how  # type: ignore[attr-defined]  # the attribute that the completion library reads
