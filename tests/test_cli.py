"""The command: exit codes, forms of report, help, and what it writes where."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from tests.hard_use import ROOT, example

from trivet.cli import main
from trivet.files import library_names
from trivet.rules import all_rules

COMMANDS = ("check", "compile", "format", "explain", "library", "start")
RISER = example("outfeed_riser")
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT / "compiler")}


@pytest.fixture(autouse=True)
def _in_an_empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("riser.trivet").write_text(RISER, encoding="utf-8")
    Path("wrong.trivet").write_text(RISER.replace("teeth 16", "teeth 16.5"), encoding="utf-8")


def trivet(*arguments: str) -> int:
    """The exit code of a command run in this process."""
    try:
        return main(arguments)
    except SystemExit as end:
        assert isinstance(end.code, int)
        return end.code


def process(*arguments: str, text: bytes | None = b"", **environment: str) -> subprocess.CompletedProcess[bytes]:
    """A command as a process of its own, with standard input holding `text`."""
    return subprocess.run(
        [sys.executable, "-m", "trivet", *arguments],
        input=text,
        capture_output=True,
        timeout=60,
        env={**ENVIRONMENT, **environment},
        check=False,
    )


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("check", "riser.trivet"), 0), (("check", "riser.trivet", "--fail-from", "note"), 1), (("check", "wrong.trivet"), 1),
        (("check", "missing.trivet"), 2), (("check", "."), 1), (("check",), 2), ((), 2), (("chekc", "riser.trivet"), 2),
        (("check", "--colour", "riser.trivet"), 2), (("check", "--rep", "json", "riser.trivet"), 2), (("check", "a", "b"), 2),
        (("check", "riser.trivet", "--report", "xml"), 2), (("check", "riser.trivet", "--set", "nothing=1"), 2),
        (("--version",), 0), (("--help",), 0), (("explain",), 0), (("explain", "few-teeth"), 0), (("explain", "few-tooth"), 2),
        (("library",), 0), (("library", "M8"), 0), (("library", "ISO 4762"), 0), (("library", "nut"), 0), (("library", "M88"), 2),
        (("start",), 0), (("start", "--inch"), 0), (("start", "--base"), 0), (("start", "riser.trivet"), 2), (("start", "no/such/x.trivet"), 2),
        (("format", "--check", "riser.trivet"), 0), (("format", "missing.trivet"), 2), (("format",), 2),
    ],
)  # fmt: skip
def test_exit_codes(arguments: tuple[str, ...], code: int) -> None:
    assert trivet(*arguments) == code


def test_help_fits_a_terminal_and_names_each_command(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert trivet("--help") == 0
    shown = capsys.readouterr().out
    assert all(f"\n    {command} " in shown for command in COMMANDS)
    assert trivet() == 2
    assert capsys.readouterr().err == shown
    for command in COMMANDS:
        assert trivet(command, "--help") == 0
        shown += capsys.readouterr().out
    assert max(map(len, shown.splitlines())) <= 80


def test_start_writes_what_checks_clean_and_never_replaces(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (("new.trivet",), ("inch.trivet", "--inch")):
        assert trivet("start", *arguments) == 0
        assert trivet("check", arguments[0], "--fail-from", "warning") == 0, capsys.readouterr().out
    Path("new.trivet").write_text("mine", encoding="utf-8")
    assert trivet("start", "new.trivet") == 2
    assert Path("new.trivet").read_text(encoding="utf-8") == "mine"
    assert "exists already" in capsys.readouterr().err


def test_explain_prints_every_rule(capsys: pytest.CaptureFixture[str]) -> None:
    assert trivet("explain") == 0
    listed = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in listed] == sorted(all_rules())
    for slug, rule in all_rules().items():
        assert trivet("explain", slug) == 0
        page = capsys.readouterr().out
        assert page.startswith(f"{slug} ({rule.severity})\n") and "\nWhat\n" in page and "\nWhy\n" in page and "\nSource\n" in page


def test_library_forms(capsys: pytest.CaptureFixture[str]) -> None:
    assert trivet("library") == 0
    assert len(capsys.readouterr().out.splitlines()) > len(library_names())
    assert trivet("library", "ISO 4762") == 0
    shown = capsys.readouterr().out
    assert "M8" in shown and "ISO 4762" in shown
    assert trivet("library", "ISO 4726") == 2
    assert "did you mean ISO 4762?" in capsys.readouterr().err


def test_format(capsysbinary: pytest.CaptureFixture[bytes], monkeypatch: pytest.MonkeyPatch) -> None:
    Path("loose.trivet").write_text(RISER.replace("  teeth 16", "     teeth    16"), encoding="utf-8")
    assert trivet("format", "--check", "loose.trivet", "riser.trivet") == 1
    assert capsysbinary.readouterr().out .startswith(b"loose.trivet would change\n--- loose.trivet\n")
    assert trivet("format", "loose.trivet") == 0
    assert Path("loose.trivet").read_text(encoding="utf-8") == RISER
    text = 'fixture a\n   title "caf\u00e9"\n'.encode()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text), encoding="utf-8"))
    capsysbinary.readouterr()
    assert trivet("format", "-") == 0
    assert capsysbinary.readouterr().out == 'fixture a\n  title "caf\u00e9"\n'.encode()


def test_format_of_an_unreadable_file_prints_nothing_that_could_pass_for_one() -> None:
    done = process("format", "-", text=b"fixture a\xff\n")
    assert (done.returncode, done.stdout) == (2, b"") and b"[unreadable-file]" in done.stderr


@pytest.mark.parametrize("form", ["json", "jsonl", "sarif"])
def test_reports_are_whole_whatever_the_terminal_can_show(form: str) -> None:
    """A report that a program reads is the same bytes in every locale, and nothing else is printed with it."""
    text = RISER.replace("Outfeed riser", "\u00e9 \u4e2d \U0001f60b").replace("teeth 16", "teeth \u00e9")
    done = process(
        "check", "-", "--as", "\u00e9.trivet", "--report", form, text=text.encode(), PYTHONIOENCODING="ascii", PYTHONUTF8="1"
    )
    assert done.returncode == 1 and not done.stderr
    lines = done.stdout.decode("ascii").splitlines() if form == "jsonl" else [done.stdout.decode("ascii")]
    for line in lines:
        json.loads(line)
    assert ("%C3%A9.trivet" if form == "sarif" else "\\u00e9.trivet") in done.stdout.decode("ascii")


def test_a_terminal_that_shows_only_ascii() -> None:
    text = RISER.replace("teeth 16", "teeth \u00e9\u4e2d")
    done = process("check", "-", text=text.encode(), PYTHONIOENCODING="ascii")
    assert done.returncode == 1 and b"\\xe9\\u4e2d" in done.stdout and not done.stderr
    for arguments in (("explain",), ("library",), ("library", "M8"), ("start",)):
        done = process(*arguments, PYTHONIOENCODING="ascii")
        assert (done.returncode, done.stderr) == (0, b""), arguments


def test_colour_only_for_a_terminal(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    for tty, no_colour, coloured in ((False, "", False), (True, "", True), (True, "1", False)):
        monkeypatch.setattr(sys.stdout, "isatty", lambda tty=tty: tty)
        monkeypatch.setenv("NO_COLOR", no_colour)
        monkeypatch.setenv("TERM", "xterm")
        trivet("check", "wrong.trivet")
        assert ("\x1b[" in capsys.readouterr().out) is coloured, (tty, no_colour)


@pytest.mark.parametrize("arguments", [("library",), ("explain",), ("check", "wrong.trivet"), ("start",)])
def test_a_reader_that_goes_away(arguments: tuple[str, ...]) -> None:
    """The pipe is closed before anything is written: silence, and no trace when Python ends."""
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run(
        [sys.executable, "-m", "trivet", *arguments], stdout=write, stderr=subprocess.PIPE, env=ENVIRONMENT, timeout=60, check=False
    )
    os.close(write)
    assert done.stderr == b""


@pytest.mark.parametrize("closed", ["0<&-", "1>&-", "2>&-", "0<&- 1>&- 2>&-"])
def test_closed_streams(closed: str) -> None:
    for arguments in ("check riser.trivet", "check -", "format -", "explain few-teeth", "start", "library M8"):
        line = f'"{sys.executable}" -m trivet {arguments} {closed}'
        done = subprocess.run(["sh", "-c", line], input=b"", capture_output=True, env=ENVIRONMENT, timeout=60, check=False)
        assert done.returncode in (0, 1, 2)
        assert b"Traceback" not in done.stderr and b"fault of trivet" not in done.stderr, (line, done.stderr)


def test_standard_input_that_is_empty() -> None:
    done = process("check", "-")
    assert done.returncode == 1 and b"standard-input.trivet:1:1: error: " in done.stdout


def test_starting_is_cheap() -> None:
    """Help and version load nothing heavy: none of the packages that trivet stands on."""
    code = "import sys; from trivet.cli import main\ntry: main(['--help'])\nexcept SystemExit: pass\n"
    code += "print([name for name in ('lark', 'pydantic', 'shapely', 'numpy', 'ezdxf', 'svgwrite') if name in sys.modules], file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, env=ENVIRONMENT, timeout=60, check=True)
    assert done.stderr.strip() == b"[]"


def test_a_fault_of_trivet_says_so(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr("trivet.pipeline.check", broken)
    assert trivet("check", "riser.trivet") == 2
    assert "a fault of trivet, not of your file: ZeroDivisionError: planted" in capsys.readouterr().err
    with pytest.raises(ZeroDivisionError):
        main(["check", "riser.trivet", "--debug"])
