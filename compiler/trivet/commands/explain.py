"""`trivet explain`: a rule's page or the list of rules; with a file, how a number of its report comes about."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from trivet.commands._input import FINE, MISUSE, Options, print_text
from trivet.diagnostics import Rule


def run(words: Sequence[str], file: str, name: str, shop: str, settings: Mapping[str, str]) -> int:
    """With a file, its numbers; without one, a rule. One decides between the two, so a quantity may be called as a rule is."""
    if file:
        from trivet.commands.explain_quantity import run as run_quantity

        return run_quantity(Options(file, name, shop, dict(settings)), words[0] if words else "", words[1:])
    if len(words) > 1 or shop or settings or name:
        asked = " ".join(words)[:60]
        print_text(f"trivet: a rule is one word; add --in FILE to explain a number of a fixture{': ' if asked else ''}", error=True)
        print_text(f"{_shown(asked)}\n", error=True)
        return MISUSE
    return explain_rule(words[0] if words else "")


def _shown(text: str) -> str:
    from trivet.report.visible import visible

    return visible(text)


def search(word: str) -> int:
    """List the rules whose name or page holds the word, in whatever case; 2 where none does."""
    from trivet.rules import all_rules

    asked = word.casefold()
    found = {
        name: rule
        for name, rule in all_rules().items()
        if asked in f"{name} {name.replace('-', ' ')} {rule.what} {rule.why}".casefold()
    }
    if not found:
        print_text(f"trivet: no rule speaks of `{_shown(word)}`; `trivet explain` lists them all\n", error=True)
        return MISUSE
    _list(found)
    return FINE


def _list(rules: Mapping[str, Rule]) -> None:
    width = max(len(name) for name in rules)
    for name, rule in rules.items():
        print_text(f"{name:{width}}  {rule.severity:7}  {rule.what}\n")


def explain_rule(slug: str) -> int:
    """Print the page of a rule; without one, the list. An unknown rule gets the nearest."""
    from trivet.report.visible import visible
    from trivet.rules import all_rules
    from trivet.suggest import nearest

    rules = all_rules()
    if not slug:
        _list(rules)
        return FINE
    found = rules.get(slug)
    if found is None:
        near = nearest(slug, rules)
        near_words = [name for name in rules if slug and slug in name]
        hint = (
            f"; did you mean {near}?"
            if near
            else f"; rules with that word: {', '.join(near_words)}"
            if near_words
            else "; a number of a fixture is explained with --in FILE"
        )
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
