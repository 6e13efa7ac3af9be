"""`trivet check` on folders and several files, in parallel; with a baseline, and only what changed."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence

from trivet.commands._input import FINE, MISUSE, Options, exit_code, print_fault, print_text, read, show
from trivet.commands._project import belongs, checked
from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles
from trivet.record import field, record, replace

# Starting a process costs about as much as checking this many fixtures.
_FEW = 4


@record
class Many:
    """Which fixtures, and what counts: `baseline` names known findings, `write_baseline` where to keep those of now."""

    paths: tuple[str, ...]
    full: bool = False
    baseline: str = ""
    write_baseline: str = ""
    changed_since: str = ""
    jobs: int = 0


@record
class Checked:
    """What came of one fixture."""

    path: str
    name: str = ""
    title: str = ""
    revision: str = ""
    findings: tuple[Diagnostic, ...] = field(default_factory=tuple)


def run(options: Options, many: Many) -> int:
    """Check all; returns the worst exit code. The output is in the order of the files whatever ran first."""
    from trivet.walk import fixtures_in

    paths, faults = fixtures_in(many.paths)
    if many.changed_since and not faults:
        from trivet.changed import touched

        found = touched(paths, many.changed_since, (options.shop,) if options.shop else ())
        if isinstance(found, Diagnostic):
            faults = (found,)
        else:
            paths = found
    if faults:
        for fault in faults:
            print_fault(fault)
        return MISUSE
    results = _each_once(_all(options, many, paths))
    known = _apply_baseline(results, many)
    if isinstance(known, Diagnostic):
        print_fault(known)
        return MISUSE
    results, remarks = known
    _show(results, options, remarks)
    return max((exit_code(item.findings, options.fail_from) for item in results), default=FINE)


def _all(options: Options, many: Many, paths: Sequence[str]) -> Iterator[Checked]:
    jobs = min(many.jobs or os.cpu_count() or 1, max(1, len(paths) // _FEW))
    if not paths:
        return
    # The first one here: what it imports and builds, the others then have from the start.
    yield _one(options, many.full, paths[0])
    if jobs <= 1:
        yield from (_one(options, many.full, path) for path in paths[1:])
        return
    from concurrent.futures import ProcessPoolExecutor
    from functools import partial
    from multiprocessing import get_all_start_methods, get_context

    context = get_context("fork" if "fork" in get_all_start_methods() else "spawn")
    with ProcessPoolExecutor(jobs, mp_context=context) as pool:
        try:
            yield from pool.map(partial(_one, options, many.full), paths[1:], chunksize=max(1, len(paths) // (jobs * 8)))
        except KeyboardInterrupt:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _each_once(results: Iterable[Checked]) -> tuple[Checked, ...]:
    """The results, findings in files that several fixtures read at the first of them only."""
    seen: set[object] = set()
    kept = []
    for result in results:
        kept.append(replace(result, findings=tuple(item for item in result.findings if _place(item) not in seen)))
        seen |= {_place(item) for item in result.findings}
    return tuple(kept)


def _place(item: Diagnostic) -> object:
    """What makes two findings one: files are read anew for each fixture, so their places are compared by name."""
    span = item.span
    return item.rule, item.message, item.accepted, None if span is None else (span.file.name, span.start, span.end)


def _one(options: Options, full: bool, path: str) -> Checked:
    sources = read(replace(options, file=path))
    if sources.main is None or sources.faults:
        return Checked(path, findings=sources.faults)
    result = checked(sources.main, sources.files, options.settings, sources.shop, full, belongs(path))
    design = result.design
    if design is None:
        return Checked(path, findings=result.findings)
    return Checked(path, design.name, design.title, design.revision, result.findings)


def _apply_baseline(results: tuple[Checked, ...], many: Many) -> tuple[tuple[Checked, ...], tuple[str, ...]] | Diagnostic:
    """The results without what the baseline knows, and lines about it; or why it cannot be read or written."""
    from trivet.baseline import baseline_of, baseline_text, new_findings

    every = [item for result in results for item in result.findings]
    if many.write_baseline:
        text = baseline_text(every, os.path.dirname(many.write_baseline))
        files = DiskFiles()
        fault = (
            files.replace_text(many.write_baseline, text)
            if os.path.exists(many.write_baseline)
            else files.create_text(many.write_baseline, text)
        )
        return fault if fault is not None else (results, (f"wrote {many.write_baseline}",))
    if not many.baseline:
        return results, ()
    source = DiskFiles().read(many.baseline)
    known = source if isinstance(source, Diagnostic) else baseline_of(source)
    if isinstance(known, Diagnostic):
        return known
    kept, hidden, gone = new_findings(every, known, os.path.dirname(many.baseline))
    left = set(map(id, kept))
    fresh = tuple(replace(result, findings=tuple(item for item in result.findings if id(item) in left)) for result in results)
    remarks = [f"{hidden} known {'finding is' if hidden == 1 else 'findings are'} not shown: {many.baseline}"]
    if gone and not many.changed_since:
        remarks.append(f"{gone} known {'finding is' if gone == 1 else 'findings are'} found no more: write the baseline anew")
    return fresh, tuple(remarks)


def _show(results: tuple[Checked, ...], options: Options, remarks: tuple[str, ...]) -> None:
    if options.report == "json":
        print_text(_json(results, options))
        return
    found = tuple(item for result in results for item in result.findings)
    bad = sum(any(item.severity == "error" and not item.accepted for item in result.findings) for result in results)
    count = f"{len(results)} {'fixture' if len(results) == 1 else 'fixtures'} checked, {bad} with errors"
    show(found, options, "", extra=(count, *remarks))


def _json(results: tuple[Checked, ...], options: Options) -> str:
    from trivet import __version__
    from trivet.report.json import ascii_json, finding_rows, status

    rows = [
        {
            "path": item.path,
            "fixture": {
                "name": item.name,
                "title": item.title,
                "revision": item.revision,
                "version": __version__,
                "parameters": dict(options.settings),
            },
            "status": status(item.findings),
            "findings": finding_rows(item.findings),
        }
        for item in results
    ]
    return ascii_json({"fixtures": rows}, indent=2) + "\n"
