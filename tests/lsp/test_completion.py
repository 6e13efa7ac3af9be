"""Completion and signature help: what is offered at the cursor, by what is written before it."""

from __future__ import annotations

import pytest
from tests.lsp.marked import marked, view_of
from tests.lsp.texts import RISER

from trivet.lower.vocabulary import FORMS
from trivet.lsp.answers import Choice
from trivet.lsp.features.completion import completion
from trivet.lsp.features.signature import signatures
from trivet.lsp.lines import OTHERS


def offered(tail: str, text: str = RISER) -> list[Choice]:
    """The choices at the mark in `tail`, which stands at the end of the text."""
    plain, offset = marked(text + tail)
    return list(completion(view_of(plain, RISER), offset))


def labels(tail: str) -> list[str]:
    return [choice.label for choice in offered(tail)]


@pytest.mark.parametrize(
    ("tail", "first"),
    [
        ("gear x\n  turned_by ‸", ["crank"]),
        ("gear x\n  turns_on ‸", ["pin"]),
        ("gear x\n  carries ‸", ["corner"]),
        ("gear x\n  stock ‸", ["ply18"]),
        ("default gear\n  cutter ‸", ["straight6"]),
        ("gear x\n  at ‸", ["deck", "deck.centre"]),
        ("gear x\n  at deck.‸", ["deck", "deck.centre"]),
        ("mesh hub\n  with ‸", ["west", "east", "nw", "sw", "ne", "se"]),
        ("mesh hub\n  with west ‸", ["at"]),
        ("mesh hub\n  with west at 30 ‸", ["deg"]),
        ("foot f\n  kind ‸", ["riding", "captured_nut", "sliding_hex"]),
        ("foot f\n  insert my_insert, driven_from ‸", ["topside", "underside"]),
        ("board b\n  outline ‸", ["rectangle", "circle", "slot", "polygon"]),
        ("board b\n  outline rectangle 90 ‸", ["mm", "by"]),
        ("board b\n  outline rectangle 90 by 80 mm, ‸", ["corner_radius", "relieved"]),
        ("drive d\n  bolt ISO 4762, ‸", ["head recessed", "length"]),
        ("require ‸", ["travel", "height covers"]),
        ("require travel ‸", [">=", "<="]),
        ("shop\n  moisture 6..12 ‸", ["percent"]),
        ("helper ‸", ["guide_block", "shims", "centring_bar"]),
        ("accept gear-on-thread on ‸", ["pin.east"]),
        ("table t is ins‸", ["thread"]),
        ("tooth_form f\n  backlash ‸", ["play"]),
    ],
)
def test_first_choices(tail: str, first: list[str]) -> None:
    assert labels(tail)[: len(first)] == first


def test_headings_at_the_margin_and_facts_below_them() -> None:
    assert set(labels("‸")) == set(FORMS) | set(OTHERS)
    facts = labels("gear x\n  teeth 20\n  turned_by crank\n  ‸")
    assert "tooth_form" in facts and "like" in facts
    assert not {"teeth", "turned_by", "carries", "turns_on"} & set(facts), "stated facts and their rivals are not offered again"
    assert "with" in labels("mesh hub\n  with west\n  ‸"), "a fact that repeats is"


def test_bolts_for_the_thread_with_head_lengths_and_source() -> None:
    """ISO 4762 M8: head 13 mm nominal, 13.27 mm at most knurled, 8 mm high (from memory)."""
    found = offered("drive d\n  thread M8\n  bolt ‸")
    socket = next(choice for choice in found if choice.label == "ISO 4762")
    assert "M8" in socket.detail and "by 8 mm" in socket.detail
    assert "lengths sold: 12, 16, 20, 25" in socket.about and "ISO 4762" in socket.about
    order = [choice.label for choice in found]
    assert order.index("ISO 4762") < order.index("ISO 7049"), "tapping screws have no row for M8 and come last"
    assert next(choice for choice in found if choice.label == "ISO 7049").detail == "no row for M8"


def test_lengths_that_are_sold_come_first() -> None:
    assert labels("drive d\n  thread M8\n  bolt ISO 4762, length ‸")[:4] == ["12 mm", "16 mm", "20 mm", "25 mm"]


def test_a_standard_is_replaced_whole() -> None:
    for tail in ("drive d\n  thread M8\n  bolt ISO 47‸", "drive d\n  thread M8\n  bolt ISO ‸"):
        choice = next(choice for choice in offered(tail) if choice.label == "ISO 4762")
        assert (RISER + tail)[choice.start :].startswith("ISO")


def test_threads_of_the_system_first() -> None:
    metric = labels("drive d\n  thread ‸")
    assert metric.index("M8") < metric.index("5/16-18") and "play" not in metric
    inch = [choice.label for choice in offered("drive d\n  thread ‸", RISER.replace("hardware metric", "hardware inch"))]
    assert inch.index("5/16-18") < inch.index("M8")


def test_rules_after_accept() -> None:
    """What is reported now stands first, and what no check reports is never offered: it cannot be accepted."""
    found = offered("accept ‸")
    assert {"few-teeth", "thin-gear-rim"} <= {choice.label for choice in found}
    assert "unknown-name" not in {choice.label for choice in found}
    assert found[0].detail.endswith("reported now") and "gear-on-thread" in [choice.label for choice in found[:8]]


def test_own_inserts_before_the_librarys() -> None:
    found = labels("foot f\n  thread M8\n  insert ‸")
    assert found[:2] == ["tee_nut", "my_insert"] and found.count("my_insert") == 1 and "inserts_din" in found


@pytest.mark.parametrize("tail", ["# a comment ‸", "gear x\n  teeth 20  # of ply ‸", 'fixture y\n  title "‸', "gear ‸", "nothing\n  ‸"])
def test_where_nothing_is_offered(tail: str) -> None:
    assert labels(tail) == []


def test_choices_replace_what_is_typed() -> None:
    plain, offset = marked(RISER + "gear x\n  turned_by cr‸")
    (choice,) = completion(view_of(plain, RISER), offset)
    assert plain[choice.start : choice.end] == "cr" and choice.insert == "crank"


def shown(tail: str) -> list[tuple[str, str]]:
    """The signatures at the mark with the part that is active."""
    plain, offset = marked(RISER + tail)
    return [
        (item.label, item.label[slice(*item.parameters[item.active])] if item.active >= 0 else "")
        for item in signatures(view_of(plain, RISER), offset)
    ]


@pytest.mark.parametrize(
    ("tail", "first"),
    [
        ("board b\n  outline ‸", ("outline rectangle LENGTH by LENGTH", "rectangle")),
        ("board b\n  outline rectangle 90 mm ‸", ("outline rectangle LENGTH by LENGTH", "by")),
        ("board b\n  outline slot ‸", ("outline slot LENGTH by LENGTH", "LENGTH")),
        ("drive d\n  bolt ISO 4762, head recessed ‸", ("bolt STANDARD, head recessed LENGTH", "LENGTH")),
        ("mesh hub\n  with west at ‸", ("with NAME at ANGLE", "ANGLE")),
        ("table t is ‸", ("table NAME is KIND", "KIND")),
    ],
)
def test_signatures(tail: str, first: tuple[str, str]) -> None:
    assert shown(tail)[0] == first


def test_no_signature_where_nothing_is_taken() -> None:
    assert shown("gear x\n  ‸") == [] and shown("# outline ‸") == [] and shown("drive d\n  brake ‸") == []


def test_an_insert_that_must_be_measured_comes_last_and_says_so() -> None:
    """The library knows only the hole of these inserts (library/inserts.trivet)."""
    din = next(choice for choice in offered("foot f\n  thread M8\n  insert ‸") if choice.label == "inserts_din")
    assert "unknown" in din.detail and din.rank > 50


def test_a_gear_is_meshed_once_in_a_block() -> None:
    assert labels("mesh hub\n  with west\n  with ‸") == ["east", "nw", "sw", "ne", "se"]
