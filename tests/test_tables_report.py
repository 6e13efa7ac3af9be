"""report.json against its contract, its schema and hand calculation; page one and the table of rises."""

from __future__ import annotations

import json as standard_json
import math
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from tests.designs_feet import captured, riding, riser, sliding

from trivet.diagnostics import Diagnostic, Label
from trivet.emit.json import json
from trivet.files import DiskFiles
from trivet.inputs import load_library, read_parts
from trivet.lower.lower import lower
from trivet.model.base import Ref
from trivet.model.design import Design
from trivet.model.intent import Parameter
from trivet.report.json import finding_rows
from trivet.solve.as_cut_proofs import as_cut_proofs
from trivet.solve.derived import Derived
from trivet.solve.parts import part_features
from trivet.solve.solve import solve
from trivet.source import SourceFile, Span
from trivet.tables.cut_list import cut_parts
from trivet.tables.outputs_index import outputs_index
from trivet.tables.raise_table import eighths_text, raise_rows, raise_steps
from trivet.tables.report import report
from trivet.tables.summary import summary_lines

ROOT = Path(__file__).parent.parent
EXAMPLES = sorted(ROOT.glob("examples/*.trivet"))
SCHEMA = standard_json.loads((ROOT / "grammar" / "report.schema.json").read_text("utf-8"))

# Keys of the contract of report.json, copied from its text.
CONTRACT = {
    "": "fixture status findings gears meshes loops train lift feet hardware cut_list outputs",
    "fixture": "name title revision version parameters",
    "findings": "rule severity message file line column end_line end_column accepted because related",
    "gears": "id teeth module_mm pressure_angle_deg profile_shift thinning_mm face_width_mm x_mm y_mm phase_deg direction "
    "turns_per_drive_turn kind pitch_diameter_mm base_diameter_mm tip_diameter_mm root_diameter_mm tooth_thickness_mm tip_land_mm "
    "span_teeth span_mm cutter_diameter_mm largest_cutter_mm z_top_mm_at_least z_bottom_mm_at_least",
    "meshes": "gears centre_distance_mm standard_centre_distance_mm working_pressure_angle_deg contact_ratio contact_ratio_min "
    "backlash_mm tip_clearance_mm as_cut_overlap_mm2 face_overlap_mm",
    "meshes.backlash_mm": "nominal min max rss",
    "meshes.face_overlap_mm": "at_least at_most",
    "train": "binding_probability draws seed",
    "lift": "per_turn_mm turns_for_travel travel_mm travel_worst_mm travel_to_parting_mm height_min_mm height_max_mm "
    "height_every_sheet_mm raises_when limits",
    "lift.height_every_sheet_mm": "min max",
    "lift.limits": "end cause extension_mm parts",
    "feet": "id gear kind thread lead_mm lift_per_drive_turn_mm x_mm y_mm engagement_mm zero_step_mm torque_to_raise_nmm "
    "holds_by_itself",
    "feet.engagement_mm": "at_least at_most",
    "hardware": "item quantity description standard thread length_mm cut_to_mm where source",
    "cut_list": "part quantity sheet width_mm height_mm thickness_mm face_grain",
    "outputs": "path kind part face layers",
}


def compiled(path: Path) -> tuple[Design, Derived]:
    """An example, lowered and solved."""
    files = DiskFiles()
    source = files.read(str(path))
    assert isinstance(source, SourceFile)
    parts, found = read_parts(source, files, None)
    built, more = lower(parts, load_library, {})
    assert built is not None, [item.message for item in (*found, *more)]
    return built, solve(built)


def reported(built: Design, derived: Derived, **facts: Any) -> dict[str, Any]:
    """The report as read back from its bytes."""
    given_facts: dict[str, Any] = {"findings": (), "status": "clean", "version": "1"} | facts
    return standard_json.loads(json(report(built, derived, **given_facts)).decode("utf-8"))


DESIGNS = {"riding": riser(riding()), "captured": riser(captured()), "sliding": riser(sliding(), units="in")}
SOLVED = {name: solve(built) for name, built in DESIGNS.items()}
OUTPUTS = outputs_index([("cut/b.topside.svg", "drawing", "b", "topside", ("bore through",)), ("a.csv", "table", None, None, ())])
TEXT = SourceFile("a.trivet", "fixture a\n")
FINDINGS = finding_rows(
    (
        Diagnostic("some-rule", "warning", "a message", Span(TEXT, 0, 7), (Label("here", Span(TEXT, 8, 9)),)),
        Diagnostic("other-rule", "note", "without a place", None),
    )
)


def either(name: str) -> tuple[Design, Derived]:
    """An example by its file's name, or a design of this file."""
    return (DESIGNS[name], SOLVED[name]) if name in DESIGNS else compiled(ROOT / "examples" / name)


def test_report_figures_against_hand_calculation() -> None:
    """Hub of 16, idlers and feet of 20, module 6, M8 (lead 1.25 mm): a hub turn turns a foot 16/20 and raises 1 mm."""
    built = riser(riding(), parameters=(Parameter(name=Ref("play"), text="0.5 mm", unit="mm"),))
    found = reported(built, solve(built), as_cut=as_cut_proofs(solve(built)))
    gears = {item["id"]: item for item in found["gears"]}
    hub, ne, west = gears["hub"], gears["ne"], gears["west"]
    assert (hub["kind"], west["kind"], ne["kind"]) == ("drive", "idler", "foot")
    assert (hub["direction"], west["direction"], ne["direction"]) == (1, -1, 1)
    assert ne["turns_per_drive_turn"] == pytest.approx(16 / 20)
    assert hub["pitch_diameter_mm"] == pytest.approx(96.0)
    assert hub["base_diameter_mm"] == pytest.approx(96.0 * math.cos(math.radians(20)), abs=1e-6)
    assert hub["tip_diameter_mm"] == pytest.approx(108.0) and hub["root_diameter_mm"] == pytest.approx(81.0)
    assert all(0 <= item["phase_deg"] < 360 / item["teeth"] for item in found["gears"])
    assert ne["z_top_mm_at_least"] - ne["z_bottom_mm_at_least"] == pytest.approx(17.8)
    foot = next(item for item in found["feet"] if item["gear"] == "ne")
    assert foot["id"] == "corner.ne" and foot["lift_per_drive_turn_mm"] == pytest.approx(1.0)
    assert found["lift"]["per_turn_mm"] == pytest.approx(1.0) and found["lift"]["raises_when"] == foot["raises_when"]
    assert found["train"] == {"binding_probability": None, "draws": None, "seed": None}
    # No load is stated; M8 climbs at 3.17 deg, under atan(0.08/cos 30) = 5.28.
    assert foot["torque_to_raise_nmm"] is None and foot["load_share_n"] is None and foot["holds_by_itself"] is True
    assert found["fixture"]["parameters"] == {"play": "0.5 mm"}
    mesh_hub = next(item for item in found["meshes"] if item["gears"] == ["hub", "west"])
    assert mesh_hub["standard_centre_distance_mm"] == pytest.approx(6 * 36 / 2)
    deck = next(item for item in found["cut_list"] if item["part"] == "deck")
    assert (deck["width_mm"], deck["height_mm"], deck["thickness_mm"]) == (480, 350, pytest.approx(17.8))


def test_phase_is_a_tooth_centre() -> None:
    """At the meshing point of hub and west (180 deg) a tooth of one faces a space of the other."""
    built = riser(riding())
    gears = {item["id"]: item for item in reported(built, solve(built))["gears"]}
    assert gears["hub"]["phase_deg"] == 0.0, "the drive gear's first tooth points along +x"
    hub = (180.0 - gears["hub"]["phase_deg"]) / (360 / 16)
    west = (0.0 - gears["west"]["phase_deg"]) / (360 / 20)
    assert (hub + west) % 1.0 == pytest.approx(0.5, abs=1e-6)


def test_overlaps_of_cut_outlines_are_passed_on_and_null_otherwise() -> None:
    """Only the mesh that was swept has a figure."""
    built = riser(riding())
    derived = solve(built)
    swept = derived.train.meshes[0]
    found = reported(built, derived, as_cut={swept.id: as_cut_proofs(derived)[swept.id]})["meshes"]
    cut = found[0]["as_cut"]
    assert found[0]["as_cut_overlap_mm2"] == cut["nominal"]["overlap_mm2"] == 0.0
    assert cut["tightest"]["centre_distance_mm"] == pytest.approx(swept.centre_distance_least_mm)
    assert cut["loosest"]["centre_distance_mm"] == pytest.approx(swept.centre_distance_most_mm)
    assert cut["tightest"]["backlash_mm"] < cut["nominal"]["backlash_mm"] < cut["loosest"]["backlash_mm"]
    assert cut["tightest"]["contact_ratio"] > cut["nominal"]["contact_ratio"] > cut["loosest"]["contact_ratio"]
    assert all(item["as_cut_overlap_mm2"] is None and item["as_cut"] is None for item in found[1:])


@pytest.mark.parametrize("name", [*(path.name for path in EXAMPLES), *DESIGNS])
def test_the_schema_takes_every_report_and_knows_every_key(name: str) -> None:
    """Each example and each kind of foot; keys that we add stand in the schema too."""
    found = reported(*either(name), outputs=OUTPUTS, findings=FINDINGS)
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema.validate(found, SCHEMA)
    for path, keys in CONTRACT.items():
        for node in _nodes(found, path):
            assert list(node)[: len(keys.split())] == keys.split(), path
    assert _unknown(found, SCHEMA) == []
    assert [row["path"] for row in found["outputs"]] == ["a.csv", "cut/b.topside.svg"]
    assert not any(math.isnan(value) for value in _numbers(found))


@pytest.mark.parametrize(("path", "key"), [(path, key) for path, keys in CONTRACT.items() for key in keys.split()])
def test_the_schema_misses_every_key_of_the_contract(path: str, key: str) -> None:
    """A report without that key is refused."""
    found = reported(DESIGNS["riding"], SOLVED["riding"], outputs=OUTPUTS, findings=FINDINGS)
    nodes = _nodes(found, path)
    assert nodes, path
    del nodes[0][key]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(found, SCHEMA)


def _nodes(found: dict[str, Any], path: str) -> list[dict[str, Any]]:
    nodes: list[Any] = [found]
    for key in filter(None, path.split(".")):
        nodes = [item for node in nodes if node is not None for item in (node[key] if isinstance(node[key], list) else [node[key]])]
    return [node for node in nodes if node is not None]


def _unknown(value: Any, schema: dict[str, Any], place: str = "") -> list[str]:
    """Keys of a report that its schema does not describe."""
    options = [item for item in schema.get("anyOf", [schema]) if item.get("type") != "null"]
    if isinstance(value, dict):
        known = options[0].get("properties")
        if known is None:
            return []
        return [f"{place}.{key}" for key in value if key not in known] + [
            text for key, item in value.items() if key in known for text in _unknown(item, known[key], f"{place}.{key}")
        ]
    if isinstance(value, list):
        return [text for item in value for text in _unknown(item, options[0].get("items", {}), place)]
    return []


def _numbers(value: Any) -> list[float]:
    if isinstance(value, dict):
        return [number for item in value.values() for number in _numbers(item)]
    if isinstance(value, list):
        return [number for item in value for number in _numbers(item)]
    return [value] if isinstance(value, float) else []


@pytest.mark.parametrize("name", [*(path.name for path in EXAMPLES), *DESIGNS])
def test_page_one_is_short(name: str) -> None:
    """At most thirteen lines of 80 columns, in the fixture's unit."""
    built, derived = either(name)
    lines = summary_lines(built, derived)
    assert 5 <= len(lines) <= 13 and all(0 < len(line) <= 80 for line in lines)
    assert lines[0].startswith("lift: ") and "seen from above" in lines[0]
    assert (" in per turn" in lines[0]) == (built.units == "in")


@pytest.mark.parametrize("name", [*(path.name for path in EXAMPLES), *DESIGNS])
def test_the_cut_list_names_what_is_drawn(name: str) -> None:
    """Every drawn part stands in the cut list, laminated ones as a whole, and nothing else does."""
    built, derived = either(name)
    listed = [part_id for part in cut_parts(built, derived) for part_id in part.ids]
    drawn = {part.belongs_to or part.part for part in part_features(built, derived)}
    assert sorted(listed) == sorted(drawn)


def test_page_one_without_a_stroke_says_so() -> None:
    """A design without feet."""
    built = riser(riding()).model_copy(update={"feet": (), "gears": (), "meshes": ()})
    derived = solve(built)
    assert summary_lines(built, derived)[0].startswith("no lift could be computed")
    assert raise_rows(built, derived).rows == ()
    found = reported(built, derived)
    jsonschema.validate(found, SCHEMA)
    assert found["lift"] is None


def test_turns_of_the_raise_table_give_the_rise() -> None:
    """Turns times lift per turn, 1 mm here, and the whole travel last."""
    built = riser(riding())
    lift = solve(built).lift
    assert lift is not None
    steps = raise_steps(lift, "mm")
    assert [turns * 1.0 for _, turns in steps] == pytest.approx([rise for rise, _ in steps])
    assert steps[-1][0] == lift.travel_mm and len(steps) > 4
    assert [eighths_text(value) for value in (0.05, 0.5, 2.374, 3.0, 0.0625)] == ["under 1/8", "1/2", "2 and 3/8", "3", "1/8"]
