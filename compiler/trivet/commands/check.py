"""`trivet check`: findings, and on success the figures that people want to know."""

from __future__ import annotations

from trivet.commands._input import Options, exit_code, read, show


def run(options: Options, full: bool) -> int:
    """Check one fixture; returns the exit code."""
    from trivet.commands._project import belongs, checked

    sources = read(options)
    if sources.main is None or sources.faults:
        show(sources.faults, options, options.file)
        return exit_code(sources.faults, options.fail_from)
    result = checked(sources.main, sources.files, options.settings, sources.shop, full, belongs(options.file))
    design = result.design
    extra: tuple[str, ...] = ()
    if options.report == "text" and design is not None and result.derived is not None:
        from trivet.tables.summary import summary_lines

        if full:
            from trivet.solve.binding import binding

            extra = summary_lines(design, result.derived, binding(design, result.derived))
        else:
            from trivet.checks._check import not_run

            extra = (
                *summary_lines(design, result.derived),
                f"not run here: {', '.join(not_run())} (`compile` and `check --full` do)",
            )
    name = design.name if design is not None else ""
    show(result.findings, options, name, design.title if design else "", design.revision if design else "", extra)
    return exit_code(result.findings, options.fail_from)
