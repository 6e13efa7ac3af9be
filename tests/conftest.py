"""Shared by all tests: golden files and the option that rewrites them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

GOLDEN = Path(__file__).parent / "golden"
SIZE_CAP = 20 * 1024

Golden = Callable[[str, bytes], None]


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--update` rewrites golden files; the reviewer reads the difference."""
    parser.addoption("--update", action="store_true", default=False, help="rewrite the golden files")


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Golden:
    """Compare bytes with the golden file of that name; guards the form of an output, not the truth of its numbers."""

    def compare(name: str, output: bytes) -> None:
        path = GOLDEN / name
        assert len(output) <= SIZE_CAP, f"{name} would hold {len(output)} bytes; choose a smaller sample"
        if request.config.getoption("--update"):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(output)
        assert path.exists(), f"no golden file {name}; run with --update and read it"
        expected = path.read_bytes()
        assert output.decode("utf-8") == expected.decode("utf-8")
        assert output == expected

    return compare
