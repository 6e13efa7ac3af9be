"""The formats: every shape drawn by every drawing format, same bytes each time, text from the file kept harmless."""

from __future__ import annotations

import csv as standard_csv
import hashlib
import importlib
import io
import json as standard_json
import os
import pkgutil
import re
import subprocess
import sys
import typing
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable

import pytest
from tests.conftest import Golden
from tests.sample_sheet import BECAUSE, BORE, HOLLOW, MARK, OUTER, REFERENCES, layer, sample, sheet_with

import trivet.emit
from trivet.drawing.shapes import Circle, Shape, Text
from trivet.drawing.sheet import Sheet
from trivet.emit.csv import csv
from trivet.emit.dxf import dxf, legal_name
from trivet.emit.json import json
from trivet.emit.markdown import markdown
from trivet.emit.numbers import number
from trivet.emit.printable import printable
from trivet.emit.svg import svg
from trivet.tables.rows import Column, Rows

Drawing = Callable[[Sheet], bytes]

NAMESPACE = "{http://www.w3.org/2000/svg}"

HOSTILE = "</text><script>alert('x')</script>\x00\x1b[31m\u202e & \"q\" ]]> \ud800"


def formats_taking(kind: type) -> dict[str, Drawing]:
    """Functions named after their module in `emit` whose first argument is of this kind."""
    found: dict[str, Drawing] = {}
    for info in pkgutil.iter_modules(trivet.emit.__path__):
        function = getattr(importlib.import_module(f"trivet.emit.{info.name}"), info.name, None)
        hints = list(typing.get_type_hints(function).values()) if callable(function) else []
        if hints and hints[0] is kind:
            found[info.name] = typing.cast(Drawing, function)
    return found


def groups_of(output: bytes) -> list[ElementTree.Element]:
    """The groups of the layers."""
    return ElementTree.fromstring(output).findall(f"{NAMESPACE}g")


SAMPLES: dict[type, Shape] = {type(shape): shape for shape in (OUTER, BORE, *REFERENCES)}


def test_formats_are_found() -> None:
    assert {"svg", "dxf"} <= formats_taking(Sheet).keys()
    assert {"csv", "markdown"} <= formats_taking(Rows).keys()


@pytest.mark.parametrize("kind", typing.get_args(Shape))
def test_each_format_draws_each_shape(kind: type) -> None:
    assert kind in SAMPLES, f"no sample of {kind.__name__} in tests/sample_sheet.py"
    known = Circle(0, 0, 1, "known", BECAUSE)
    for name, draw in formats_taking(Sheet).items():
        without = draw(sheet_with(layer("reference", "topside", None, known)))
        drawn = draw(sheet_with(layer("reference", "topside", None, known, SAMPLES[kind])))
        assert len(drawn) > len(without) + 20, f"{name} does not draw {kind.__name__}"


def test_same_input_same_bytes_whatever_the_hash_seed() -> None:
    program = (
        "import hashlib; from tests.sample_sheet import sample; from trivet.emit.svg import svg; "
        "from trivet.emit.dxf import dxf; s = sample(); print(hashlib.sha256(svg(s) + dxf(s)).hexdigest())"
    )
    here = hashlib.sha256(svg(sample()) + dxf(sample())).hexdigest()
    # Seeds 1 and 4 once listed the classes of a DXF file in different orders.
    for seed in ("1", "4"):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
        command = [sys.executable, "-c", program]
        run = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
        assert run.stdout.strip() == here


def test_dxf_leaves_the_option_of_its_package_as_it_was() -> None:
    import ezdxf

    options: typing.Any = ezdxf.options
    assert options.write_fixed_meta_data_for_testing is False
    dxf(sample())
    assert options.write_fixed_meta_data_for_testing is False


def test_svg_golden(golden: Golden) -> None:
    golden("drawing_sample.svg", svg(sample()))


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_dxf_golden(golden: Golden, unit: typing.Literal["mm", "in"]) -> None:
    # Only layers and entities: the rest of the file belongs to the package and changes with its version.
    text = dxf(sample(unit)).decode("utf-8")
    layers = re.search(r"  0\nTABLE\n  2\nLAYER\n.*?ENDTAB\n", text, re.DOTALL)
    entities = re.search(r"  0\nSECTION\n  2\nENTITIES\n.*?ENDSEC\n", text, re.DOTALL)
    assert layers and entities
    golden(f"drawing_sample_{unit}.dxf.txt", (layers.group() + entities.group()).encode("utf-8"))


def test_plain_leaves_out_reference_layers_only() -> None:
    full, plain = ElementTree.fromstring(svg(sample())), ElementTree.fromstring(svg(sample(), plain=True))
    identifiers = [[group.attrib["id"] for group in root if "id" in group.attrib] for root in (full, plain)]
    assert identifiers[0] == [*identifiers[1], "reference-drawing"]
    assert full.attrib == plain.attrib
    assert b"reference" not in dxf(sample(), plain=True) and b"reference" in dxf(sample())


def test_depth_face_part_and_operation_travel_with_each_group() -> None:
    (group,) = groups_of(svg(sheet_with(layer("pocket", "underside", 5.8, HOLLOW, part="nw"))))
    data = {key: value for key, value in group.attrib.items() if key.startswith("data-")}
    assert data == {
        "data-operation": "pocket",
        "data-face": "underside",
        "data-part": "nw",
        "data-depth-mm": "5.8",
    }
    assert group.attrib["id"] == "underside-pocket-5-8-mm"
    title = f"{NAMESPACE}title"
    assert all(element.findtext(title) for element in group if element.tag != title)


def test_layers_of_two_parts_get_ids_of_their_own_and_one_name_in_dxf() -> None:
    sheet = sheet_with(*(layer("bore", "topside", None, BORE, part=part) for part in ("a.b", "a-b")))
    assert [group.attrib["id"] for group in groups_of(svg(sheet))] == ["bore-through-a-b", "bore-through-a-b-2"]
    assert dxf(sheet).count(b"AcDbCircle") == 2


def test_hostile_text_stays_text() -> None:
    note = Text(0, 0, 3, HOSTILE, "start", HOSTILE, HOSTILE)
    layers = (layer("reference", "topside", None, note, part=HOSTILE),)
    sheet = Sheet("x", HOSTILE, sample().bounds, layers, "mm", (HOSTILE,))
    root = ElementTree.fromstring(svg(sheet))
    assert not [element for element in root.iter() if element.tag.endswith("script")]
    assert [element.text for element in root.iter() if element.tag.endswith("}text")] == [printable(HOSTILE)]
    import ezdxf

    document = ezdxf.read(io.StringIO(dxf(sheet).decode("utf-8")))
    assert not document.audit().errors


def test_no_scripts_and_nothing_fetched_from_elsewhere() -> None:
    text = svg(sample()).decode("utf-8")
    allowed = {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink", "http://www.w3.org/2001/xml-events"}
    assert set(re.findall(r"https?://[^\"']+", text)) <= allowed
    assert not re.search(r"<(script|image|use|style|foreignObject)|href", text)


def test_layer_names_are_made_legal() -> None:
    # Characters a DXF layer name may not hold: DXF reference, symbol names, from memory.
    assert legal_name('a<b>c/d\\e"f:g;h?i*j|k=l`m', frozenset()) == "a-b-c-d-e-f-g-h-i-j-k-l-m"
    assert legal_name("Bore", frozenset({"bore"})) == "Bore 2"
    from ezdxf.lldxf.validator import is_valid_table_name

    for operation in ("bore", "pocket"):
        assert is_valid_table_name(layer(operation, "topside", 5.85, MARK).name)


@pytest.mark.parametrize(
    ("value", "text"),
    [(1.0, "1"), (-1e-5, "0"), (1e-7, "0"), (-2.5, "-2.5"), (100, "100"), (0.98766, "0.9877")],
)
def test_numbers(value: float, text: str) -> None:
    assert number(value) == text


def test_numbers_keep_decimals_when_asked_and_refuse_the_infinite() -> None:
    assert number(1e16) == "10000000000000000"
    assert number(9, 2, strip=False) == "9.00" and number(-0.001, 2, strip=False) == "0.00"
    for value in (float("nan"), float("inf")):
        with pytest.raises(ValueError, match="finite"):
            number(value)


ROWS = Rows(
    "Hardware | schedule",
    (Column("item"), Column("length", "mm"), Column("note")),
    (
        ("B1", 40.0, "M8 × 1.25 <fine>"),
        ("B2", None, "=1+1"),
        ("B|3", 25.5, "a_b `c`\nd"),
        ("-12.5", 7, '"quoted", twice'),
    ),
    ("# counts come from the model", "1. measure first"),
)


def test_csv(golden: Golden) -> None:
    output = csv(ROWS)
    golden("rows_sample.csv", output)
    assert output.startswith(b"\xef\xbb\xbf") and output.count(b"\r\n") == 5
    read = list(standard_csv.reader(io.StringIO(output.decode("utf-8-sig"), newline="")))
    assert read[0] == ["item", "length (mm)", "note"]
    assert read[1:3] == [["B1", "40", "M8 × 1.25 <fine>"], ["B2", "", "'=1+1"]]
    assert read[4] == ["-12.5", "7", '"quoted", twice']


@pytest.mark.parametrize("text", ["=1", "+a", "-cmd", "@x", "\tx", "\rx", " =1", "-1+2", "+1-1"])
def test_csv_runs_no_formula(text: str) -> None:
    output = csv(Rows("t", (Column("c"),), ((text,),))).decode("utf-8-sig")
    assert list(standard_csv.reader(io.StringIO(output, newline="")))[1] == [f"'{text}"]


def test_markdown(golden: Golden) -> None:
    output = markdown(ROWS)
    golden("rows_sample.md", output)
    table = [line for line in output.decode("utf-8").splitlines() if line.startswith("|")]
    # A bar that is not escaped would start a further cell.
    assert all(len(re.findall(r"(?<!\\)\|", line)) == 4 for line in table)
    assert b"<fine>" not in output


def test_json_rounds_at_one_door_and_keeps_the_order() -> None:
    output = json({"z_mm": 1 / 3, "a": [-0.0, True, None, "é\x00"], "n": 2})
    lines = output.decode("utf-8").split("\n")
    assert lines[:6] == ["{", '  "z_mm": 0.333333,', '  "a": [', "    0.0,", "    true,", "    null,"]
    assert lines[6:] == ['    "é\ufffd"', "  ],", '  "n": 2', "}", ""]
    assert list(standard_json.loads(output)) == ["z_mm", "a", "n"]
    with pytest.raises(ValueError, match="finite"):
        json({"a": float("nan")})
    with pytest.raises(TypeError, match="plain data"):
        json({"a": typing.cast(str, object())})


def test_rows_are_as_long_as_their_heading() -> None:
    with pytest.raises(ValueError, match="1 cells for 2 columns"):
        Rows("t", (Column("a"), Column("b")), (("x",),))
