"""What the fact at the cursor takes, with the part that comes next."""

from __future__ import annotations

from trivet.lower.forms import FactForm, alternatives
from trivet.lsp.answers import Signature
from trivet.lsp.cursor import cursor
from trivet.lsp.lines import fact_form, heading_form, nexts, shown
from trivet.lsp.view import View


def signatures(view: View, offset: int) -> tuple[Signature, ...]:
    """The forms of the fact at an offset, those that fit what is written first; none outside a fact."""
    place = cursor(view.text, offset)
    if not place.word or place.inside == "comment":
        return ()
    form = fact_form(place.block, place.word, place.default_for) if place.indented else heading_form(place.word)
    if form is None or form.heads == ("",):
        return ()
    fitting = {item.pattern: item.position for item in reversed(nexts(form, place.phrase, place.before or ()))}
    detail = place.phrase > 0 and not form.many
    found = [_signature(form, head, -1 if detail else fitting.get(head, -1)) for head in form.heads]
    if not detail:
        return tuple(sorted(found, key=lambda item: item.active < 0))
    head = shown(form.heads[0])
    return tuple(
        _detail(form, head, pattern, fitting.get(pattern, -1))
        for pattern in sorted(form.details, key=lambda item: item not in fitting)
    )


def _signature(form: FactForm, head: str, active: int) -> Signature:
    label = f"{form.word} "
    parts: list[tuple[int, int]] = []
    elements = alternatives(head)[0]
    for element in elements:
        text = element if isinstance(element, str) else shown("{" + f"{element.name}:{element.kind}" + "}")
        parts.append((len(label), len(label) + len(text)))
        label += f"{text} "
    return Signature(label.rstrip(), tuple(parts), active, _about(form))


def _detail(form: FactForm, head: str, pattern: str, active: int) -> Signature:
    label = f"{form.word} {head}, "
    parts: list[tuple[int, int]] = []
    for element in alternatives(pattern)[0]:
        text = element if isinstance(element, str) else shown("{" + f"{element.name}:{element.kind}" + "}")
        parts.append((len(label), len(label) + len(text)))
        label += f"{text} "
    return Signature(label.rstrip(), tuple(parts), active, _about(form))


def _about(form: FactForm) -> str:
    details = ", ".join(f"`{shown(detail)}`" for detail in form.details)
    return "\n\n".join(
        part for part in (f"after a comma: {details}" if details else "", f"for example `{form.example}`" if form.example else "") if part
    )
