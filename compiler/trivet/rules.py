"""Every rule that can be reported, from all phases: what `explain` prints and `accept` may name."""

from __future__ import annotations

from functools import cache

from trivet.diagnostics import Rule


@cache
def all_rules() -> dict[str, Rule]:
    """Rules by slug."""
    from trivet.card_rules import RULES as card_rules
    from trivet.checks._accept import MATCHES_NOTHING, UNKNOWN
    from trivet.checks._check import CRASHED, all_checks
    from trivet.files import RULES as file_rules
    from trivet.lower.rules import RULES as lower_rules
    from trivet.output_folder import RULES as folder_rules
    from trivet.project import RULES as project_rules
    from trivet.syntax.rules import RULES as syntax_rules

    rules = [*syntax_rules, *lower_rules, *file_rules, *folder_rules, *project_rules, *card_rules, CRASHED, MATCHES_NOTHING, UNKNOWN]
    rules += [check.rule for check in all_checks()]
    for check in all_checks():
        rules += check.more_rules
    named = {rule.slug: rule for rule in rules}
    return dict(sorted(named.items()))
