"""`trivet serve` and `trivet start --for-editor` on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from trivet.cli import main
from trivet.lower.context import PARTS
from trivet.lower.vocabulary import FORMS
from trivet.lsp.features.completion_values import _parts


def test_the_files_for_an_editor(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["start", "--for-editor", str(tmp_path)]) == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["editor_setup.md", "trivet.tmLanguage.json"]
    assert json.loads((tmp_path / "trivet.tmLanguage.json").read_text(encoding="utf-8"))["scopeName"] == "source.trivet"
    assert "wrote" in capsys.readouterr().out
    (tmp_path / "editor_setup.md").write_text("mine", encoding="utf-8")
    assert main(["start", "--for-editor", str(tmp_path)]) == 2
    assert (tmp_path / "editor_setup.md").read_text(encoding="utf-8") == "mine", "a file that exists is never replaced"
    assert main(["start", "--for-editor", str(tmp_path / "none")]) == 2


@pytest.mark.parametrize("command", ["serve", "start"])
def test_help_fits_the_width_of_a_terminal(command: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    assert all(len(line) <= 80 for line in capsys.readouterr().out.splitlines())


def test_parts_offered_after_a_point_are_those_that_names_have() -> None:
    for kind in FORMS:
        assert {part.partition(".")[0] for part in _parts(kind)} == set(PARTS.get(kind, ()))
