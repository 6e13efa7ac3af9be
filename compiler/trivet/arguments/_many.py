"""Arguments of `trivet check` for folders, projects and build services."""

from __future__ import annotations

import argparse
import os


def add_many(parser: argparse.ArgumentParser) -> None:
    """Which fixtures count, and which findings."""
    parser.add_argument(
        "--changed-since",
        default="",
        metavar="REV",
        help="of the fixtures, only those that differ from a revision, or that read a file that does",
    )
    known = parser.add_mutually_exclusive_group()
    known.add_argument("--baseline", default="", metavar="FILE", help="do not show or count the findings that this file knows")
    known.add_argument("--write-baseline", default="", metavar="FILE", help="keep the findings of now in a file for --baseline")
    parser.add_argument(
        "--jobs", type=_jobs, default=0, metavar="N", help="fixtures to check at a time (default: one for each processor)"
    )
    parser.add_argument("--watch", action="store_true", help="check again whenever a file changes, until stopped with Ctrl-C")


def is_many(parsed: argparse.Namespace) -> bool:
    """Whether more than one plain file is asked for."""
    asked = parsed.changed_since or parsed.baseline or parsed.write_baseline
    return bool(asked) or len(parsed.files) > 1 or os.path.isdir(parsed.files[0])


def run_many(parsed: argparse.Namespace) -> int:
    """Run the command on all of them."""
    from trivet.arguments._common import options_of
    from trivet.commands.check_many import Many, run

    if "-" in parsed.files:
        from trivet.commands._input import MISUSE, print_text

        print_text("trivet: standard input is checked alone\n", error=True)
        return MISUSE
    paths = tuple(parsed.files)
    many = Many(paths, parsed.full, parsed.baseline, parsed.write_baseline, parsed.changed_since, parsed.jobs)
    if parsed.watch:
        from trivet.commands._watch import watched

        return watched(lambda: run(options_of(parsed), many), paths, parsed.shop)
    return run(options_of(parsed), many)


def _jobs(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 256:
        raise argparse.ArgumentTypeError(f"{text[:20]!r} is not a number from 1 to 256")
    return int(text)
