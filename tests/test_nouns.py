"""Nouns take at once what is plainly of their fields' types; pydantic judges all else, and both must agree."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from trivet.files import DiskFiles
from trivet.model.base import Band, Noun, Ref
from trivet.model.judged import judged
from trivet.model.noun import _takes_of, hints
from trivet.model.shop import Shop, ToothForm
from trivet.model.train import Gear
from trivet.pipeline import check
from trivet.source import SourceFile
from trivet.units import Quantity

EXAMPLES = sorted((Path(__file__).resolve().parents[1] / "examples").glob("*.trivet"))
# Values of every kind that a field may be given by mistake.
ODD: tuple[Any, ...] = (
    *(None, True, False, 0, 1, -1, 2.0, 2.5, float("inf"), float("nan"), "", "x", "y", "topside", b"x", (), [], {}, ("x",), ((),)),
    *(Ref("a"), Band(1.0, 0.5, 1.5), Quantity(Fraction(3), "mm"), Quantity(Fraction(0), "mm"), Quantity(Fraction(-2), "mm")),
    *(Quantity(Fraction(5), ""), Quantity(Fraction(5, 2), ""), Quantity(Fraction(30), "deg"), Shop()),
    *((Quantity(Fraction(3), "mm"), Quantity(Fraction(4), "mm")), [Quantity(Fraction(3), "mm")], (Ref("a"), Ref("b"))),
)


def _nouns(value: Any) -> Iterator[Noun]:
    if isinstance(value, Noun):
        yield value
        for inner in value.__dict__.values():
            yield from _nouns(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _nouns(inner)


def _design(path: Path) -> Noun:
    files = DiskFiles()
    source = files.read(str(path))
    assert isinstance(source, SourceFile)
    design = check(source, files).design
    assert design is not None
    return design


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_pydantic_takes_every_noun_of_the_examples(path: Path) -> None:
    count = 0
    for noun in _nouns(_design(path)):
        assert judged(type(noun), noun.__dict__) == noun.__dict__
        assert type(noun)(**noun.__dict__) == noun
        count += 1
    assert count > 10


@pytest.mark.parametrize("kind", sorted(Noun.__subclasses__(), key=lambda kind: kind.__name__), ids=lambda kind: kind.__name__)
def test_what_is_taken_at_once_is_what_pydantic_takes(kind: Any) -> None:
    """Each field of each noun with each odd value: where ours takes it, pydantic takes it too and makes the same of it."""
    from pydantic import ConfigDict, TypeAdapter

    taken = 0
    for name, hint in hints(kind).items():
        judge: Any = TypeAdapter(hint, config=ConfigDict(arbitrary_types_allowed=True))
        for value in ODD:
            try:
                mine = _takes_of(kind)[name](value)
            except ValueError:
                continue
            theirs = judge.validate_python(value)
            assert type(mine) is type(theirs) and (mine == theirs or mine != mine), (name, value)
            taken += 1
    assert taken


def test_what_is_not_plain_is_judged() -> None:
    """Converted where pydantic converts, refused in its words and at its places where it does not."""
    form = {"name": Ref("f"), "module_mm": "4", "backlash": Quantity(Fraction(1), "mm")}
    assert ToothForm(**form).module_mm == 4.0
    assert Shop(moisture_least=7).moisture_least == 7.0 and type(Shop(moisture_least=7).moisture_least) is float
    with pytest.raises(ValidationError) as caught:
        ToothForm(name="f", module_mm=4.0, backlash=Quantity(Fraction(-1), "mm"), more=1)
    assert [(item["loc"], item["msg"]) for item in caught.value.errors()] == [
        (("name",), "Value error, expects a Ref"),
        (("backlash",), "Value error, is -1 mm; at least 0 is required"),
        (("more",), "Extra inputs are not permitted"),
    ]
    with pytest.raises(ValidationError, match="Field required"):
        Gear(name=Ref("g"))


def test_nouns_are_frozen() -> None:
    shop = Shop(depth_mm=0.3, origins="here")
    with pytest.raises(AttributeError):
        shop.depth_mm = 0.4
    with pytest.raises(AttributeError):
        del shop.depth_mm
    changed = shop.model_copy(update={"depth_mm": 0.4})
    assert (shop.depth_mm, changed.depth_mm) == (0.3, 0.4) and changed != shop
    assert shop == Shop(depth_mm=0.3, origins="there") and hash(shop) == hash(Shop(depth_mm=0.3))
