"""`trivet compile`: checks first, then writes the whole output folder or nothing."""

from __future__ import annotations

from trivet.commands._input import MISUSE, Options, exit_code, print_text, read, show
from trivet.diagnostics import Diagnostic
from trivet.outputs import Wanted
from trivet.source import SourceFile


def run(options: Options, out: str, wanted: Wanted) -> int:
    """Compile one fixture into `out` (by default `out/<fixture>`); returns the exit code."""
    from trivet.output_folder import recover
    from trivet.pipeline import check
    from trivet.tables.file_names import safe_file_name

    sources = read(options)
    if sources.main is None or sources.faults:
        show(sources.faults, options, options.file)
        return exit_code(sources.faults, options.fail_from)
    result = check(sources.main, sources.files, options.settings, sources.shop, full=True)
    design, derived = result.design, result.derived
    if design is None or derived is None:
        show(result.findings, options, "")
        return exit_code(result.findings, options.fail_from)
    folder = out or f"out/{safe_file_name(design.name)}"
    mended = recover(folder)
    if mended is not None:
        show((mended,), options, design.name)
        return MISUSE
    if result.failed and not wanted.draft:
        advice = ("nothing is written: mend the errors, or look at a draft with --draft",)
        show(result.findings, options, design.name, design.title, design.revision, advice)
        return exit_code(result.findings, options.fail_from)
    from trivet.outputs import outputs
    from trivet.report.visible import visible
    from trivet.solve.binding import binding
    from trivet.tables.summary import summary_lines

    inputs = _inputs(sources.main.name, tuple(document.file for document in result.documents))
    files = outputs(design, derived, result.findings, inputs, options.settings, wanted)
    fault: Diagnostic | None = sources.files.write_outputs(folder, files)
    if fault is not None:
        show((*result.findings, fault), options, design.name)
        return MISUSE
    extra = (*summary_lines(design, derived, binding(design, derived)), f"wrote {len(files)} files into {visible(folder)}")
    show(result.findings, options, design.name, design.title, design.revision, extra)
    if wanted.draft and options.report == "text":
        print_text("this is a draft: every file is marked DRAFT and none is for cutting\n")
    return exit_code(result.findings, options.fail_from)


def _inputs(main: str, files: tuple[SourceFile, ...]) -> dict[str, str]:
    """Texts by path from the fixture's folder, which is the same on each machine; the shop's own file by its last part."""
    top = main.rpartition("/")[0]
    texts = {}
    for file in files:
        inside = file.name.startswith(f"{top}/") if top else not file.name.startswith(("/", "../"))
        texts[file.name.removeprefix(f"{top}/") if inside else file.name.rpartition("/")[2]] = file.text
    return texts
