"""Library rows held to published relations and to geometry that nobody here made.

Whether a page was seen: the `where` cell of a row says where its figures were read; none was read in an original of
ISO, DIN or ASME. Constants marked "from memory" below were not looked up. Tolerances are the rounding of the printed
tables unless said otherwise.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import cos, pi, radians, sin, sqrt, tan
from pathlib import Path

import pytest

LIBRARY = Path(__file__).parents[2] / "library"
STATUSES = {"found", "partly_found", "from_memory", "derived", "derived_from_memory"}
UNITS = {"mm", "in", "deg", "percent"}
CELL = re.compile(r'\s*("[^"]*"|[^",]+?)\s*(?:,\s|$)')

# Rows per table, counted in the reference tables the library was made from.
ROWS_PER_TABLE = {
    "threads_metric_coarse": 9, "threads_metric_fine": 11, "threads_unified_coarse": 12, "threads_unified_fine": 12,
    "hexagon_heads_iso": 9, "hexagon_heads_din": 9, "hexagon_heads_inch": 7, "socket_heads_iso": 9,
    "socket_heads_inch": 10, "button_heads_iso": 8, "button_heads_inch": 8, "countersunk_heads_iso": 8,
    "countersunk_heads_din": 8, "countersunk_heads_cross": 7, "countersunk_heads_inch": 8, "nuts_iso_regular": 9,
    "nuts_iso_thin": 9, "nuts_din_regular": 9, "nuts_inch_regular": 7, "nuts_inch_jam": 7, "nuts_inch_machine_screw": 5,
    "washers_iso_normal": 9, "washers_iso_large": 9, "washers_inch_numbered": 4, "washers_inch_narrow": 7,
    "washers_inch_wide": 7, "threads_tapping": 7, "tapping_screws_iso": 6, "tapping_screws_din": 7,
    "tapping_screws_inch": 6, "wood_screws_inch": 6, "inserts_din": 5, "inserts_inch": 4, "tee_nuts_metric": 5,
    "tee_nuts_inch": 5, "tee_nuts_inch_long": 3, "clearance_holes_iso": 10, "clearance_holes_inch": 10,
    "counterbores_iso": 5, "counterbores_inch_close": 9, "counterbores_inch_free": 9, "counterbores_inch": 10,
    "length_ranges_socket_iso": 9, "length_ranges_screw_iso": 9, "length_ranges_bolt_iso": 9, "stock_lengths_iso": 32,
    "stock_lengths_socket_inch": 26, "stock_lengths_hexagon_inch": 33, "stock_lengths_wood_screws": 17,
    "stock_lengths_tapping_iso": 11, "stock_lengths_rod_metric": 3, "stock_lengths_rod_inch": 4, "magnets_metric": 19,
    "magnets_inch": 9, "cutters_metric": 21, "cutters_inch": 14, "sheets_birch_plywood": 10, "sheets_inch_plywood": 5,
    "sheets_birch_plywood_inch": 3, "sheets_mdf": 7, "sheets_mdf_inch": 3, "sheets_acrylic_cast": 9,
    "sheets_acrylic_extruded": 6, "sheets_compact_laminate": 8, "sheets_hdpe": 1, "sheet_tolerances": 10,
    "movement_hardwoods": 30, "movement_panels": 6, "movement_thermal": 1, "friction_pairs": 15,
    "birch_plywood_panels": 10, "other_panels": 17, "panel_factors": 3, "gear_tooth_allowables": 8, "corner_reliefs": 4,
    "pocket_oversizes": 2,
    # Not in those tables: rows from memory.
    "threads_tapping_inch": 5, "stock_lengths_tapping_inch": 11, "stock_lengths_countersunk_inch": 14,
    "length_ranges_countersunk_iso": 8,
}  # fmt: skip


@dataclass(frozen=True)
class Table:
    """One table as text: facts by name, columns as (name, unit or ""), rows as column to cell."""

    facts: dict[str, str]
    columns: tuple[tuple[str, str], ...]
    rows: tuple[dict[str, str], ...]


def read_library() -> dict[str, Table]:
    """Every table of the library by name. Raises AssertionError on a line that is none of the known forms."""
    tables: dict[str, Table] = {}
    for path in sorted(LIBRARY.glob("*.trivet")):
        for block in re.split(r"^table ", path.read_text(encoding="utf-8"), flags=re.M)[1:]:
            name, kind = re.fullmatch(r"(\w+) is (\w+)", block.splitlines()[0]).groups()
            facts, rows = {"kind": kind}, []
            for line in block.splitlines()[1:]:
                if not line or line.startswith("#"):
                    continue
                fact = re.fullmatch(r"  (standard|source|columns|row) (\S.*\S|\S)", line)
                assert fact, f"{path.name}: {line}"
                if fact[1] == "row":
                    rows.append([cell.strip('"') for cell in CELL.findall(fact[2])])
                else:
                    facts[fact[1]] = fact[2]
            columns = tuple((c.split()[0], c.partition(" ")[2]) for c in facts["columns"].split(", "))
            assert name not in tables and all(len(row) == len(columns) for row in rows), name
            names = [column for column, _ in columns]
            tables[name] = Table(facts, columns, tuple(dict(zip(names, row, strict=True)) for row in rows))
    return tables


@pytest.fixture(scope="module", name="library")
def _library() -> dict[str, Table]:
    return read_library()


def trusted(library: dict[str, Table], table: str, count: int) -> list[dict[str, str]]:
    """The rows of a table that stand on something read or on geometry: exactly `count` of them, none from memory."""
    rows = [row for row in library[table].rows if row["status"] in {"found", "partly_found", "derived"}]
    assert len(rows) == count, table
    return rows


def number(cell: str) -> float:
    """Value of a cell in its column's unit: a decimal or a fraction such as 1-1/8."""
    whole, _, part = cell.rpartition("-")
    return float(Fraction(part) + Fraction(whole or 0))


def nominal(row: dict[str, str]) -> float:
    """Nominal diameter in mm of a row whose thread is a metric designation."""
    return float(row["thread"].removeprefix("M").partition("x")[0])


def test_every_row_is_there_once(library: dict[str, Table]) -> None:
    assert {name: len(table.rows) for name, table in library.items()} == ROWS_PER_TABLE
    for name, table in library.items():
        assert len({tuple(row.values()) for row in table.rows}) == len(table.rows), name
        for key in {"thread", "size"} & {column for column, _ in table.columns}:
            assert len({row[key] for row in table.rows}) == len(table.rows), name


def test_every_row_says_where_it_is_from(library: dict[str, Table]) -> None:
    for name, table in library.items():
        assert table.facts["source"].strip('"') and {unit for _, unit in table.columns} - {""} <= UNITS, name
        for row in table.rows:
            assert row["status"] in STATUSES and len(row["where"]) > 5 and row.get("source", "-"), (name, row)
            for column, unit in table.columns:
                assert not unit or row[column] == "unknown" or number(row[column]) >= 0, (name, column)


def test_no_row_from_memory_serves_as_an_oracle(library: dict[str, Table]) -> None:
    assert [row["thread"] for row in trusted(library, "clearance_holes_iso", 3)] == ["M12", "M14", "M16"]
    assert "M14" not in {row["thread"] for row in trusted(library, "threads_metric_coarse", 8)}
    for table in ("threads_metric_fine", "button_heads_iso", "counterbores_iso", "birch_plywood_panels"):
        assert trusted(library, table, 0) == []


def test_metric_threads_follow_the_basic_profile(library: dict[str, Table]) -> None:
    # ISO 68-1 / ISO 724: H = P sqrt(3)/2, d2 = d - 3/4 H, D1 = d - 5/4 H; ISO 898-1: d3 = D1 - H/6.
    for row in trusted(library, "threads_metric_coarse", 8):
        d, pitch = number(row["diameter"]), number(row["pitch"])
        height = pitch * sqrt(3) / 2
        assert number(row["pitch_diameter"]) == pytest.approx(d - 3 / 4 * height, abs=0.0011)
        assert number(row["minor_diameter_internal"]) == pytest.approx(d - 5 / 4 * height, abs=0.0011)
        assert number(row["minor_diameter_external"]) == pytest.approx(d - 17 / 12 * height, abs=0.0011)
        # ISO 898-1: As = pi/4 (d - 0.938194 P)^2; 0.6 % is the rounding of the printed areas.
        assert number(row["stress_area_mm2"]) == pytest.approx(pi / 4 * (d - 0.938194 * pitch) ** 2, rel=0.006)
        assert number(row["tap_drill"]) == pytest.approx(d - pitch, abs=0.051)
        assert nominal(row) == d


def test_unified_threads_follow_the_basic_profile(library: dict[str, Table]) -> None:
    # ASME B1.1 has the profile of ISO 68-1; FED-STD-H28: At = pi/4 (D - 0.9743/n)^2.
    rows = trusted(library, "threads_unified_coarse", 12) + trusted(library, "threads_unified_fine", 12)
    for row in rows:
        d, pitch = number(row["diameter"]), 1 / number(row["threads_per_inch"])
        assert number(row["pitch_diameter"]) == pytest.approx(d - 0.649519 * pitch, abs=0.00011)
        assert number(row["minor_diameter_internal"]) == pytest.approx(d - 1.082532 * pitch, abs=0.00011)
        assert number(row["stress_area_in2"]) == pytest.approx(pi / 4 * (d - 0.9743 * pitch) ** 2, rel=0.006)
        size, threads = row["thread"].split("-")
        # Numbered sizes are 0.060 + 0.013 N inches (from memory of ASME B1.1).
        assert d == pytest.approx(number(size) if "/" in size else 0.060 + 0.013 * int(size), abs=1e-9)
        assert threads == row["threads_per_inch"]
        if "/" in row["tap_drill_name"]:
            assert number(row["tap_drill"]) == pytest.approx(number(row["tap_drill_name"]), abs=0.00006)
    # Stress areas printed beside FED-STD-H28/2 examples (the pages were read in paraphrase).
    printed = {"1/4-20": "0.0318", "5/16-18": "0.0524", "3/8-16": "0.0775", "1/2-13": "0.1419"}
    assert {row["thread"]: row["stress_area_in2"] for row in rows if row["thread"] in printed} == printed


def test_corners_of_hexagons(library: dict[str, Table]) -> None:
    # A sharp hexagon is 2/sqrt(3) times its flats across corners; metric parts are 3.5 to 5.5 % under it
    # (figures rounded to 0.1 %: M16 is 3.47 % under).
    sharp = 2 / sqrt(3)
    for table in ("hexagon_heads_iso", "hexagon_heads_din", "nuts_iso_regular", "nuts_iso_thin"):
        for row in trusted(library, table, 9):
            under = 1 - number(row["across_corners_min"]) / (sharp * number(row["across_flats"]))
            assert 0.0345 <= under <= 0.0555, row
    inch = {"hexagon_heads_inch": 7, "nuts_inch_regular": 7, "nuts_inch_jam": 7, "nuts_inch_machine_screw": 5}
    for table, count in inch.items():
        for row in trusted(library, table, count):
            # Basic flats and corners are each rounded to 0.001 in, so 0.0005 (1 + 2/sqrt(3)).
            flats, least = number(row["across_flats"]), number(row["across_flats_min"])
            assert number(row["across_corners_max"]) == pytest.approx(sharp * flats, abs=0.0011)
            assert least < number(row["across_corners_min"]) < sharp * least < sharp * flats


def test_two_widths_across_flats(library: dict[str, Table]) -> None:
    # Fastener catalogue 2020 p. 709 (ISO) and published tables of DIN 933: they part at M10, M12 and M14 only.
    pairs = (("hexagon_heads_iso", "hexagon_heads_din"), ("nuts_iso_regular", "nuts_din_regular"))
    for iso, din in pairs:
        both = zip(trusted(library, iso, 9), trusted(library, din, 9), strict=True)
        widths = {a["thread"]: (a["across_flats"], b["across_flats"]) for a, b in both}
        apart = {thread: pair for thread, pair in widths.items() if pair[0] != pair[1]}
        assert apart == {"M10": ("16", "17"), "M12": ("18", "19"), "M14": ("21", "22")}
    # Published tables of ASME B18.2.1 and B18.2.2: two nuts are wider than their bolts, the rest are equal.
    bolts = {row["size"]: row["across_flats"] for row in trusted(library, "hexagon_heads_inch", 7)}
    nuts = {row["size"]: row["across_flats"] for row in trusted(library, "nuts_inch_regular", 7)}
    wider = {size: (nuts[size], bolts[size]) for size in bolts if nuts[size] != bolts[size]}
    assert wider == {"7/16": ("0.688", "0.625"), "9/16": ("0.875", "0.812")}


def test_iso_nuts_are_taller_than_din_nuts(library: dict[str, Table]) -> None:
    # Fastener catalogue 2020 p. 709: ISO 4032 M8 6.8 and M12 10.8, DIN 934 6.5 and 10; equal at M3 and M4.
    tables = (trusted(library, f"nuts_{name}", 9) for name in ("iso_regular", "din_regular", "iso_thin"))
    iso, din, thin = ({row["thread"]: number(row["height_max"]) for row in rows} for rows in tables)
    assert (iso["M8"], din["M8"], iso["M12"], din["M12"]) == (6.8, 6.5, 10.8, 10.0)
    assert [thread for thread in iso if iso[thread] == din[thread]] == ["M3", "M4"]
    assert all(thin[thread] < din[thread] <= iso[thread] for thread in iso)


def test_socket_heads(library: dict[str, Table]) -> None:
    # ISO 4762 and ASME B18.3: the head is as tall as the thread is wide; a knurled head is 0.18 to 0.33 mm wider.
    for row in trusted(library, "socket_heads_iso", 9):
        assert number(row["head_height_max"]) == nominal(row)
        assert 0.1799 <= number(row["head_diameter_max"]) - number(row["head_diameter_max_plain"]) <= 0.3301
    heads = {row["size"]: row for row in trusted(library, "socket_heads_inch", 10)}
    assert all(number(row["head_height_max"]) == number(row["diameter"]) for row in heads.values())
    fits = (trusted(library, f"counterbores_inch_{fit}", 9) for fit in ("close", "free"))
    for tight, wide in zip(*fits, strict=True):
        head = heads[tight["size"]]
        assert number(head["head_diameter_max"]) < number(tight["diameter"]) < number(wide["diameter"])
        assert number(head["head_height_max"]) < number(tight["depth"]) == number(wide["depth"])


def test_countersunk_heads_are_cones(library: dict[str, Table]) -> None:
    # ISO 10642: the theoretical head is a 90 degree cone from the thread's diameter up.
    iso = trusted(library, "countersunk_heads_iso", 8)
    for row in iso:
        half_angle = radians(number(row["angle"])) / 2
        cone = (number(row["head_diameter_theoretical_max"]) - nominal(row)) / 2 / tan(half_angle)
        assert number(row["head_height_max"]) == pytest.approx(cone, abs=1e-9)
    # Published tables: an M8 head is 17.92 by 4.96 (ISO 10642, theoretical) or 16 by 4.4 (DIN 7991).
    din = {row["thread"]: row for row in trusted(library, "countersunk_heads_din", 8)}
    assert (din["M8"]["head_diameter_max"], din["M8"]["head_height_max"]) == ("16", "4.4")
    assert [row["head_diameter_theoretical_max"] for row in iso if row["thread"] == "M8"] == ["17.92"]


def test_clearance_holes(library: dict[str, Table]) -> None:
    # Machinery's Handbook 31 p. 1743: normal drills 17/32, 39/64, 11/16 in for M12, M14, M16. A drill is the nearest
    # 64th, so 1/128 in. P. 2173 prints BS 4186:1967 (14/15, 16/17, 18/19): the mistake that many tables hold.
    drills, older = (17 / 32, 39 / 64, 11 / 16), ((14, 15), (16, 17), (18, 19))
    for row, drill, old in zip(trusted(library, "clearance_holes_iso", 3), drills, older, strict=True):
        fit = number(row["medium"]), number(row["coarse"])
        assert fit[0] == pytest.approx(drill * 25.4, abs=25.4 / 128)
        assert fit == (old[0] - 0.5, old[1] - 0.5)
    for row in trusted(library, "clearance_holes_inch", 10):
        assert number(row["diameter"]) < number(row["fine"]) < number(row["medium"]) < number(row["coarse"])
        for fit_name in ("fine", "medium", "coarse"):
            if "/" in row[f"{fit_name}_drill_name"]:
                assert number(row[fit_name]) == pytest.approx(number(row[f"{fit_name}_drill_name"]), abs=0.00051)
    assert {"no_12", "9/16"}.isdisjoint({row["size"] for row in trusted(library, "clearance_holes_inch", 10)})


def test_washers(library: dict[str, Table]) -> None:
    # Machinery's Handbook 31 p. 1694 Table 1a: bores 1/32 in (narrow) and 1/16 in (wide) over the bolt, to 0.001 in.
    for table, over in (("washers_inch_narrow", 1 / 32), ("washers_inch_wide", 1 / 16)):
        for row in trusted(library, table, 7):
            assert number(row["inside_diameter"]) == pytest.approx(number(row["diameter"]) + over, abs=0.00051)
    for table in ("washers_iso_normal", "washers_iso_large"):
        for row in trusted(library, table, 9):
            assert number(row["thickness_min"]) < number(row["thickness_nominal"]) < number(row["thickness_max"])
            assert nominal(row) < number(row["inside_diameter"]) < number(row["outside_diameter"])


def test_wood_hardware(library: dict[str, Table]) -> None:
    # Published pilot table, AWC/NDS rule: 90 % and 70 % of the root, to the next 64th of a drill set.
    for row in trusted(library, "wood_screws_inch", 6):
        root = number(row["root_diameter"])
        for pilot, share in (("pilot_root", 1.0), ("pilot_hardwood", 0.9), ("pilot_softwood", 0.7)):
            assert number(row[pilot]) == pytest.approx(share * root, abs=1 / 64)
        # Gauge N is 0.060 + 0.013 N inches (from memory of ASME B18.6.1).
        assert number(row["diameter"]) == pytest.approx(0.060 + 0.013 * int(row["size"][3:]), abs=1e-9)
    # ShopNotes 85 p. 50: 1/4-20 goes into 3/8 in, and 1/64 to 1/32 in more in hardwood.
    insert = next(row for row in trusted(library, "inserts_inch", 3) if row["thread"] == "1/4-20")
    assert insert["hole"] == "3/8" and 1 / 64 <= number(insert["hole_hardwood"]) - 3 / 8 <= 1 / 32
    # A supplier's data sheet: the flange is what stands above the barrel.
    for row in trusted(library, "tee_nuts_metric", 5):
        assert number(row["length"]) + number(row["flange_thickness"]) == pytest.approx(number(row["height"]), abs=1e-9)
        assert number(row["hole"]) >= number(row["barrel_diameter"])


def test_sheets_and_movement(library: dict[str, Table]) -> None:
    # EN 315 sanded (from memory; a producer's table lies inside it): t - (0.4 + 0.03 t) to t + (0.2 + 0.03 t).
    # Birch plies: two sanded faces of 1.1 mm, the inner ones 1.4 mm.
    for row in trusted(library, "sheets_birch_plywood", 10):
        t = number(row["thickness_nominal"])
        assert number(row["thickness_min"]) == pytest.approx(t - 0.4 - 0.03 * t, abs=0.0051)
        assert number(row["thickness_max"]) == pytest.approx(t + 0.2 + 0.03 * t, abs=0.0051)
        assert number(row["thickness_design"]) == pytest.approx(2.2 + 1.4 * (int(row["plies"]) - 2), abs=1e-9)
    # Wood Handbook FPL-GTR-190 Table 13-5: every species moves more tangentially than radially.
    solid = trusted(library, "movement_hardwoods", 30)
    for radial, tangential in zip(solid[::2], solid[1::2], strict=True):
        assert (radial["material"], radial["direction"]) == (tangential["material"], "radial")
        assert number(radial["movement"]) < number(tangential["movement"])
    # The Technique of Furniture Making: 0.18 and 0.27 % for 7 to 20 % moisture content, divided by 13.
    assert [number(row["movement"]) for row in trusted(library, "movement_panels", 2)] == pytest.approx([0.18 / 13, 0.27 / 13], abs=0.00005)


def test_corner_relief_is_geometry(library: dict[str, Table]) -> None:
    # Circle of radius 1 against two walls at half angle a; printed to six digits.
    for row in trusted(library, "corner_reliefs", 4):
        a = radians(number(row["interior_angle"])) / 2
        want = {"overcut": 1 / sin(a) - 1, "centre_to_vertex": 1.0, "centre_to_wall": sin(a)}
        want |= {"bite_past_wall": 1 - sin(a), "bite_along_wall": 2 * cos(a), "tangent_point_to_vertex": 1 / tan(a)}
        assert {name: number(row[name]) for name in want} == pytest.approx(want, abs=6e-7)
        assert row["covers_sliver"] == "yes"
    for row in trusted(library, "pocket_oversizes", 2):
        assert number(row["oversize"]) == pytest.approx(2 * (1 - sin(radians(number(row["interior_angle"])) / 2)), abs=6e-7)
