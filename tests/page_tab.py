"""A browser with the examples' pages on disk, for tests that drive them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.browser_driver import Browser
from tests.browser_page import browser
from tests.page_samples import NAMES, files_of


def tab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """The browser, ended when its module's tests are done."""
    driven = Browser(browser(), tmp_path_factory.mktemp("driven"))
    yield driven
    driven.close()


def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each example's page, and a draft's."""
    place = tmp_path_factory.mktemp("pages")
    for name in NAMES:
        (place / f"{name}.html").write_bytes(files_of(f"{name}.trivet")["index.html"])
    draft = files_of("failing/feet_turn_opposite.trivet", draft=True)
    (place / "draft.html").write_bytes(draft["DRAFT-index.html"])
    return place
