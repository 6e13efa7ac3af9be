"""Same text, same library, same version: same bytes, whatever the order of hashes and wherever the folder lies."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from tests.hard_use import EXAMPLES, ROOT

# Runs in a process of its own: prints a digest of each output of each example, and of the findings in each form.
PROGRAM = """
import hashlib, json, sys
from trivet.files import DiskFiles
from trivet.outputs import Wanted, outputs
from trivet.pipeline import check
from trivet.report.json import json_report
from trivet.report.sarif import sarif
from trivet.report.terminal import terminal
from trivet.rules import all_rules

digests = {}
for name in sys.argv[1:]:
    files = DiskFiles()
    source = files.read(name)
    result = check(source, files)
    made = outputs(result.design, result.derived, result.findings, {name: source.text}, {}, Wanted(True, True))
    made["terminal"] = terminal(result.findings).encode()
    made["json"] = json_report(result.findings, fixture=name, version="0").encode()
    made["sarif"] = sarif(result.findings, version="0", rules=tuple(all_rules().values())).encode()
    for path, data in made.items():
        digests[f"{name}: {path}"] = hashlib.sha256(data).hexdigest()
print(json.dumps(digests))
"""


def _digests(seed: str, folder: Path) -> dict[str, str]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "compiler"), "PYTHONHASHSEED": seed}
    command = [sys.executable, "-c", PROGRAM, *(path.name for path in EXAMPLES)]
    done = subprocess.run(command, capture_output=True, cwd=folder, env=environment, timeout=300, check=True)
    found: dict[str, str] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("seed", ["1", "4711"])
def test_two_processes_write_the_same_bytes(seed: str, tmp_path: Path) -> None:
    for path in sorted((ROOT / "examples").rglob("*.trivet")):
        place = tmp_path / path.relative_to(ROOT / "examples")
        place.parent.mkdir(exist_ok=True)
        place.write_bytes(path.read_bytes())
    here, there = _digests("0", ROOT / "examples"), _digests(seed, tmp_path)
    assert len(here) > 20 * len(EXAMPLES)
    assert [name for name in sorted({*here, *there}) if here.get(name) != there.get(name)] == []


def test_the_digest_would_notice() -> None:
    """Guards the test above: one byte more is another digest."""
    assert hashlib.sha256(b"a").hexdigest() != hashlib.sha256(b"a ").hexdigest()
