"""`trivet explain`: a rule's page, or the list of rules."""

from __future__ import annotations

import textwrap

from trivet.commands._input import FINE, MISUSE, print_text


def run(slug: str) -> int:
    """Print the page of a rule; without one, the list. An unknown rule gets the nearest."""
    from trivet.report.visible import visible
    from trivet.rules import all_rules
    from trivet.suggest import nearest

    rules = all_rules()
    if not slug:
        width = max(len(name) for name in rules)
        for name, rule in rules.items():
            print_text(f"{name:{width}}  {rule.severity:7}  {rule.what}\n")
        return FINE
    found = rules.get(slug)
    if found is None:
        near = nearest(slug, rules)
        near_words = [name for name in rules if slug and slug in name]
        hint = f"; did you mean {near}?" if near else f"; rules with that word: {', '.join(near_words)}" if near_words else ""
        print_text(f"trivet: there is no rule {visible(slug[:60])}{hint}\n", error=True)
        return MISUSE
    parts = [("What", found.what), ("Why", found.why), ("Source", found.source)]
    print_text(f"{found.slug} ({found.severity})\n")
    for heading, text in parts:
        print_text(f"\n{heading}\n" + textwrap.fill(text, 78, initial_indent="  ", subsequent_indent="  ") + "\n")
    for heading, example in (("Failing example", found.failing), ("Passing example", found.passing)):
        if example.strip():
            print_text(f"\n{heading}\n" + textwrap.indent(textwrap.dedent(example).strip("\n"), "  ") + "\n")
    if any(line.startswith(("+", "-")) for line in (found.failing + found.passing).splitlines()):
        print_text("\nLines with - and + are edits to the file that `trivet start --base` prints.\n")
    return FINE
