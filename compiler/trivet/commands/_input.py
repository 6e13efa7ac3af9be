"""What commands share: reading the file and the shop's, settings, and printing findings in the form asked for."""

from __future__ import annotations

import os
import sys

from trivet import __version__
from trivet.diagnostics import Diagnostic, rank
from trivet.files import DiskFiles
from trivet.record import field, record
from trivet.source import SourceFile

FINE, FINDINGS, MISUSE = 0, 1, 2

# Rules whose findings are about reading or writing, not about the fixture: exit code 2.
_UNREADABLE = frozenset({"unreadable-file", "read-outside-project", "foreign-output-folder", "output-not-written", "check-crashed"})


@record
class Options:
    """The options that `check` and `compile` have in common."""

    file: str
    name: str = ""
    shop: str = ""
    settings: dict[str, str] = field(default_factory=dict)
    report: str = "text"
    fail_from: str = "error"
    debug: bool = False


@record
class Sources:
    """The files as read; `faults` where one cannot be."""

    main: SourceFile | None
    shop: SourceFile | None
    files: DiskFiles
    faults: tuple[Diagnostic, ...] = ()


def read(options: Options) -> Sources:
    """The fixture's file (or standard input for `-`) and the shop's."""
    files = DiskFiles()
    faults = []
    piped = options.file == "-"
    main = read_standard_input(files, options.name or "standard-input.trivet") if piped else files.read(options.file)
    shop = files.read(options.shop) if options.shop else None
    if isinstance(main, Diagnostic):
        faults.append(main)
    if isinstance(shop, Diagnostic):
        faults.append(shop)
    return Sources(
        main if isinstance(main, SourceFile) else None, shop if isinstance(shop, SourceFile) else None, files, tuple(faults)
    )


def read_standard_input(files: DiskFiles, name: str) -> SourceFile | Diagnostic:
    """Standard input to its end; where it is closed, or a terminal sends nothing, that is an empty file or a finding."""
    if sys.stdin is None:
        return Diagnostic("unreadable-file", "error", "standard input cannot be read: it is closed", None)
    try:
        return files.read_stream(sys.stdin.buffer, name)
    except OSError as error:
        reason = (error.strerror or "the system refused").lower()
        return Diagnostic("unreadable-file", "error", f"standard input cannot be read: {reason}", None)


def exit_code(found: tuple[Diagnostic, ...], fail_from: str) -> int:
    """0 below the threshold, 1 for findings, 2 for what cannot be read and for faults of ours."""
    if any(item.fault_of_ours or item.rule in _UNREADABLE or item.span is None for item in found):
        return MISUSE
    threshold = rank(fail_from)  # type: ignore[arg-type]  # the option's choices are the severities
    return FINDINGS if any(rank(item.severity) <= threshold and not item.accepted for item in found) else FINE


def show(
    found: tuple[Diagnostic, ...], options: Options, fixture: str, title: str = "", revision: str = "", extra: tuple[str, ...] = ()
) -> None:
    """Print findings in the form asked for; `extra` lines follow in the form for people."""
    form = options.report
    if form == "text":
        from trivet.report.terminal import terminal

        print_text(terminal(found, colour=_colour(), width=_width()))
        for line in extra:
            print_text(line + "\n")
    elif form == "json":
        from trivet.report.json import json_report

        print_text(
            json_report(
                found, fixture=fixture, version=__version__, title=title, revision=revision, parameters=dict(options.settings)
            )
        )
    elif form == "jsonl":
        from trivet.report.jsonl import json_lines

        print_text(json_lines(found))
    elif form == "annotations":
        from trivet.report.annotations import annotation_lines

        print_text(annotation_lines(found))
    else:
        from trivet.report.sarif import sarif
        from trivet.rules import all_rules

        print_text(sarif(found, version=__version__, rules=tuple(all_rules().values())))


def print_text(text: str, error: bool = False) -> None:
    """Write to standard output, or with `error` to standard error; what its encoding lacks is shown as an escape."""
    stream = sys.stderr if error else sys.stdout
    if stream is None:
        return
    encoding = stream.encoding or "utf-8"
    stream.write(text.encode(encoding, "backslashreplace").decode(encoding))


def print_exact(text: str) -> None:
    """Write a file's text to standard output as a file holds it: in UTF-8, whatever the terminal's encoding."""
    if sys.stdout is not None:
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode("utf-8"))
        sys.stdout.buffer.flush()


def print_fault(fault: Diagnostic) -> None:
    """A finding about reading or writing, to standard error: standard output may be on its way into a file."""
    from trivet.report.terminal import terminal

    print_text(terminal((fault,)), error=True)


def _colour() -> bool:
    # The convention of NO_COLOR: set and not empty means no colour.
    return sys.stdout is not None and sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _width() -> int:
    try:
        return max(60, os.get_terminal_size(sys.stdout.fileno()).columns)
    except (AttributeError, OSError, ValueError):
        return 100
