"""`trivet explain QUANTITY PART --in FILE`: what it prints, and what it says where it is asked for something unknown."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from trivet.cli import main
from trivet.tables.explanation import reported
from trivet.tables.explanation_all import TOGETHER

ROOT = Path(__file__).resolve().parents[1]
RISER = "examples/outfeed_riser.trivet"


def _printed(capsys: pytest.CaptureFixture[str], *words: str, file: str = RISER, code: int = 0) -> str:
    assert main(["explain", *words, "--in", file]) == code
    out, error = capsys.readouterr()
    return out if code == 0 else error


@pytest.fixture(autouse=True)
def _in_the_checkout(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)


def test_a_chain_goes_from_the_file_to_the_report(capsys: pytest.CaptureFixture[str]) -> None:
    text = _printed(capsys, "travel")
    assert text.startswith("travel: 9.3 mm\n") and text.endswith("in report.json: lift.travel_mm = 9.3\n")
    line = next(n for n, held in enumerate((ROOT / RISER).read_text("utf-8").splitlines(), 1) if "pocket 5.8 mm" in held)
    assert f"{RISER}:{line}:" in text and ": `5.8 mm`\n" in text
    assert "table `hexagon_heads_iso`, row M8: ISO 4014 / ISO 4017" in text
    assert "H_max − H_min" in text and "48.1 − 38.8" in text


def test_places_point_at_what_they_show(capsys: pytest.CaptureFixture[str]) -> None:
    text = _printed(capsys, "backlash_min", "west", "hub")
    lines = (ROOT / RISER).read_text("utf-8").splitlines()
    found = re.findall(rf"{RISER}:(\d+):(\d+): `([^`…]+)`", text)
    assert len(found) >= 6
    for line, column, shown_text in found:
        assert lines[int(line) - 1][int(column) - 1 :].startswith(shown_text)


def test_a_parameter_is_followed_to_its_number(capsys: pytest.CaptureFixture[str]) -> None:
    assert f"{RISER}:7:11: the parameter `play` is 0.5 mm\n" in _printed(capsys, "thinning", "hub")
    assert main(["explain", "thinning", "hub", "--in", RISER, "--set", "play=0.6 mm"]) == 0
    assert capsys.readouterr().out.startswith("thinning hub: 0.3 mm\n")


def test_one_word_may_ask_for_several_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    text = _printed(capsys, "height")
    assert "height_min: 38.8 mm\n" in text and "height_max: 48.1 mm\n" in text
    assert _printed(capsys, "bolt", "crank").count("in report.json: hardware[0]") == 2
    assert "limit most thread_leaves_insert: 10 mm\n" in _printed(capsys, "limit", "most")
    assert set(TOGETHER) >= {"height", "engagement", "bolt"}


def test_an_inch_fixture_is_told_in_inches_too(capsys: pytest.CaptureFixture[str]) -> None:
    text = _printed(capsys, "centre_distance", "hub", "ne", file="examples/inch_table.trivet")
    # 24 and 24 teeth at 4 per inch of diameter: 48/8 = 6 in, 152.4 mm.
    assert text.startswith("centre_distance hub ne: 152.4 mm (6.0000 in)\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("travl",), "there is no quantity travl; did you mean travel?"),
        (("span", "hb"), "no span of hb is known; did you mean hub?"),
        (("span",), "span needs a part\n  span is known of: east, hub, ne"),
        (("travel", "hub"), "travel is about the whole fixture and takes no part"),
        (("backlash", "nw", "se"), "no backlash of nw and se is known\n  backlash is known of: hub east"),
    ],
)
def test_what_is_unknown_gets_the_nearest_and_the_list(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    assert said in _printed(capsys, *words, code=2)


def test_without_a_quantity_all_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    text = _printed(capsys)
    assert re.search(r"^backlash +hub east, east ne", text, re.MULTILINE) and re.search(r"^travel$", text, re.MULTILINE)


def test_rules_and_quantities_are_told_apart(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "few-teeth"]) == 0
    assert capsys.readouterr().out.startswith("few-teeth (")
    assert main(["explain", "travel"]) == 2 and "add --in" not in capsys.readouterr().err.replace("with --in", "")
    assert main(["explain", "span", "hub"]) == 2 and "--in FILE" in capsys.readouterr().err


def test_a_file_with_errors_says_them(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "travel", "--in", "examples/failing/comma_for_a_point.trivet"]) == 1
    assert "[number-form]" in capsys.readouterr().out
    assert main(["explain", "travel", "--in", "no_such_file.trivet"]) == 2
    assert "[unreadable-file]" in capsys.readouterr().err


def test_the_written_report_has_the_number_at_the_path(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The path that is printed leads to the number that is printed, in the file that `compile` writes."""
    assert main(["compile", "examples/small_riser.trivet", "--out", str(tmp_path / "out")]) == 0
    capsys.readouterr()
    written = json.loads((tmp_path / "out" / "report.json").read_text("utf-8"))
    for words in (("travel",), ("phase", "nw"), ("contact_ratio_min", "hub", "ne"), ("zero_step", "corner.ne")):
        text = _printed(capsys, *words, file="examples/small_riser.trivet")
        found = re.search(r"in report\.json: (\S+) = (\S+)\n", text)
        assert found is not None
        steps = [int(step) if step.isdigit() else step for step in re.findall(r"\w+", found[1])]
        assert reported(written, steps) == float(found[2].replace("−", "-"))


def test_plain_check_does_not_load_explanations() -> None:
    """They cost a plain check nothing: its modules are those that it had."""
    code = (
        "import sys; from trivet.cli import main; main(['check', 'examples/outfeed_riser.trivet']);"
        "assert not [name for name in sys.modules if 'explanation' in name or name == 'trivet.tables.formula'], sys.modules"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env={**os.environ, "PYTHONPATH": "compiler"})
    assert ran.returncode == 0, ran.stderr[-500:]
