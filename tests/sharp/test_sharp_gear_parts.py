"""A gear put together as a part: what it consists of and in which order, how it is turned, and what is noted. Stand-ins for its pieces."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import gear, mm, q

from trivet.model.base import Band
from trivet.model.train import Web
from trivet.solve import gear_features
from trivet.solve.contour_shapes import circle
from trivet.solve.feature import Feature, Round
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.web_openings import WebRoom

OUTLINE = Of(contour=circle(0.0, 0.0, 66.0), bottom_radius_mm=52.5, full_round=False)
QUARTER = math.pi / 2.0


def cut(name: str, x: float, y: float, diameter: float = 6.0, operation: Any = "bore") -> Feature:
    return Feature(operation, "underside", None if operation == "bore" else 5.0, Round(x, y, diameter), name, "")


class Pieces:
    """What the pieces give, and what each was asked with."""

    def __init__(self, patch: pytest.MonkeyPatch, openings: Any = (), dowels: Any = ((), ""), joints: Any = (), recesses: Any = ()) -> None:
        self.told: dict[str, list[Any]] = {}
        for name, gives in (
            ("gear_outline", OUTLINE), ("gear_recesses", recesses), ("web_openings", openings), ("lamination_dowels", dowels),
            ("joint_features", joints), ("phase_marks", (cut("mark", 50.0, 0.0),)), ("web_room", WebRoom(12.0, 40.5)),
        ):  # fmt: skip
            patch.setattr(gear_features, name, lambda *given, name=name, gives=gives: self.told.setdefault(name, []).append(given) or gives)
        patch.setattr(gear_features, "layers_of", lambda part, layers, units: (part, layers, units))
        patch.setattr(gear_features, "owner_of", lambda context, state: "pin.west")


def made(stack: tuple[str, ...] = ("west",), shaft: str = "west", phase: float = QUARTER, hole: float = 8.2, **facts: Any) -> tuple[Any, Any]:
    """(context, state) of the gear `west`."""
    noun = gear("west", 20, **facts)
    state = Of(
        id="west", gear=noun, shaft=shaft, geometry=ToothGeometry(20, 6.0), phase_rad=phase, cutter_diameter_mm=4.0, hole_mm=hole, hole_because="why",
        face_width=Band(18.0, 17.8, 18.2),
    )  # fmt: skip
    context = Of(
        design=Of(units="mm"), stacks={shaft or "west": tuple(Of(id=name) for name in stack)}, parts=Of(sheets={"ply": "the sheet"}),
        size=lambda mm: f"{mm:g} mm", length=lambda mm: f"{mm:g} mm",
    )  # fmt: skip
    return context, state


def titles(part: Any) -> list[str]:
    return [item.title.partition(",")[0] for item in part.features]


def places(part: Any) -> list[tuple[float, float]]:
    return [(round(item.shape.x_mm, 6) + 0.0, round(item.shape.y_mm, 6) + 0.0) for item in part.features]


def test_a_gear_with_everything(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its pieces are drawn with a tooth at +x and turned by its phase, a quarter; what joins it to others stands in the world already."""
    recesses = (cut("recess", 0.0, 0.0, 24.0, "counterbore"), cut("smaller", 0.0, 0.0, 20.0, "counterbore"))
    given = Pieces(monkeypatch, (Round(30.0, 0.0, 18.0),), ((cut("dowel", 0.0, 20.0),), "drill them"), (cut("joint", 7.0, 9.0),), recesses)
    context, state = made(("top", "west", "low"), layers=2, web=Web(form="holes", count=q(5), size=mm(20)))
    part, layers, units = gear_features.gear_parts(context, state, ("hub",))
    assert titles(part) == ["bore for pin.west", "recess", "smaller", "opening in the web of west", "dowel", "mark", "joint"]
    assert places(part) == [(0, 0), (0, 0), (0, 0), (0, 30), (-20, 0), (0, 50), (7, 9)]
    assert (layers, units, part.sheet, part.kind, part.outline, part.thickness) == (2, "mm", "the sheet", "gear", OUTLINE.contour, state.face_width)
    assert part.notes == ("drill them", "fixed to top and low on one shaft, both turned as drawn; two dowels line them up")
    assert part.datum == "underside" and part.cutter_diameter_mm == 4.0 and part.outline_title.startswith("teeth of west")
    # The recesses reach out 12; half the cutter.
    assert given.told["web_room"] == [(52.5, 6.0, 8.2, 12.0)] and given.told["gear_outline"] == [(state.geometry, 2.0, QUARTER)]
    assert given.told["phase_marks"] == [(context, state, ("hub",), 52.5, 12.0)]
    assert given.told["web_openings"] == [(state.gear.web, WebRoom(12.0, 40.5), 4.0)]
    assert given.told["lamination_dowels"] == [(context, 20, state.gear.web, WebRoom(12.0, 40.5), 4.0)]


def test_a_gear_with_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    given = Pieces(monkeypatch)
    context, state = made(hole=0.0)
    part, layers, _ = gear_features.gear_parts(context, state, ())
    assert (titles(part), part.notes, layers) == (["mark"], (), 1) and not {"web_openings", "lamination_dowels"} & set(given.told)
    assert given.told["web_room"] == [(52.5, 6.0, 0.0, 0.0)] and given.told["phase_marks"][0][-1] == 0.0
    assert gear_features.web_room_of(context, state) == WebRoom(12.0, 40.5) and given.told["gear_outline"][-1] == (state.geometry, 2.0, QUARTER)


def test_what_is_noted_of_a_gear(monkeypatch: pytest.MonkeyPatch) -> None:
    """A web that finds no room; gears that nothing lines up; layers whose dowels find a place need no note."""
    Pieces(monkeypatch, (), ((cut("dowel", 0.0, 20.0),), ""))
    context, state = made(("west", "low"), layers=3, web=Web(form="spokes", count=q(5), size=mm(20)))
    part, layers, _ = gear_features.gear_parts(context, state, ())
    assert layers == 3 and part.notes == (
        "no room for the web's openings: 28.5 mm between hub and rim",
        "fixed to low on one shaft, both turned as drawn; nothing that lines them up is drawn",
    )
    # A gear whose shaft has no name of its own stands on itself.
    context, state = made(("west",), shaft="")
    part, _, _ = gear_features.gear_parts(context, state, ())
    assert part.notes == ()
