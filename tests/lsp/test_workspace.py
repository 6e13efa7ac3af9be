"""Which files are read from where, which findings show where, and what is kept while a file is broken."""

from __future__ import annotations

import gc
from pathlib import Path

import pytest
from tests.lsp.marked import plain
from tests.lsp.texts import EXAMPLES, RISER

from trivet.lsp.again import MOST_KEPT, Memory
from trivet.lsp.buffers import EditorFiles
from trivet.lsp.workspace import Workspace
from trivet.pipeline import check
from trivet.source import SourceFile

SMALL = (EXAMPLES / "small_riser.trivet").read_text(encoding="utf-8")
SHOP = (EXAMPLES / "shared" / "shop.trivet").read_text(encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A fixture and the file that it reads, on disk."""
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared" / "shop.trivet").write_text(SHOP, encoding="utf-8")
    (tmp_path / "main.trivet").write_text(SMALL, encoding="utf-8")
    return tmp_path


def rules(workspace: Workspace, path: str) -> list[str]:
    return [item.rule for item in workspace.findings(path)]


def test_a_read_file_comes_from_its_buffer_when_it_is_open(folder: Path) -> None:
    workspace = Workspace()
    main, shop = str(folder / "main.trivet"), str(folder / "shared/shop.trivet")
    workspace.put(main, SMALL, 1)
    assert workspace.check(main) == (main, shop)
    quiet = rules(workspace, shop)
    assert "unknown-fact" not in quiet
    workspace.put(shop, SHOP.replace("  reach", "  reech", 1), 1)
    assert main in workspace.concerned(shop) and workspace.behind(main)
    workspace.check(main)
    assert "unknown-fact" in rules(workspace, shop) and not workspace.behind(main)
    workspace.close(shop)
    workspace.check(main)
    assert rules(workspace, shop) == quiet, "closed without saving: the disk counts again"


def test_a_part_is_judged_by_the_fixture_that_reads_it(folder: Path) -> None:
    workspace = Workspace()
    main, shop = str(folder / "main.trivet"), str(folder / "shared/shop.trivet")
    workspace.put(shop, SHOP + "board b\n  stock nowhere\n  wrong 1\n", 1)
    workspace.check(shop)
    assert rules(workspace, shop) == ["unknown-fact"], "alone: what only the whole can decide is left out"
    workspace.put(main, SMALL, 1)
    workspace.check(main)
    assert {"unknown-fact", "missing-fact"} <= set(rules(workspace, shop)), rules(workspace, shop)
    workspace.close(main)
    assert rules(workspace, shop) == ["unknown-fact"]


def test_findings_without_a_place_show_in_the_main_file() -> None:
    workspace = Workspace()
    workspace.put("/p/a.trivet", "", 1)
    workspace.check("/p/a.trivet")
    assert rules(workspace, "/p/a.trivet") == ["missing-fixture"]


def test_a_main_file_that_loses_its_heading_says_so() -> None:
    workspace = Workspace()
    workspace.put("/p/a.trivet", RISER, 1)
    workspace.check("/p/a.trivet")
    workspace.put("/p/a.trivet", RISER.replace("fixture outfeed_riser", "# fixture outfeed_riser"), 2)
    workspace.check("/p/a.trivet")
    assert "missing-fixture" in rules(workspace, "/p/a.trivet")


def test_the_last_good_result_stays_while_the_text_is_broken() -> None:
    workspace = Workspace()
    for version, text in enumerate((RISER, RISER.replace("teeth 16", "teeth ("), RISER.replace("gear hub", "gear hub hub")), start=1):
        workspace.put("/p/a.trivet", text, version)
        workspace.check("/p/a.trivet")
        view = workspace.view("/p/a.trivet")
        assert view.known is not None and view.known.design.name == "outfeed_riser" and view.text == text
    assert workspace.version("/p/a.trivet") == 3


def test_a_result_of_a_closed_file_is_dropped() -> None:
    workspace = Workspace()
    workspace.put("/p/a.trivet", RISER, 1)
    job = workspace.job("/p/a.trivet")
    workspace.close("/p/a.trivet")
    assert workspace.accept("/p/a.trivet", *job(lambda: None)) == () and workspace.findings("/p/a.trivet") == ()


def test_stale_work_ends_between_phases() -> None:
    workspace = Workspace()
    workspace.put("/p/a.trivet", RISER, 1)
    calls = 0

    def pause() -> None:
        nonlocal calls
        calls += 1
        if calls == 3:
            raise TimeoutError

    with pytest.raises(TimeoutError):
        workspace.job("/p/a.trivet")(pause)
    assert gc.isenabled(), "collecting goes on after work that was ended"
    workspace.check("/p/a.trivet")
    assert workspace.view("/p/a.trivet").known is not None


def test_nothing_is_worked_out_again_for_a_comment_or_a_step_back() -> None:
    memory = Memory()
    texts = (RISER, RISER.replace("gear hub", "# said\n\ngear hub  # and said"), RISER.replace("teeth 16", "teeth 18"), RISER)
    files = EditorFiles({})
    results = [memory.complete(memory.check(SourceFile("a", text), files)).compilation for text in texts]
    assert results[0].derived is results[1].derived is results[3].derived is not results[2].derived
    for text, result in zip(texts, results, strict=True):
        assert plain(result.findings) == plain(check(SourceFile("a", text), files).findings)
    for number in range(14, 22):
        memory.check(SourceFile("a", RISER.replace("teeth 16", f"teeth {number}")), files)
    assert len(memory._kept) == MOST_KEPT


def test_an_unsaved_buffer_reads_no_files_and_nothing_is_written(tmp_path: Path) -> None:
    files = EditorFiles({"untitled:one": SourceFile("untitled:one", 'read "x.trivet"\n')})
    found = files.read_beside("untitled:one", "x.trivet")
    assert not isinstance(found, SourceFile) and "never saved" in found.message
    path = tmp_path / "new.trivet"
    for refused in (files.create_text(str(path), "x"), files.replace_text(str(path), "x"), files.write_outputs(str(tmp_path), {"a": b"x"})):
        assert refused is not None and refused.severity == "error"
    assert list(tmp_path.iterdir()) == []


def test_no_slow_package_is_loaded_by_a_plain_check() -> None:
    import subprocess
    import sys

    code = (
        "import sys; from trivet.lsp.server import make_server; from trivet.lsp.workspace import Workspace\n"
        "make_server(); w = Workspace(); w.put('/p/a.trivet', sys.stdin.read(), 1); w.check('/p/a.trivet')\n"
        "from trivet.lsp.features.hover import hover; v = w.view('/p/a.trivet')\n"
        "[hover(v, at) for at in range(0, len(v.text), 7)]\n"
        "print(sorted({'numpy', 'shapely', 'ezdxf', 'svgwrite', 'lark'} & set(sys.modules)))"
    )
    source = Path(check.__code__.co_filename).parents[1]
    done = subprocess.run([sys.executable, "-c", code], input=RISER, env={"PYTHONPATH": str(source)}, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_project_counts_as_for_the_check_on_the_command_line(folder: Path) -> None:
    """Severities, unit and tables of `trivet.toml`; a fault of that file shows in it."""
    from trivet.commands._project import belongs, checked

    main, toml = str(folder / "main.trivet"), folder / "trivet.toml"
    (folder / "tables").mkdir()
    workspace = Workspace()
    workspace.put(main, SMALL, 1)
    for text in ('units = "in"\nlibrary = ["tables"]\n[severity]\nfew-teeth = "error"\n', 'unit = "in"\n', 'units = "in"\n# as before\n'):
        toml.write_text(text, encoding="utf-8")
        assert workspace.concerned(str(toml)) in ((), (main,))
        changed = workspace.check(main)
        files = EditorFiles({main: SourceFile(main, SMALL)})
        wanted = checked(SourceFile(main, SMALL), files, {}, None, False, belongs(main))
        found = [item for path in changed for item in plain(workspace.findings(path))]
        assert sorted(found, key=repr) == sorted(plain(wanted.findings), key=repr)
        known = workspace.view(main).known
        assert known is not None and known.design.units == ("mm" if text.startswith("unit ") else "in")
    assert str(toml) not in workspace.check(main), "the fault was mended"
