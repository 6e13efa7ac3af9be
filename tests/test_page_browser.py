"""The page as a browser shows it: nothing over anything, by keyboard, without scripts, for screen readers, in print, and its policy."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from tests import page_tab
from tests.axe import axe_script
from tests.browser_driver import Browser
from tests.page_samples import NAMES, edited
from tests.page_scripts import BOXES

SIZES = (375, 1440)

tab = pytest.fixture(scope="module")(page_tab.tab)
folder = pytest.fixture(scope="module")(page_tab.folder)


def _apart(one: list[float], other: list[float]) -> bool:
    slack = 0.6
    return one[2] <= other[0] + slack or other[2] <= one[0] + slack or one[3] <= other[1] + slack or other[3] <= one[1] + slack


@pytest.mark.parametrize("name", [*NAMES, "draft"])
@pytest.mark.parametrize("width", SIZES)
def test_nothing_lies_over_anything_and_nothing_scrolls_sideways(tab: Browser, folder: Path, name: str, width: int) -> None:
    tab.size(width)
    tab.open(folder / f"{name}.html")
    for below in (False, True):
        tab.run(
            f"(box => {{ box.checked = {str(below).lower()}; box.dispatchEvent(new Event('change')); }})(document.getElementById('below'))"
        )
        found = tab.run(BOXES)
        assert found["wide"] <= width
        assert found["writing"]
        for drawing in found["writing"]:
            left, top, right, bottom = drawing["box"]
            for text in drawing["texts"]:
                x1, y1, x2, y2 = text["box"]
                assert left - 1 <= x1 and x2 <= right + 1 and top - 1 <= y1 and y2 <= bottom + 1, (drawing["id"], text)
                assert text["px"] >= 9, (drawing["id"], text)
                for other in drawing["texts"]:
                    assert other is text or _apart(text["box"], other["box"]), (drawing["id"], text["text"], other["text"])
        for index, panel in enumerate(found["panels"]):
            for other in found["panels"][index + 1 :]:
                if other["inside"] == panel["inside"]:
                    assert _apart(panel["box"], other["box"]), (panel["name"], other["name"])


# Each width, each theme, each kind of foot, both systems, and a draft.
SEEN = (
    ("outfeed_riser", 375, "light"), ("outfeed_riser", 1440, "dark"), ("inch_table", 375, "dark"), ("tripod", 1440, "light"),
    ("fine_lift", 375, "light"), ("draft", 1440, "light"), ("draft", 375, "dark"),
)  # fmt: skip
CHECKED = "axe.run(document).then(done => ({ passed: done.passes.length, found: done.violations.map(item => [item.id, item.impact, item.nodes[0].html]) }))"


@pytest.mark.parametrize(("name", "width", "theme"), SEEN)
def test_nothing_serious_for_those_who_see_or_hear_otherwise(tab: Browser, folder: Path, name: str, width: int, theme: str) -> None:
    script = axe_script()
    tab.size(width)
    tab.media(prefers_color_scheme=theme)
    tab.open(folder / f"{name}.html")
    tab.run(f"{script};0")
    checked: Any = tab.run(CHECKED)
    tab.media()
    assert [item for item in checked["found"] if item[1] in ("serious", "critical")] == []
    assert checked["passed"] > 20


@pytest.mark.parametrize("name", [*NAMES, "draft"])
def test_the_policy_blocks_nothing_of_ours(tab: Browser, folder: Path, name: str) -> None:
    tab.open(folder / f"{name}.html")
    tab.run("new Promise(done => setTimeout(done, 500))")
    assert tab.problems == []
    assert tab.run("document.getElementById('below-switch').hidden") is False


def test_the_policy_blocks_what_is_not_ours(tab: Browser, folder: Path, tmp_path: Path) -> None:
    """Guards the test above: a foreign script in the same page does not run, and the browser says so."""
    path = tmp_path / "foreign.html"
    text = (folder / "outfeed_riser.html").read_text(encoding="utf-8")
    path.write_text(text.replace("</main>", "<script>window.foreign = 1</script></main>"), encoding="utf-8")
    tab.open(path)
    assert tab.run("window.foreign === undefined") is True
    assert any("Content Security Policy" in problem for problem in tab.problems)


def test_hostile_words_stay_text(tab: Browser, tmp_path: Path) -> None:
    words = "</script><img src=x onerror=window.hit=1><script>window.hit=1</script>"
    files = edited("outfeed_riser", tmp_path, ('title "Outfeed riser"', f'title "{words}"'), ("turned a few times a day", words))
    for name in ("index.html", "preview.svg"):
        path = tmp_path / name
        path.write_bytes(files[name])
        tab.open(path)
        assert tab.run("window.hit === undefined && document.querySelectorAll('img').length === 0") is True
        assert tab.problems == []
    tab.open(tmp_path / "index.html")
    assert tab.run("document.querySelector('h1').textContent") == words
    assert words in tab.run("document.querySelector('#finding-4').textContent")


def test_a_finding_and_its_part_mark_each_other(tab: Browser, folder: Path) -> None:
    tab.open(folder / "outfeed_riser.html")
    marked = "[...document.querySelectorAll('#plan-shapes > .marked')].map(shape => shape.id).sort().join(' ')"
    few = "document.getElementById('finding-1')"
    target = tab.run(f"{few}.dataset.targets")
    assert target and tab.run(marked) == ""
    tab.run(f"{few}.querySelector('button').focus()")
    assert tab.run(marked) == target
    tab.run("document.activeElement.blur()")
    assert tab.run(marked) == ""
    tab.run(f"document.getElementById('{target}').dispatchEvent(new PointerEvent('pointerenter'))")
    assert tab.run(f"{few}.classList.contains('marked')") is True
    tab.run(f"document.getElementById('{target}').dispatchEvent(new PointerEvent('pointerleave'))")
    tab.run(f"{few}.querySelector('button').click()")
    assert tab.run(f"{few}.querySelector('button').getAttribute('aria-pressed')") == "true" and tab.run(marked) == target


def test_tables_sort(tab: Browser, folder: Path) -> None:
    tab.open(folder / "inch_table.html")
    table = "document.querySelector('#to-raise table')"
    column = f"[...{table}.tBodies[0].rows].map(row => row.cells[0].textContent.trim())"
    steps = tab.run(column)
    assert steps[:4] == ["1/64 in", "1/32 in", "1/16 in", "1/8 in"]
    tab.run(f"{table}.querySelector('.sort').click()")
    assert tab.run(column) == steps
    tab.run(f"{table}.querySelector('.sort').click()")
    assert tab.run(column) == steps[::-1]
    assert tab.run(f"{table}.querySelector('th').getAttribute('aria-sort')") == "descending"


def test_without_scripts_plan_and_tables_are_there(tab: Browser, folder: Path) -> None:
    tab.scripts(False)
    try:
        tab.open(folder / "outfeed_riser.html")
        text = tab.run("document.body.innerText")
        assert "Outfeed riser" in text and "crank-bolt" in text and "38.8 mm" in text and "needs scripts" in text
        assert tab.run("document.querySelectorAll('#plan-shapes > .gear').length") == 7
        assert tab.run("document.getElementById('plan').getBoundingClientRect().height") > 100
        assert (
            tab.run("[...document.querySelectorAll('#control, #below-switch, .show')].every(part => part.offsetHeight === 0)")
            is True
        )
    finally:
        tab.scripts(True)


def test_print_shows_drawings_and_tables_and_no_controls(tab: Browser, folder: Path) -> None:
    tab.media(kind="print")
    try:
        tab.open(folder / "outfeed_riser.html")
        assert tab.run("document.getElementById('control').offsetHeight") == 0
        assert tab.run("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"
        assert tab.run("document.querySelector('#hardware table').offsetHeight") > 100
    finally:
        tab.media()
