"""Definition, references and rename, across the files of a fixture."""

from __future__ import annotations

import pytest
from tests.lsp.marked import MARK, fresh, marked, view_of
from tests.lsp.texts import RISER, with_mark

from trivet.diagnostics import Edit
from trivet.files import MemoryFiles
from trivet.lsp.features.definition import definition, references
from trivet.lsp.features.rename import CannotRename, renamable, rename
from trivet.lsp.view import View
from trivet.lsp.workspace import Workspace

HEAD, _, TAIL = RISER.partition("drive crank")
MAIN = HEAD.replace("fixture outfeed_riser\n", 'read "parts.trivet"\nfixture outfeed_riser\n').replace(
    'read "parts.trivet"\nfixture outfeed_riser\n', 'fixture outfeed_riser\n'
) + TAIL[TAIL.index("require travel") :] + '\nread "parts.trivet"\n'
PARTS = "drive crank" + TAIL[: TAIL.index("require travel")]


def two_files(main: str) -> tuple[View, int]:
    """The view of the main file of two, and the offset of its mark."""
    text, offset = marked(main)
    workspace = Workspace()
    workspace.put("/plan/parts.trivet", PARTS, 1)
    workspace.put("/plan/main.trivet", text, 1)
    workspace.check("/plan/main.trivet")
    return workspace.view("/plan/main.trivet"), offset


def made(view: View, edits: tuple[Edit, ...]) -> dict[str, str]:
    """The texts of all files with the edits made."""
    texts = {document.file.name: document.file.text for document in view.documents}
    for edit in sorted(edits, key=lambda edit: edit.span.start, reverse=True):
        name = edit.span.file.name
        texts[name] = texts[name][: edit.span.start] + edit.text + texts[name][edit.span.end :]
    return texts


def test_the_two_files_are_the_one_fixture() -> None:
    assert not [item for item in fresh("/plan/main.trivet", MAIN, {"/plan/parts.trivet": PARTS}) if item[1] == "error"]


@pytest.mark.parametrize(
    ("before", "after", "declared"),
    [
        ("  turned_by cr", "ank", "drive crank"),
        ("  with we", "st at 180 deg\n", "gear west, east"),
        ("mesh e", "ast", "gear west, east"),
        ("  at de", "ck.centre", "board deck"),
        ("  backlash pla", "y", "parameter play"),
        ("  insert my_insert‸"[:-1], ", driven", "table my_insert"),
        ("accept gear-on-thread on pi", "n", "pivot pin"),
    ],
)
def test_definition(before: str, after: str, declared: str) -> None:
    text, offset = marked(with_mark(before, after))
    found = definition(view_of(text), offset)
    assert found is not None
    line = text[text.rfind("\n", 0, found.start) + 1 : text.index("\n", found.start)]
    assert line.startswith(declared)


def test_definition_in_another_file() -> None:
    view, offset = two_files(with_mark("  turned_by cr", "ank", MAIN))
    found = definition(view, offset)
    assert found is not None and found.file.name == "/plan/parts.trivet" and found.text == "crank"


def test_definition_of_a_read_file() -> None:
    view, offset = two_files(with_mark('read "par', 'ts.trivet"', MAIN))
    found = definition(view, offset, MemoryFiles({"/plan/parts.trivet": PARTS}))
    assert found is not None and (found.file.name, found.start) == ("/plan/parts.trivet", 0)


def test_a_word_of_a_fact_is_no_name() -> None:
    """`play` is a parameter, and a fact of the drive."""
    text, offset = marked(with_mark("  pl", "ay 0.2 mm"))
    view = view_of(text)
    assert definition(view, offset) is None and renamable(view, offset) is None


def test_references() -> None:
    text, offset = marked(with_mark("gear nw, s", "w, ne"))
    found = references(view_of(text), offset)
    assert [span.text for span in found] == ["sw", "sw"]
    assert len(references(view_of(text), offset, declaration=False)) == 1


def test_rename_across_files() -> None:
    view, offset = two_files(with_mark("  carries cor", "ner", MAIN))
    texts = made(view, rename(view, offset, "leg"))
    assert "carries leg" in texts["/plan/main.trivet"] and "foot leg\n" in texts["/plan/parts.trivet"]
    after = fresh("/plan/main.trivet", texts["/plan/main.trivet"], {"/plan/parts.trivet": texts["/plan/parts.trivet"]})
    before = fresh("/plan/main.trivet", MAIN, {"/plan/parts.trivet": PARTS})
    assert sorted(item[0] for item in after) == sorted(item[0] for item in before)


def test_rename_of_a_part_of_a_set() -> None:
    """`corner.nw` is the foot of the gear `nw`: it is named by both."""
    text, offset = marked(with_mark("gear n", "w, sw", RISER) + 'accept short-engagement on corner.nw because "light"\n')
    view = view_of(text)
    texts = made(view, rename(view, offset, "left"))
    assert "gear left, sw" in texts["/plan/main.trivet"] and "on corner.left because" in texts["/plan/main.trivet"]
    assert "with left at 118 deg" in texts["/plan/main.trivet"]


@pytest.mark.parametrize(
    ("new", "why"),
    [("hub2.x", "no name"), ("mm", "no name"), ("with", "no name"), ("M8", "no name"), ("a b", "no name"), ("", "no name"),
     ("deck", "declared already"), ("2x", "no name"), ("a\nb", "no name"), ("a # b", "no name"), ("few-teeth", "no name")],
)  # fmt: skip
def test_names_that_cannot_be_given(new: str, why: str) -> None:
    text, offset = marked(with_mark("gear hu", "b"))
    with pytest.raises(CannotRename, match=why):
        rename(view_of(text), offset, new)


def test_renaming_back_gives_the_text_back() -> None:
    text, offset = marked(with_mark("gear hu", "b"))
    view = view_of(text)
    there = made(view, rename(view, offset, "middle"))["/plan/main.trivet"]
    again = view_of(there)
    assert made(again, rename(again, there.index("middle"), "hub"))["/plan/main.trivet"] == RISER and MARK not in there


def test_a_broken_line_elsewhere_does_not_hide_names() -> None:
    text, offset = marked(with_mark("  with we", "st at 180 deg\n").replace("teeth 16", "teeth (16"))
    found = definition(view_of(text, RISER), offset)
    assert found is not None and found.text == "west"
