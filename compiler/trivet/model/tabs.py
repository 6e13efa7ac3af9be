"""Tabs: bridges that hold a part in its sheet until it is cut free by hand."""

from __future__ import annotations

from trivet.model.base import Count, From, Noun, PositiveLength


class Tabs(Noun):
    """How many; `width` along the edge and `height` of the wood that is left, where stated."""

    count: Count
    width: PositiveLength | None = None
    height: PositiveLength | None = None
    origin: From = None

    @property
    def number(self) -> int:
        """How many."""
        return int(self.count.number)
