"""What `compile` writes of whole sheets: files, report, cut list, legend; and that names of parts stand clear of the cuts."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import jsonschema
import pytest
import shapely
from tests.fixture_text import compiled
from tests.oracles.sheet_files import written
from tests.part_samples import EXAMPLES, example

from trivet.checks._examples import BASE
from trivet.drawing.bounds import bounds_of
from trivet.drawing.legend import MEANINGS
from trivet.drawing.shapes import Text
from trivet.emit.palette import style_of
from trivet.outputs import Wanted, outputs

SCHEMA = json.loads((Path(__file__).resolve().parents[1] / "grammar/report.schema.json").read_text(encoding="utf-8"))
SVG = "{http://www.w3.org/2000/svg}"


def made(text: str = BASE, wanted: Wanted | None = None) -> dict[str, bytes]:
    found = compiled(text)
    assert found.design is not None and found.derived is not None
    return outputs(found.design, found.derived, found.findings, {}, {}, wanted or Wanted())


def test_each_face_with_work_is_written_in_both_formats_and_listed() -> None:
    files = made()
    names = sorted(path for path in files if path.startswith("sheets/"))
    assert names == [f"sheets/ply18-1.{face}.{form}" for face in ("topside", "underside") for form in ("dxf", "svg")]
    report = json.loads(files["report.json"])
    jsonschema.validate(report, SCHEMA)
    listed = {item["path"]: item for item in report["outputs"] if item["kind"] == "sheet drawing"}
    assert sorted(listed) == names
    layers = listed["sheets/ply18-1.underside.svg"]["layers"]
    assert "outer edge through" in layers and "reference part names" in layers and len(layers) == len(set(layers))
    assert listed["sheets/ply18-1.topside.dxf"]["face"] == "topside"


def test_the_report_says_where_each_piece_lies_and_what_share_is_used() -> None:
    report = json.loads(made()["report.json"])
    (sheet,) = report["sheets"]
    assert sheet["id"] == "ply18-1" and sheet["first_face"] == "underside" and len(sheet["pieces"]) == 8
    # By hand: 480 by 350 mm with four corners of 12 mm, over 1220 by 610 mm, is the least that the share can be.
    deck = 480 * 350 - (4 - 3.14159265) * 12**2
    assert deck / (1220 * 610) < sheet["share_used"] < sheet["share_of_used_length"] < 1.0
    assert report["nest"] == {
        "came_from": "computed", "left_over": [], "not_nested": [], "least_sheets_by_area": [{"sheet": "ply18", "sheets": 1}],
    }  # fmt: skip


def test_plain_copies_hold_cuts_only_and_drafts_say_so() -> None:
    files = made(wanted=Wanted(plain=True, draft=True))
    plain = files["sheets/DRAFT-ply18-1.underside.plain.svg"].decode("utf-8")
    assert "reference" not in plain and "outer edge" in plain
    assert b"DRAFT, not for cutting" in files["sheets/DRAFT-ply18-1.underside.svg"]


def test_the_cut_list_ends_with_the_sheets() -> None:
    assert "- Sheets: 1 of ply18; parts fill " in made()["cut_list.md"].decode("utf-8")
    assert "the parts of ply18 are not nested: no size is stated" in made(BASE.replace("  size 1220 by 610 mm\n", ""))["cut_list.md"].decode("utf-8")


def test_the_legend_shows_each_kind_of_work_as_it_is_drawn() -> None:
    data = made()["legend.svg"]
    groups = {group.get("data-operation"): group for group in ElementTree.fromstring(data).findall(f"{SVG}g")}
    for operation, word, meaning in MEANINGS:
        group = groups[operation.replace("_", " ")]
        style = style_of(operation)
        assert group.get("stroke") == style.hex and float(group.get("stroke-width", "0")) == style.width_mm
        assert f"{word}: {meaning}" in data.decode("utf-8")
    words = data.decode("utf-8")
    assert "underside pocket 5.8 mm" in words and "not for cutting" in words


def test_one_layer_has_one_cutter() -> None:
    """Two cutters on a sheet: the outer edges fall apart into two layers, named for their cutters."""
    text = BASE.replace("cutter straight6\n  diameter 6 mm", "cutter thin\n  diameter 4 mm\n  reach 25 mm\n\ncutter straight6\n  diameter 6 mm", 1)
    text = text.replace("default gear\n  stock ply18\n  cutter straight6", "default gear\n  stock ply18\n  cutter thin")
    found = compiled(text)
    assert found.design is not None and found.derived is not None
    _, sheets = written(found.design, found.derived)
    first = sheets["ply18-1"][0]
    edges = {item.part: item.layer for item in first.cut("outer edge")}
    assert edges["deck"] == "outer edge through 6 mm cutter" and edges["nw"] == "outer edge through 4 mm cutter"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_names_stand_clear_of_cuts_and_of_each_other(path: Path) -> None:
    design, derived, _ = example(path)
    for faces in written(design, derived)[1].values():
        for face in faces:
            texts = [shape for layer in face.drawn.layers if layer.name == "reference part names" for shape in layer.shapes]
            boxes = []
            for text in texts:
                assert isinstance(text, Text)
                box = bounds_of([text])
                boxes.append((text.text, shapely.box(box.x_min, box.y_min, box.x_max, box.y_max)))
            lines = [(item.title, item.area.boundary if item.area.geom_type == "Polygon" else item.area) for item in face.cut()]
            for k, (name, box) in enumerate(boxes):
                assert not [title for title, line in lines if line.intersects(box)], (face.drawn.id, name)
                assert not [other for other, another in boxes[:k] if another.intersects(box)], (face.drawn.id, name)
