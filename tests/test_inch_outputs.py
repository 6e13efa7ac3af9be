"""A fixture in inches: no output speaks in the wrong unit, and the drawings' numbers are those of sums by hand."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

import ezdxf
import pytest
from tests.designs_feet import riding, riser
from tests.fixture_text import compiled
from tests.inch_fixture import INCH_FIXTURE
from tests.part_samples import EXAMPLES, example, parts_of

from trivet.cli import main
from trivet.model.base import Band
from trivet.solve.feature import Round
from trivet.solve.parts import part_features
from trivet.solve.solve import solve
from trivet.tables.hardware_items import hardware_items
from trivet.tables.wording import range_text, sold_length

READ = re.compile(r"<(?:title|desc|text)[^>]*>([^<]*)<")
# The scale square's label ends with its size in the other unit.
SCALE = "3.937 in = 100 mm"


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that the inch fixture compiles into."""
    folder = tmp_path_factory.mktemp("inch")
    path = folder / "stand.trivet"
    path.write_text(INCH_FIXTURE, encoding="utf-8")
    assert main(["compile", str(path), "--out", str(folder / "out")]) == 0
    return folder / "out"


def _circles(path: Path) -> dict[str, set[tuple[float, float, float]]]:
    """Circles by layer: centre and diameter in the file's units, three decimals."""
    document = ezdxf.readfile(path)
    # $INSUNITS 1 is the inch (DXF reference, from memory).
    assert document.units == 1
    found: dict[str, set[tuple[float, float, float]]] = {}
    for item in document.modelspace().query("CIRCLE"):
        x, y = item.dxf.center.x, item.dxf.center.y
        found.setdefault(item.dxf.layer, set()).add((round(x, 3), round(y, 3), round(2 * item.dxf.radius, 3)))
    return found


def test_drawings_speak_in_inches(out: Path) -> None:
    drawings = sorted(out.glob("cut/*.svg"))
    assert len(drawings) == 2 + 5 + 1
    for path in drawings:
        for words in READ.findall(path.read_text(encoding="utf-8")):
            assert not re.search(r"\dmm|\d mm|\) mm|ISO|DIN", words.replace(SCALE, "")), (path.name, words)
    for path in sorted(out.glob("cut/*.dxf")):
        for item in ezdxf.readfile(path).modelspace().query("TEXT"):
            assert " mm" not in item.dxf.text.replace(SCALE, ""), (path.name, item.dxf.text)


def test_schedules_say_inches_first(out: Path) -> None:
    for name in ("hardware.csv", "cut_list.csv"):
        with (out / name).open(encoding="utf-8-sig", newline="") as file:
            for row in csv.reader(file):
                for cell in row:
                    # What is left of a cell without its bracketed millimetres has none.
                    bare = re.sub(r"\((?:pitch )?[\d.]+(?: to [\d.]+)? mm\)", "", cell)
                    # Metric screws are sold by the millimetre.
                    bare = re.sub(r"\b(?:ISO|DIN) [\d-]+ M\d+(?:x[\d.]+)?(?: x|,) [\d.]+ mm", "", bare)
                    assert not re.search(r"\d mm", bare), cell


def test_holes_of_the_deck_stand_where_the_file_puts_them(out: Path) -> None:
    """Sums by hand, inches. Two gears of 18 teeth at 4 per in stand 4.5 apart; the underside is mirrored about x = 11."""
    below, above = _circles(out / "cut" / "deck.underside.dxf"), _circles(out / "cut" / "deck.topside.dxf")
    dx, dy = 4.5 * math.cos(math.radians(40)), 4.5 * math.sin(math.radians(40))
    feet = {(round(11 + a * dx, 3), round(7 + b * dy, 3), 0.531) for a in (1, -1) for b in (1, -1)}
    # A slide fit is 0.2 mm = 0.008 in over; ASME B18.2.8: 5/16 close .328, 1/4 close .266 and normal .281 (as in the library).
    others = {(11, 7, 0.328), (1.375, 4.5, 0.758), (20.625, 4.5, 0.758), (20.5, 7, 0.281), (1.5, 7, 0.266)}
    assert below["bore through"] == feet | others
    # `hold` is sunk from above at 1.5; `hold_under`, mirrored to 20.5 as seen from above, is drawn at 1.5 again.
    # Head 1/4 high and 1 mm more: 0.2894 deep; ASME B18.3 counterbore 7/16.
    assert above["topside counterbore 0.2894 in"] == {(1.5, 7, 0.438)}
    assert below["underside counterbore 0.2894 in"] == {(1.5, 7, 0.438)}
    # Magnets on a circle of 0.75 about 22 - 17 = 5, at 30, 150 and 270 deg; pushed in: 0.05 mm over, 0.15 mm deeper.
    c = 0.75 * math.cos(math.radians(30))
    assert below["underside pocket 0.1309 in"] == {
        (round(5 + c, 3), 1.875, 0.377),
        (round(5 - c, 3), 1.875, 0.377),
        (5, 0.75, 0.377),
    }


def test_a_turned_slot_turns_the_other_way_on_the_underside(out: Path) -> None:
    """A slot 2-1/2 by 3/8 turned 20 deg at (4, 12-1/2): its straight sides fall to the right once mirrored, about x = 18."""
    modelspace = ezdxf.readfile(out / "cut" / "deck.underside.dxf").modelspace()
    (slot,) = [item for item in modelspace.query("LWPOLYLINE") if item.dxf.layer == "underside pocket 0.25 in"]
    points = list(slot.get_points("xy"))
    assert sum(x for x, _ in points) / 4 == pytest.approx(18, abs=1e-3)
    left, right = [p for p in points if p[0] < 18], [p for p in points if p[0] > 18]
    half = (2.5 - 0.375) / 2
    assert sum(y for _, y in left) / 2 == pytest.approx(12.5 + half * math.sin(math.radians(20)), abs=1e-3)
    assert sum(y for _, y in right) / 2 == pytest.approx(12.5 - half * math.sin(math.radians(20)), abs=1e-3)


def test_words_of_the_deck(out: Path) -> None:
    """`18 in all` would read as inches; a vee cutter is named by its angle; outlines by their shapes."""
    svg = (out / "cut" / "deck.topside.svg").read_text(encoding="utf-8")
    assert "topside engrave 0.0197 in: 6 cuts, from dial mark 0 of 6" in svg
    assert "cutter 0.25 in and 0.125 in and vee of 60 deg;" in svg
    for path in out.glob("cut/*.svg"):
        assert " in all" not in path.read_text(encoding="utf-8")
    assert "edge of puck, circle 1.5 in" in (out / "cut" / "puck.topside.svg").read_text(encoding="utf-8")
    below = (out / "cut" / "deck.underside.svg").read_text(encoding="utf-8")
    assert "clearance hole for 5/16-18, fine (ASME B18.2.8)" in below
    assert "disc 0.375 in by 0.125 in, push fit" in below
    # 18 mm and 30 mm are 0.7087 in and 1.1811 in.
    assert "0.709 in above and 1.181 in below the part" in below


def test_a_tooth_at_nought_is_not_called_a_pitch_away() -> None:
    """Gears of 20 teeth in a ring of eight all have a tooth at 0 deg; rounding made some 18 deg, which is one pitch."""
    for path in EXAMPLES:
        for part in example(path)[2]:
            for angle in re.findall(r"one tooth at ([\d.]+) deg", part.outline_because):
                teeth = int(re.findall(r": (\d+),", part.outline_title)[0])
                assert float(angle) < 360 / teeth - 0.0006, (part.part, angle)


def test_layers_are_lined_up_by_dowels_that_the_shop_sells() -> None:
    """Inch hardware, a 6 mm cutter: 1/4 in is the first dowel it can cut for, 0.05 mm over; metric keeps 6 mm."""
    for hardware, dowel in (("inch", 6.35), ("metric", 6.0)):
        built = riser(riding())
        thick = tuple(item.model_copy(update={"layers": 2}) if item.name.text == "west" else item for item in built.gears)
        built = built.model_copy(update={"gears": thick, "hardware": hardware, "units": "in"})
        drawn = [item for item in parts_of(built)["west.layer1"].features if item.title.startswith("dowel that")]
        assert len(drawn) == 2
        for item in drawn:
            assert isinstance(item.shape, Round) and item.shape.diameter_mm == pytest.approx(dowel + 0.05)
            assert f"dowel {dowel / 25.4:.3f}".rstrip("0") in item.because
        bought = [piece for piece in hardware_items(built, solve(built)) if piece.item == "gear-layers-dowel"]
        assert [piece.size_mm for piece in bought] == [pytest.approx(dowel)] * 2


def test_a_drilled_hole_of_a_glued_board_says_its_depth_in_inches() -> None:
    """1 in deep in two sheets of 0.712 in: the drill goes on into the second."""
    hole = "\nhole tiny\n  into deck\n  diameter 3/16 in\n  drill 3/16 in\n  blind 1 in\n  at (3, 2) in\n"
    made = compiled(INCH_FIXTURE.replace("board deck\n", "board deck\n  layers 2\n") + hole)
    assert made.design is not None and made.derived is not None
    notes = [note for part in part_features(made.design, made.derived) for note in part.notes]
    assert "drilled holes go on into the next layer, to 1 in at most: finish them after gluing" in notes


def test_a_guide_bore_shorter_than_stated_is_said_on_the_drawing() -> None:
    """An insert 5/8 long flush with the underside of a sheet of 0.712 leaves 0.087 in above; driven from below, the guide is there."""
    below = INCH_FIXTURE.replace(
        "driven_from topside, flush underside", "driven_from underside\n  guide clearance 0.02 in, length 1/8 in"
    )
    for text, said in ((below, True), (below.replace("length 1/8 in\n\ntable", "length 1/16 in\n\ntable"), False)):
        made = compiled(text)
        assert made.design is not None and made.derived is not None
        notes = [note for part in part_features(made.design, made.derived) for note in part.notes]
        words = "the guide bore of corner.nw is 0.087 in long, not 0.125 in: no more wood is left past its insert"
        assert (words in notes) is said and any("guide bore" in note for note in notes) is said


def test_spanners_have_the_size_that_is_stamped_on_them(tmp_path: Path) -> None:
    """An inch hexagon takes an inch spanner though the fixture prints millimetres, and the other way about."""
    path = tmp_path / "stand.trivet"
    path.write_text(INCH_FIXTURE.replace("hardware inch", "hardware inch\n  units mm"), encoding="utf-8")
    assert main(["compile", str(path), "--out", str(tmp_path / "out")]) == 0
    found = (tmp_path / "out" / "hardware.csv").read_text(encoding="utf-8-sig")
    assert "spanner 9/16 in (14.27 mm)" in found and "spanner 1/2 in (12.7 mm)" in found
    metric = next(item for item in EXAMPLES if item.stem == "small_riser").read_text(encoding="utf-8")
    (tmp_path / "shared").mkdir()
    shop = EXAMPLES[0].parent / "shared" / "shop.trivet"
    (tmp_path / "shared" / "shop.trivet").write_bytes(shop.read_bytes())
    path.write_text(metric.replace('title "Small riser"', 'title "Small riser"\n  units in'), encoding="utf-8")
    assert main(["compile", str(path), "--out", str(tmp_path / "metric")]) == 0
    assert re.search(r"spanner 1\d mm", (tmp_path / "metric" / "hardware.csv").read_text(encoding="utf-8-sig"))


def test_bracketed_millimetres_are_rounded_half_up() -> None:
    """1/8 in is 3.175 mm, 3/8 in 9.525, 1-1/8 in 28.575, exactly; their binary fractions lie on either side."""
    said = [sold_length(inches * 25.4, "in") for inches in (0.125, 0.375, 1.125)]
    assert said == ["1/8 in (3.18 mm)", "3/8 in (9.53 mm)", "1-1/8 in (28.58 mm)"]
    assert sold_length(0.125 * 25.4, "mm") == "3.18 mm"
    washer = Band(1.651, 1.2954, 2.032)
    assert range_text(washer.least, washer.most, "in") == "0.051 to 0.08 in (1.3 to 2.03 mm)"
    assert range_text(washer.least, washer.most, "mm") == "1.3 to 2.03 mm"
