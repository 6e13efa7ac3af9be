"""PartSheet: the drawing of one face of one part."""

from __future__ import annotations

from trivet.drawing.shapes import Face
from trivet.drawing.sheet import Sheet
from trivet.record import record


@record
class PartSheet(Sheet):
    """A sheet that knows its part and face; its id is both, joined by a dot: `nw.underside`."""

    part: str = ""
    face: Face = "topside"
