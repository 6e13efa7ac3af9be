"""Small records for tests of single checks: gears, meshes and tooth forms with no more than a check looks at. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

from trivet.diagnostics import Diagnostic
from trivet.model.base import Ref
from trivet.solve.derived import Backlash
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 200)
Shares = tuple[tuple[str, float, float], ...]
NOTHING: dict[str, Any] = {key: () for key in ("gears", "boards", "feet", "pivots", "drives", "magnets", "climbers")}


def of(**values: Any) -> Any:
    """What has these attributes."""
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    """A place in the file."""
    return Span(FILE, start, start + 1)


def ref(text: str, start: int = 90) -> Ref:
    """A name as it is written in the file."""
    return Ref(text, at(start))


class Length(SimpleNamespace):
    """A stated length."""

    mm: float

    def __str__(self) -> str:
        return f"{self.mm:g} mm"


def form(name: str = "coarse", backlash: float = 0.5, module: float = 6.0, **facts: Any) -> Any:
    """A tooth form."""
    return of(name=ref(name, 20), backlash=Length(mm=backlash, origin=at(21)), module_mm=module, **facts)


def gear(name: str, form_name: str = "coarse", module: float = 6.0, face: float = 18.0) -> Any:
    """A gear as derived."""
    declared = of(name=ref(name), tooth_form=ref(form_name))
    return of(id=name, gear=declared, geometry=of(module_mm=module), face_width=of(mean=face))


def mesh(
    names: str, nominal: float, rss: float = 0.2, least: float = 0.1, shares: Shares = (), start: int = 30, stated: Any = None, **facts: Any
) -> Any:
    """A mesh of two gears, its place where its second gear is named."""
    a, b = names.split()
    words = of(origin=at(start + 1), b=ref(b, start), centre_distance=stated)
    backlash = Backlash(nominal_mm=nominal, min_mm=least, max_mm=2.0, rss_mm=rss, contributors=shares)
    given = {"contact_ratio_min": 1.5, "working_depth_min_mm": 10.0, "centre_distance_mm": 120.0, "tight_centre_distance_mm": 120.0}
    working = of(working_angle_rad=math.radians(60.0), working_radii_mm=(40.0, 50.0))
    return of(a=a, b=b, mesh=words, backlash=backlash, geometry=working, **(given | facts))


def world(meshes: tuple[Any, ...], *gears: Any, forms: tuple[Any, ...] = (), units: str = "mm", feet: Any = (), **facts: Any) -> Any:
    """A design and what is derived of it; gears that are not given are plain ones."""
    given = {item.id: item for item in gears}
    for item in meshes:
        for name in (item.a, item.b):
            given.setdefault(name, gear(name))
    train = of(gears=tuple(given.values()), meshes=meshes, gear=given.__getitem__)
    shop = of(inserts="guide_block", insert_tilt_deg=0.5)
    made = of(gears=tuple(item.gear for item in given.values()), tooth_forms=forms or (form(),), units=units, shop=shop, feet=())
    for key, value in facts.items():
        setattr(made, key, value)
    return made, of(train=train, feet=feet)


def run(check: Any, given: Any) -> list[Diagnostic]:
    """The findings of a check's module."""
    return list(check.check(*given))


def made(names: str, units: str, **facts: Any) -> Any:
    """A design of gears with these letters for names, and nothing else but what is given."""
    gears = tuple(of(name=ref(name, 30 + index), carries=None) for index, name in enumerate(names))
    return of(**(NOTHING | {"gears": gears, "units": units, "origin": at(1)} | facts))
