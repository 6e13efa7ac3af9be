"""What turns the folder into one to publish: its front page, what to measure before cutting, and a shop file to fill in."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def publish(context: Context) -> Iterator[Product]:
    """`README.md`, `before_you_cut.md`, `mine.trivet` and the plan itself."""
    from trivet import __version__
    from trivet.emit.markdown_page import markdown_page
    from trivet.record import replace
    from trivet.tables.before_you_cut import before_you_cut
    from trivet.tables.front_page import front_page
    from trivet.tables.shop_template import shop_template

    design, derived, mark = context.design, context.derived, context.mark
    front = front_page(design, derived, context.findings, __version__, mark, plan_name(context))
    card = before_you_cut(design, derived, plan_name(context))
    for path, kind, page in (("README.md", "front page", front), ("before_you_cut.md", "card", card)):
        shown = replace(page, title=f"DRAFT, not for cutting: {page.title}") if mark else page
        yield Product(f"{mark}{path}", kind, markdown_page(shown))
    first = "# DRAFT, not for cutting\n" if mark else ""
    yield Product(f"{mark}mine.trivet", "shop file", (first + shop_template(design, plan_name(context))).encode("utf-8"))
    yield from _plan(context)


def _plan(context: Context) -> Iterator[Product]:
    """The plan's own files, so that a stranger can compile them with a shop of his own; not with a draft.

    None at all where a name of one of them may not stand on every disk: a plan with a part missing is worse than none.
    """
    if plan_name(context):
        for path, text in context.inputs.items():
            yield Product(f"plan/{path}", "plan", text.encode("utf-8"))


def plan_name(context: Context) -> str:
    """The plan's main file in the folder; empty where it is not among the products."""
    from trivet.tables.file_names import folded, is_safe_file_name

    paths = tuple(context.inputs)
    safe = all(is_safe_file_name(part) for path in paths for part in path.split("/"))
    apart = len({folded(path) for path in paths}) == len(paths)
    return f"plan/{paths[0]}" if paths and safe and apart and not context.wanted.draft else ""
