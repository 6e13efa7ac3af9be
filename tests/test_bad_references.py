"""Files that a fixture or a command names, and values given on the command line, when they are wrong or hostile."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from tests.hard_use import example, rules, run

from trivet.cli import main

SMALL = example("small_riser")
SHOP = (Path(__file__).resolve().parent.parent / "examples" / "shared" / "shop.trivet").read_text(encoding="utf-8")
READ = 'read "shared/shop.trivet"'


def reading(name: str) -> str:
    """The small riser with one `read` more."""
    return SMALL.replace(READ, f'{READ}\nread "{name}"', 1)


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the small riser, its shop, and a stranger's file beside the folder."""
    folder = tmp_path / "project"
    (folder / "shared").mkdir(parents=True)
    (folder / "shared" / "shop.trivet").write_text(SHOP, encoding="utf-8")
    (folder / "riser.trivet").write_text(SMALL, encoding="utf-8")
    (tmp_path / "secret.trivet").write_text("SECRET words\n", encoding="utf-8")
    monkeypatch.chdir(folder)
    return folder


def checked(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    """The exit code of `trivet check` and all that it printed; a fault of trivet is a failure."""
    try:
        code = main(["check", *arguments])
    except SystemExit as end:
        code = int(end.code or 0)
    captured = capsys.readouterr()
    shown = captured.out + captured.err
    assert "fault of trivet" not in shown and "Traceback" not in shown, shown
    return code, shown


@pytest.mark.parametrize(
    "name",
    [
        "../secret.trivet",
        "/etc/passwd",
        "shared/../../secret.trivet",
        "..",
        "C:\\secret.trivet",
        "shared\\shop.trivet",
        "//host/x",
        "~/x",
        "./../secret.trivet",
    ],
)
def test_read_never_leaves_the_folder(name: str, project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "riser.trivet").write_text(reading(name), encoding="utf-8")
    code, shown = checked(capsys, "riser.trivet")
    assert code == 2 and "SECRET" not in shown and "root:" not in shown
    assert "[read-outside-project]" in shown or "[unreadable-file]" in shown


def test_links_out_of_the_folder_are_not_followed(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "link.trivet").symlink_to(project.parent / "secret.trivet")
    (project / "folder").symlink_to(project.parent)
    for name in ("link.trivet", "folder/secret.trivet"):
        (project / "riser.trivet").write_text(reading(name), encoding="utf-8")
        code, shown = checked(capsys, "riser.trivet")
        assert code == 2 and "through a link [read-outside-project]" in shown and "SECRET" not in shown


def test_what_is_no_file(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder, a pipe that nobody writes, a circle of links, a missing file, one that is not UTF-8: each said, none waited for."""
    os.mkfifo(project / "pipe.trivet")
    (project / "circle.trivet").symlink_to("circle.trivet")
    (project / "latin.trivet").write_bytes("sheet bl\xe9\n".encode("latin-1"))
    (project / "wide.trivet").write_bytes("sheet ply\n".encode("utf-16"))
    for name in ("shared", "pipe.trivet", "circle.trivet", "missing.trivet", "latin.trivet", "wide.trivet"):
        (project / "riser.trivet").write_text(reading(name), encoding="utf-8")
        for arguments in (["riser.trivet"], [name], ["riser.trivet", "--shop", name]):
            code, shown = checked(capsys, *arguments)
            assert code == 2 and "[unreadable-file]" in shown, (name, arguments, shown)


def test_reads_in_a_circle_are_read_once(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "a.trivet").write_text('read "b.trivet"\n', encoding="utf-8")
    (project / "b.trivet").write_text('read "a.trivet"\nread "riser.trivet"\n', encoding="utf-8")
    plain = checked(capsys, "riser.trivet")[0]
    (project / "riser.trivet").write_text(reading("a.trivet") + '\nread "riser.trivet"\n', encoding="utf-8")
    assert (plain, checked(capsys, "riser.trivet")[0]) == (0, 0)


def test_a_read_file_with_a_fixture_heading() -> None:
    files = {"shared/shop.trivet": SHOP, "other.trivet": "fixture other\n"}
    assert rules(run(reading("other.trivet"), files)) == ["fixture-in-read-file"]


def test_a_long_row_of_reads() -> None:
    """Each file reads the next; the bound is on files, not on Python's stack."""
    files: dict[str, bytes | str] = {f"r{number}.trivet": f'read "r{number + 1}.trivet"\n' for number in range(2000)}
    found = run(reading("r0.trivet"), {"shared/shop.trivet": SHOP, **files})
    assert rules(found) == ["limit-exceeded"]


@pytest.mark.parametrize("line", ["read", "read shop.trivet", 'read "a" "b"', 'read "a", "b"', 'read ""', 'read "\\"', 'read " "'])
def test_reads_that_are_not_written_right(line: str) -> None:
    assert rules(run(SMALL.replace(READ, f"{READ}\n{line}", 1), {"shared/shop.trivet": SHOP}))


PARAMETERS = SHOP.replace("backlash 0.5 mm", "backlash play") + "\nparameter play 0.5 mm, within 0.4..0.8 mm\n"


@pytest.mark.parametrize(
    ("settings", "rule"),
    [
        ({"plya": "0.5 mm"}, "unknown-name"), ({"": "1"}, "unknown-name"), ({"play\nx": "1"}, "unknown-name"),
        ({"top.width": "5 mm"}, "unknown-name"), ({"play": "5 mm"}, "setting-out-of-range"), ({"play": "0.5"}, "setting-form"),
        ({"play": "0.5 deg"}, "setting-form"), ({"play": ""}, "setting-form"), ({"play": "M8"}, "setting-form"),
        ({"play": "0.5 mm\nfixture x"}, "setting-form"), ({"play": "0.5 mm, within 0..9 mm"}, "setting-form"),
        ({"play": "1e400 mm"}, "setting-form"), ({"play": "top.width"}, "setting-out-of-range"), ({"play": "(" * 5000}, "setting-form"),
        ({"play": "\x00\u202e"}, "setting-form"), ({"play": "1 mm / 0"}, "division-by-zero"), ({"play": "\udcff"}, "setting-form"),
        ({"play": "play"}, "cyclic-names"), ({"play": "9" * 5000 + " mm"}, "setting-form"), ({"play": "# "}, "setting-form"),
    ],
)  # fmt: skip
def test_wrong_settings(settings: dict[str, str], rule: str) -> None:
    """A setting may hold what the parameter's own line may hold, and no more; nothing in it becomes text of the fixture."""
    found = run(SMALL, {"shared/shop.trivet": PARAMETERS}, settings)
    assert rule in rules(found) and len(rules(found)) == 1, [item.message for item in found.findings]


def test_a_right_setting() -> None:
    """Guards the test above: the fixture takes settings."""
    assert not rules(run(SMALL, {"shared/shop.trivet": PARAMETERS}, {"play": "0.6 mm"}))


def test_settings_on_the_command_line(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "shared" / "shop.trivet").write_text(PARAMETERS, encoding="utf-8")
    assert checked(capsys, "riser.trivet", "--set", "play=0.6 mm")[0] == 0
    for settings in (["play=0.5 mm", "play=0.6 mm"], ["play"], ["play="], ["=5"], [""], ["plya=0.5 mm"]):
        arguments = [part for setting in settings for part in ("--set", setting)]
        code, shown = checked(capsys, "riser.trivet", *arguments)
        assert code == 2, (settings, code, shown)
    assert checked(capsys, "riser.trivet", "--set", "play=5 mm")[0] in (1, 2)


def test_a_shop_with_errors(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "mine.trivet").write_text("shop\n  depth 0,2 mm\nfixture mine\n", encoding="utf-8")
    code, shown = checked(capsys, "riser.trivet", "--shop", "mine.trivet")
    assert code == 1 and "mine.trivet:2:9: error:" in shown and "[fixture-in-read-file]" in shown
