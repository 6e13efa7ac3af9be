"""All facts of the page, from the design, what was derived, and the report's content."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.solve.derived import Derived, Limit
from trivet.tables.page_content import Motion, PageContent
from trivet.tables.page_figures import figures
from trivet.tables.page_findings import page_findings
from trivet.tables.page_sections import page_sections
from trivet.tables.page_words import about, part_rows, status_words


def page_facts(
    design: Design, derived: Derived, found: Sequence[Diagnostic], facts: Mapping[str, object], *, draft: bool
) -> PageContent:
    """`facts`: the content of report.json, whose findings are in the order of `found`."""
    rows, fixture, train, status = facts["findings"], facts["fixture"], facts["train"], facts["status"]
    assert isinstance(rows, list) and isinstance(fixture, Mapping) and isinstance(train, Mapping)
    assert status == "clean" or status == "findings" or status == "failed"
    findings = page_findings(design, derived, rows, found)
    chance = train["binding_probability"]
    assert chance is None or isinstance(chance, float | int)
    return PageContent(
        name=design.name,
        title=design.title,
        revision=design.revision,
        version=str(fixture["version"]),
        licence=design.licence,
        draft=draft,
        status=status,
        status_words=status_words(findings, status == "failed"),
        about=about(design, derived),
        unit=design.units,
        figures=figures(design, derived, findings, tuple(item.parts for item in found), chance),
        findings=findings,
        parts=part_rows(derived, findings),
        motion=_motion(derived),
        ends=_ends(derived),
        sections=page_sections(design, derived, facts),
    )


def _motion(derived: Derived) -> Motion | None:
    """None where nothing can move: no lift, or no travel."""
    lift = derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return None
    # Clockwise seen from above is against the angles' sense.
    sense = -1.0 if lift.raises_when == "clockwise" else 1.0
    turned = tuple(
        (state.id, sense * state.direction * float(state.speed) * 360.0 if state.speed is not None else 0.0)
        for state in derived.train.gears
    )
    return Motion(lift.height_min_mm, lift.height_max_mm, lift.per_turn_mm, lift.turns_for_travel, lift.raises_when, turned)


def _ends(derived: Derived) -> tuple[tuple[str, str], ...]:
    """What ends the travel at each end, and what lies beyond it."""
    lift = derived.lift
    if lift is None:
        return ()
    found = []
    for end, word, beyond in (("least", "Lowest", lift.beyond_least), ("most", "Highest", lift.beyond_most)):
        limit: Limit | None = next((item for item in lift.limits if item.end == end), None)
        if limit is not None:
            # Where the same thing ends the travel and goes wrong beyond it, once is enough.
            same = beyond.removeprefix(f"at the end of the travel: {limit.sentence}; ")
            told = f"; {same}" if same != beyond else f". Beyond: {beyond}" if beyond else ""
            found.append((word, limit.sentence + told))
    return tuple(found)
