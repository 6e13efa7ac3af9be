"""`trivet compile`: checks first, then writes the whole output folder or nothing."""

from __future__ import annotations

from trivet.commands._input import MISUSE, Options, exit_code, print_text, read, show
from trivet.commands._project import Belongs
from trivet.diagnostics import Diagnostic
from trivet.outputs import Wanted
from trivet.source import SourceFile


def run(options: Options, out: str, wanted: Wanted) -> int:
    """Compile one fixture into `out` (by default `out/<fixture>`); returns the exit code."""
    from trivet.commands._project import belongs, checked
    from trivet.output_folder import recover
    from trivet.tables.file_names import safe_file_name

    sources = read(options)
    if sources.main is None or sources.faults:
        show(sources.faults, options, options.file)
        return exit_code(sources.faults, options.fail_from)
    to = belongs(options.file)
    result = checked(sources.main, sources.files, options.settings, sources.shop, True, to)
    design, derived = result.design, result.derived
    if design is None or derived is None:
        show(result.findings, options, "")
        return exit_code(result.findings, options.fail_from)
    folder = out or _folder(to, safe_file_name(design.name))
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


def _folder(to: Belongs, name: str) -> str:
    """In the project's output folder, which is relative to its file, else in `out` where trivet is run."""
    inside = f"{to.project.output}/{name}" if to.project.output else f"out/{name}"
    return f"{to.folder}/{inside}" if to.project.output and to.folder else inside


def _inputs(main: str, files: tuple[SourceFile, ...]) -> dict[str, str]:
    """Texts by path from the fixture's folder, which is the same on each machine; the shop's own file by its last part."""
    top = main.rpartition("/")[0]
    texts = {}
    for file in files:
        inside = file.name.startswith(f"{top}/") if top else not file.name.startswith(("/", "../"))
        texts[file.name.removeprefix(f"{top}/") if inside else file.name.rpartition("/")[2]] = file.text
    return texts
