"""Two versions of a fixture to what changes for its maker."""

from __future__ import annotations

from trivet.compare.change import Comparison
from trivet.compare.findings import finding_changes
from trivet.compare.version import Version


def compare(old: Version, new: Version, full: bool = True) -> Comparison:
    """The comparison; where a version cannot be worked out, its findings are all that is compared, and it says so."""
    before, after = old.pair, new.pair
    if before is None or after is None:
        # What was not worked out has no findings of its own; those of the other would seem to have come or gone.
        findings = finding_changes(*(() if version.pair is not None else version.compilation.findings for version in (old, new)))
        broken = [version.label for version in (old, new) if version.pair is None]
        why = f"{' and '.join(broken)} cannot be worked out: only findings are compared"
        return Comparison(old.label, new.label, findings=findings, not_compared=why)
    from trivet.compare.function import function_changes
    from trivet.compare.parts import part_changes
    from trivet.compare.purchases import cut_lengths, purchase_changes
    from trivet.compare.rest import rest_changes

    parts = part_changes(before, after)
    return Comparison(
        old.label,
        new.label,
        function=function_changes(before, after, full),
        parts=parts.changes,
        same_parts=parts.same,
        purchases=purchase_changes(before, after),
        lengths=cut_lengths(before, after),
        findings=finding_changes(old.compilation.findings, new.compilation.findings),
        rest=rest_changes(before, after),
    )
