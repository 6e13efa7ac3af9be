"""HTML: the page `index.html` and the picture `preview.svg`, from facts and views, by templates.

The page loads nothing: its policy allows only its own style and script, each by its hash (Content Security Policy, W3C).
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
import textwrap
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

from trivet.drawing.plan_view import PlanView
from trivet.drawing.section_view import SectionView
from trivet.emit.numbers import number
from trivet.emit.page_layout import PlanLayout, SectionLayout, Writing, plan_layout, section_layout
from trivet.emit.page_motion import motion_facts, n, shared, steps
from trivet.emit.page_text import page_text
from trivet.emit.palette import style_of
from trivet.emit.path_data import path_data
from trivet.emit.printable import printable
from trivet.tables.page_content import PageContent
from trivet.tables.page_lengths import both, own

if TYPE_CHECKING:
    from jinja2 import Environment

# Letters of 13 px in a line of the picture.
LEGEND_COLUMNS = 78
TEMPLATES = ("index.html", "plan.svg", "section.svg", "table.html", "preview.svg")


def html(page: PageContent, plan: PlanView, sections: Sequence[SectionView]) -> bytes:
    """The page. Names and words of the fixture are escaped wherever they stand."""
    environment = _environment()
    shown = _shown(page, plan, sections, 0.0)
    style = page_text("page.css") + _sizes(shown)
    script = page_text("page.js")
    facts = motion_facts(page, page.motion, sections, shown["tokens"]) if page.motion is not None else None
    policy = f"default-src 'none'; style-src '{_hash(style)}'; script-src '{_hash(script)}'; base-uri 'none'; form-action 'none'"
    # Nothing in the data may look like the end of a script element.
    data = json.dumps(facts, ensure_ascii=True, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")
    text = environment.get_template("index.html").render(
        page=page, policy=policy, style=style, script=script, data=data, steps=steps(page.motion) if page.motion else 0, **shown
    )
    return text.encode("utf-8")


def preview(page: PageContent, plan: PlanView, sections: Sequence[SectionView]) -> bytes:
    """Plan and first section in one picture, at mean height."""
    motion = page.motion
    rise = (motion.height_max_mm - motion.height_min_mm) / 2.0 if motion is not None else 0.0
    shown = _shown(page, plan, sections[:1], rise)
    turns = rise / motion.per_turn_mm if motion is not None else 0.0
    turned = {name: degrees * turns for name, degrees in motion.turned_deg} if motion is not None else {}
    height = both(motion.height_min_mm + rise, page.unit) if motion is not None else ""
    text = (
        _environment()
        .get_template("preview.svg")
        .render(page=page, style=page_text("preview.css"), turned=turned, legend=_legend(page), height=height, **shown)
    )
    return text.encode("utf-8")


def _shown(page: PageContent, plan: PlanView, sections: Sequence[SectionView], rise: float) -> dict[str, Any]:
    """What templates of both need: drawings laid out and tokens of their elements."""
    tokens = {f"{kind}:{item.id}": f"{kind[0]}{index}" for kind, items in _items(plan) for index, item in enumerate(items)}
    flags = {row.name: row.findings for row in page.parts}
    numbers = {row.name: index for index, row in enumerate(page.parts, start=1)}
    travel = page.motion.height_max_mm - page.motion.height_min_mm if page.motion is not None else 0.0
    words = [[(f"{word} {own(height, page.unit)}", height) for word, height in view.limits] for view in sections]
    return {
        "plan": plan,
        "plan_layout": plan_layout(plan, tokens, flags, numbers),
        "sections": tuple(
            (view, section_layout(view, travel, ruler)) for view, ruler in zip(sections, words, strict=True)
        ),
        "tokens": tokens,
        "rise": rise,
    }  # fmt: skip


def _legend(page: PageContent) -> list[str]:
    """Numbers and names of the gears in lines, for a picture whose gears bear numbers."""
    named = ", ".join(f"{number} {row.name}" for number, row in enumerate(page.parts, start=1))
    return textwrap.wrap(named, LEGEND_COLUMNS)


def _items(plan: PlanView) -> tuple[tuple[str, tuple[Any, ...]], ...]:
    return ("gear", plan.gears), ("board", plan.boards), ("place", plan.places)


@cache
def _environment() -> Environment:
    from jinja2 import DictLoader, Environment, StrictUndefined
    from markupsafe import Markup, escape

    def safe(value: object) -> object:
        return printable(value) if isinstance(value, str) and not isinstance(value, Markup) else value

    def words(text: str) -> Markup:
        """Names in backticks as code; everything escaped."""
        pieces = re.split("`([^`]*)`", printable(text))
        return Markup("").join(
            Markup("<code>{}</code>").format(piece) if index % 2 else escape(piece) for index, piece in enumerate(pieces)
        )

    loader = DictLoader({name: page_text(f"{name}.jinja") for name in TEMPLATES})
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, loader=loader, trim_blocks=True, lstrip_blocks=True, finalize=safe,
        keep_trailing_newline=True,
    )  # fmt: skip
    environment.filters |= {
        "n": n,
        "d": path_data,
        "short": number,
        "words": words,
        "token_of": lambda target, tokens: tokens.get(target),
    }
    environment.globals |= {"both": both, "own": own, "shared": shared, "style_of": style_of}
    return environment


def _sizes(shown: dict[str, Any]) -> str:
    """Rules for the size of writing in each drawing: numbers only, nothing of the fixture's words."""
    layout: PlanLayout = shown["plan_layout"]
    drawn: list[tuple[str, Writing]] = [("plan", layout.writing)]
    for index, (_, section) in enumerate(shown["sections"]):
        assert isinstance(section, SectionLayout)
        drawn += [(f"section-{index}", section.writing), (f"detail-{index}", section.detail_writing)]

    def rules(width: str) -> str:
        return "".join(f"#{name}{{font-size:{n(getattr(size, width))}px}}" for name, size in drawn)

    return (
        f"{rules('phone')}@media(min-width:540px){{{rules('tablet')}}}@media(min-width:800px){{{rules('wide')}}}"
        f"@media(min-width:1100px){{{rules('column')}}}@media print{{{rules('column')}}}"
    )


def _hash(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode('utf-8')).digest()).decode('ascii')}"
