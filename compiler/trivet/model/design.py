"""The whole fixture."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import From, Named, Noun
from trivet.model.board import Board, CutZone, Dowel, Engrave, Hole, Load, MagnetPlace, Pocket, Spacer, Workpiece
from trivet.model.foot import Foot
from trivet.model.intent import Accept, Have, Helper, Parameter, Require
from trivet.model.shop import Cutter, Machine, Sheet, Shop, ToothForm
from trivet.model.train import Drive, Gear, Mesh, Pivot, Ring


class Design(Noun):
    """A fixture with every name resolved. Invariant: each name used in it is declared in it; exactly one drive gear or none at all
    (a check says so); the feet's `into` and the gears' `under` are boards of it.
    """

    name: str
    title: str = ""
    revision: str = ""
    hardware: Literal["metric", "inch"] = "metric"
    units: Literal["mm", "in"] = "mm"
    licence: str = ""
    author_note: str = ""
    origin: From = None
    parameters: tuple[Parameter, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    cutters: tuple[Cutter, ...] = ()
    shop: Shop
    machines: tuple[Machine, ...] = ()
    tooth_forms: tuple[ToothForm, ...] = ()
    boards: tuple[Board, ...] = ()
    gears: tuple[Gear, ...] = ()
    meshes: tuple[Mesh, ...] = ()
    rings: tuple[Ring, ...] = ()
    drives: tuple[Drive, ...] = ()
    pivots: tuple[Pivot, ...] = ()
    feet: tuple[Foot, ...] = ()
    holes: tuple[Hole, ...] = ()
    pockets: tuple[Pocket, ...] = ()
    engravings: tuple[Engrave, ...] = ()
    magnets: tuple[MagnetPlace, ...] = ()
    dowels: tuple[Dowel, ...] = ()
    spacers: tuple[Spacer, ...] = ()
    workpieces: tuple[Workpiece, ...] = ()
    cut_zones: tuple[CutZone, ...] = ()
    loads: tuple[Load, ...] = ()
    requires: tuple[Require, ...] = ()
    accepts: tuple[Accept, ...] = ()
    have: tuple[Have, ...] = ()
    helpers: tuple[Helper, ...] = ()

    def named(self, kind: str, name: str) -> Named:
        """The noun of `kind` (a field of this record) called `name`; its existence is this record's invariant."""
        for item in getattr(self, kind):
            if item.name.text == name:
                return item  # type: ignore[no-any-return]  # the kinds are joined in one tuple of Named
        raise KeyError(name)
