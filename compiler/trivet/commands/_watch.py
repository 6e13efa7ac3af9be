"""Running a command again whenever a file that it reads changes."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence

from trivet.commands._input import FINE, print_text


def watched(run: Callable[[], int], paths: Sequence[str], shop: str) -> int:
    """Run, wait for a change, clear a terminal and run again; ends well with Ctrl-C. The exit codes of the runs are not kept."""
    from trivet.watching import wait_for_change

    try:
        while True:
            if sys.stdout is not None and sys.stdout.isatty():
                print_text("\x1b[2J\x1b[H")
            run()
            print_text("watching; Ctrl-C ends it\n")
            if sys.stdout is not None:
                sys.stdout.flush()
            if not wait_for_change(_inputs(paths, shop)):
                return FINE
    except KeyboardInterrupt:
        return FINE


def _inputs(paths: Sequence[str], shop: str) -> tuple[str, ...]:
    """All files that the result depends on; each time anew, since what is read may change."""
    from trivet.files import DiskFiles
    from trivet.inputs import read_parts
    from trivet.project_file import NAME, ProjectText, find_project
    from trivet.source import SourceFile
    from trivet.walk import fixtures_in

    found: dict[str, None] = {}
    files = DiskFiles()
    for path in fixtures_in(paths)[0]:
        found[path] = None
        folder = path.rpartition("/")[0]
        project = find_project(path)
        found[project.source.name if isinstance(project, ProjectText) else f"{folder or '.'}/{NAME}"] = None
        source = files.read(path)
        if isinstance(source, SourceFile):
            found |= dict.fromkeys(part.document.file.name for part in read_parts(source, files, None)[0])
    if shop:
        found[shop] = None
    return tuple(found)
