"""Marks accepted findings, and says which acceptances match nothing."""

from __future__ import annotations

from collections.abc import Iterable

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Edit, Rule
from trivet.model.design import Design
from trivet.source import Span
from trivet.suggest import nearest

MATCHES_NOTHING = Rule(
    "acceptance-matches-nothing",
    "warning",
    "an `accept` whose finding no longer occurs",
    "an acceptance that outlives its finding would hide the next one that looks alike",
    "common practice, no source",
)
UNKNOWN = Rule(
    "unknown-rule",
    "error",
    "an `accept` names a rule that does not exist",
    "a misspelt rule accepts nothing",
    "derived: the list of rules",
)


def accept(design: Design, found: Iterable[Diagnostic], slugs: Iterable[str], not_run: tuple[str, ...] = ()) -> list[Diagnostic]:
    """The findings with the accepted ones marked, and one more for each acceptance that matches nothing or names no rule.

    Whether an acceptance of a rule that was not run matches anything is not known, so nothing is said of it.
    """
    marked = list(found)
    known = sorted(slugs)
    more: list[Diagnostic] = []
    for acceptance in design.accepts:
        rule, on = acceptance.rule.text, acceptance.on.text if acceptance.on else None
        span = place(acceptance.rule.origin)
        if rule not in known:
            near = nearest(rule, known)
            remedy = f"did you mean `{near}`?" if near else "`trivet explain` lists the rules"
            edits = (Edit(span, near),) if near and span else ()
            more.append(Diagnostic(UNKNOWN.slug, "error", f"there is no rule `{rule}`", span, remedy=remedy, edits=edits))
            continue
        matched = False
        for index, item in enumerate(marked):
            if item.rule == rule and not item.fault_of_ours and (on is None or _is_about(item, on)):
                matched = True
                marked[index] = item.accept(acceptance.because)
        if not matched and rule not in not_run:
            about = f" on `{on}`" if on else ""
            whole = acceptance.origin if isinstance(acceptance.origin, Span) else span
            parts = sorted({part for item in marked if item.rule == rule for part in item.parts})
            remedy = f"the rule is broken on {', '.join(f'`{part}`' for part in parts)}" if parts else "remove it"
            more.append(
                Diagnostic(MATCHES_NOTHING.slug, "warning", f"nothing breaks `{rule}`{about}", whole, remedy=remedy, parts=(rule,))
            )
    return marked + more


def _is_about(item: Diagnostic, on: str) -> bool:
    """Whether a finding concerns a part: itself, or one of the set that it names (`pin` stands for `pin.west`)."""
    return any(part == on or part.startswith(f"{on}.") for part in item.parts)
