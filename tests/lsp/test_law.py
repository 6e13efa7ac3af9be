"""After each of many edits the server's state is that of a fresh check of the same text."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.lsp.marked import fresh, plain
from tests.lsp.random_edits import edits

from trivet.lsp.workspace import Workspace

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHARED = (EXAMPLES / "shared" / "shop.trivet").read_text(encoding="utf-8")


def plan(name: str, wishes: bool = True) -> str:
    """An example; without its requirements, since what would meet one that is not met is worked out by solving many times."""
    text = (EXAMPLES / f"{name}.trivet").read_text(encoding="utf-8")
    return text if wishes else "".join(line for line in text.splitlines(keepends=True) if not line.startswith("require"))


@pytest.mark.parametrize(
    ("name", "wishes", "seed", "count"), [("outfeed_riser", False, 1, 130), ("tripod", False, 2, 130), ("small_riser", True, 3, 40)]
)
def test_state_after_random_edits(name: str, wishes: bool, seed: int, count: int) -> None:
    run(plan(name, wishes), seed, count)


def run(text: str, seed: int, count: int) -> int:
    """Edit `count` times and compare after each; returns how many texts were good enough to be worked out."""
    main, shop = "/plan/main.trivet", "/plan/shared/shop.trivet"
    workspace = Workspace()
    workspace.put(shop, SHARED, 1)
    workspace.put(main, text, -1)
    workspace.check(main)
    solved = 0
    for number, edited in enumerate(edits(text, seed, count)):
        workspace.put(main, edited, number)
        workspace.check(main)
        wanted = fresh(main, edited, {shop: SHARED})
        found = [item for path in (main, shop) for item in plain(workspace.findings(path))]
        # Those without a place are shown in the main file.
        assert sorted(found, key=repr) == sorted(wanted, key=repr), (number, edited)
        view = workspace.view(main)
        assert view.compilation is not None and view.text == edited
        solved += view.compilation.derived is not None
    return solved


def test_some_edits_leave_a_fixture_that_works() -> None:
    """The law is empty if every text is broken."""
    assert run(plan("small_riser", False), 4, 30) >= 5
