"""`trivet compile`: checks first, then writes the whole output folder or nothing."""

from __future__ import annotations

from typing import Literal

from trivet.commands._input import MISUSE, Options, exit_code, print_text, read, show
from trivet.commands._project import Belongs
from trivet.diagnostics import Diagnostic
from trivet.outputs import Wanted
from trivet.record import replace
from trivet.source import SourceFile


def run(options: Options, out: str, wanted: Wanted, nest: Literal["usual", "thorough"] = "usual", keep: bool = False, zip_too: bool = False) -> int:
    """Compile one fixture into `out` (by default `out/<fixture>`); returns the exit code.

    `nest`: how hard a place is sought for the parts; `keep`: write where they lie beside the fixture, to be used again; `zip_too`:
    write a zip of the folder beside it.
    """
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
    from trivet.commands._nesting import keep as keep_placement
    from trivet.commands._nesting import nesting, placement_path
    from trivet.outputs import outputs
    from trivet.report.visible import visible
    from trivet.solve.binding import binding
    from trivet.tables.report_sheets import nest_lines
    from trivet.tables.summary import summary_lines

    laid = nesting(options, sources, design, derived, nest == "thorough")
    if isinstance(laid, str):
        print_text(laid + "\n", error=True)
        return MISUSE
    read_files = [document.file for document in result.documents]
    read_files += [SourceFile(laid.kept_in, laid.kept_text)] if laid.kept_in else []
    inputs = _inputs(sources.main.name, tuple(read_files))
    files = outputs(design, derived, result.findings, inputs, options.settings, replace(wanted, nest=laid.nest))
    fault: Diagnostic | None = sources.files.write_outputs(folder, files)
    kept: tuple[str, ...] = ()
    if fault is None and keep and not laid.kept_in:
        fault = keep_placement(sources, placement_path(options.file), design, derived, laid.nest)
        kept = (f"kept where the parts lie in {visible(placement_path(options.file))}",)
    packed: tuple[str, ...] = ()
    if fault is None and zip_too:
        from trivet.zip_folder import write_zip, zip_name

        archive = zip_name(folder, design.revision, wanted.draft)
        fault = write_zip(archive, files)
        packed = (f"wrote {visible(archive)}",)
    if fault is not None:
        show((*result.findings, fault), options, design.name)
        return MISUSE
    extra = (
        *summary_lines(design, derived, binding(design, derived)),
        *nest_lines(laid.nest),
        *laid.lines,
        *kept,
        f"wrote {len(files)} files into {visible(folder)}",
        *packed,
    )
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
