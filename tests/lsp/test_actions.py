"""Edits that mend findings: offered only where the text with them parses and checks."""

from __future__ import annotations

import pytest
from tests.lsp.marked import view_of
from tests.lsp.texts import RISER

from trivet.diagnostics import Diagnostic, Edit
from trivet.files import MemoryFiles
from trivet.lsp.answers import Action
from trivet.lsp.features.actions import actions, edited
from trivet.lsp.view import View
from trivet.pipeline import check
from trivet.record import replace
from trivet.source import SourceFile, Span


def recheck(file: SourceFile) -> tuple[Diagnostic, ...]:
    return check(file, MemoryFiles({})).findings


def offered(view: View, *more: Diagnostic) -> tuple[Action, ...]:
    return actions(view, (*recheck(view.file), *more), 0, len(view.text), recheck)


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("pocket 5.8 mm", "pocket 5,8 mm"),
        ("teeth 16", "teeth = 16"),
        ("depth 6.5 mm", "depth 6.5mm"),
        ("at (240, 40) mm", "at (240,40) mm"),
        ("outline slot 90 by 8 mm", "outline slot 90 x 8 mm"),
        ("  bolt ISO 4762,", "  bolt ISO4762,"),
        ("accept gear-on-thread on", "accept gear-on-tread on"),
        ('title "Outfeed riser"', 'title "Outfeed riser'),
        ("  turned_by crank", "  turned_by cranck"),
        ("  at deck.centre", "  at deck.center"),
        ("  corner_radius 12 mm"[2:], "corner_radios 12 mm"),
        ("  datum underside", "  datum undersite"),
        ("  profile_offset +/-", "  profile_ofset +/-"),
        ("pivot pin", "pivvot pin"),
        ("  diameter 6.00 mm", "  diameter 6.00"),
        ("teeth 16", "teeth 16 mm"),
        ("  thread ST6.3\n  screw", "  thred ST6.3\n  screw"),
    ],
)
def test_an_edit_gives_the_right_text_back(right: str, wrong: str) -> None:
    assert RISER.count(right) == 1
    text = RISER.replace(right, wrong)
    view = view_of(text)
    (action,) = offered(view)
    assert edited(text, action.edits) == RISER
    # The fix does nothing to its own result, and looking changed nothing.
    assert offered(view_of(RISER)) == () and view.text == text


def test_edits_that_mend_nothing_are_not_offered() -> None:
    view = view_of(RISER)
    place = Span(view.file, RISER.index("teeth 16"), RISER.index("teeth 16") + 5)
    finding = Diagnostic("planted", "error", "planted", place, edits=(Edit(place, "teeeth"),))
    assert offered(view, finding) == ()
    harmless = replace(finding, edits=(Edit(place, "teeth"),))
    assert len(offered(view, harmless)) == 1


def test_two_faults_in_one_file_each_have_their_edit() -> None:
    text = RISER.replace("pocket 5.8 mm", "pocket 5,8 mm").replace("teeth 16", "teeth = 16")
    found = offered(view_of(text))
    assert {action.mends.rule for action in found} == {"number-form", "stray-character"}
    assert edited(text, tuple(edit for action in found for edit in action.edits)) == RISER


def test_only_findings_in_the_range() -> None:
    text = RISER.replace("pocket 5.8 mm", "pocket 5,8 mm")
    view = view_of(text)
    assert actions(view, recheck(view.file), 0, 10, recheck) == ()


def test_a_missing_fact_is_added_with_a_name_that_there_is() -> None:
    """Of two facts that are missing each is offered; a line that would be wrong itself is not."""
    text = RISER.replace("board deck\n  stock ply18\n  cutter straight6\n", "board deck\n")
    found = offered(view_of(text))
    assert {action.title for action in found} == {"add the line `stock ply18`", "add the line `cutter straight6`"}
    mended = edited(text, tuple(edit for action in found for edit in action.edits))
    assert [item.rule for item in recheck(SourceFile("a", mended))] == [item.rule for item in recheck(SourceFile("a", RISER))]


def test_a_line_that_would_be_wrong_itself_is_not_offered() -> None:
    text = "fixture a\nboard b\n  outline circle 90 mm\n  cutter six\ncutter six\n  diameter 6 mm\n"
    assert [item.rule for item in recheck(SourceFile("a", text)) if item.severity == "error"] == ["missing-fact"]
    assert offered(view_of(text)) == (), "no sheet is declared, so that the example names nothing"
