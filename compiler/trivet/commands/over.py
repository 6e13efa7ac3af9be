"""`trivet check --over`: a plan at every corner of what it is declared for, and at the worst places between."""

from __future__ import annotations

import sys

from trivet.commands._input import FINDINGS, FINE, MISUSE, Options, exit_code, print_text, read, show


def run(options: Options) -> int:
    """Try one fixture over its ranges; returns the exit code: 1 when any place fails."""
    if options.report not in ("text", "json"):
        print_text(f"trivet: `--over` prints text or json, not {options.report}\n", error=True)
        return MISUSE
    sources = read(options)
    if sources.main is None or sources.faults:
        show(sources.faults, options, options.file)
        return exit_code(sources.faults, options.fail_from)
    from trivet.commands._over_text import json_text, text_lines
    from trivet.commands._progress import Progress
    from trivet.inputs import read_parts
    from trivet.over import over
    from trivet.pipeline import check_parts

    parts, found = read_parts(sources.main, sources.files, sources.shop)
    written = check_parts(parts, found, options.settings, full=False)
    design = written.design
    if design is None:
        show(written.findings, options, "")
        return exit_code(written.findings, options.fail_from)
    progress = Progress("places")
    try:
        tried = over(parts, found, options.settings, design, options.fail_from, progress)  # type: ignore[arg-type]  # the option's choices are the severities
    except KeyboardInterrupt:
        progress.clear()
        print_text(f"trivet: stopped after {progress.done} of at most {progress.of} places; nothing is proven\n", error=True)
        return MISUSE
    progress.clear()
    if options.report == "json":
        print_text(json_text(tried, design, written.findings, options.settings))
    else:
        for line in text_lines(tried, design, options, _command(options)):
            print_text(f"{line}\n")
    if any(item.fault_of_ours for case in tried.failing for item in case.failing):
        return MISUSE
    if tried.ranges:
        return FINDINGS if tried.failing else FINE
    return exit_code(written.findings, options.fail_from)


def _command(options: Options) -> str:
    """The start of a command line that checks one place."""
    shop = f" --shop {_quoted(options.shop)}" if options.shop else ""
    fixed = "".join(f' --set "{name}={text}"' for name, text in options.settings.items())
    return f"trivet check {_quoted(options.file)}{shop}{fixed}"


def _quoted(text: str) -> str:
    if sys.platform == "win32":
        return f'"{text}"' if " " in text else text
    import shlex

    return shlex.quote(text)
