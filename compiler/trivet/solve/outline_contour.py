"""The outlines of a file as contours, as drawn and as a cutter leaves them."""

from __future__ import annotations

import math

from trivet.model.outline import Outline, Placed
from trivet.solve.as_cut import as_cut_inner, as_cut_outer
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, rectangle, relieved, slot


def drawn(outline: Outline) -> Contour:
    """The outline with its corner radius, the lower left of its box at (0, 0), anticlockwise."""
    width, height, radius = outline.width_mm, outline.height_mm, outline.corner_radius_mm
    if outline.shape == "circle":
        return circle(width / 2.0, height / 2.0, width / 2.0)
    if outline.shape == "slot":
        return slot(width / 2.0, height / 2.0, width, height)
    if outline.shape == "rectangle":
        return rectangle(0.0, 0.0, width, height, radius)
    sharp = Contour(tuple(Vertex(v.x, v.y, v.bulge) for v in outline.vertices)).anticlockwise()
    # A round of that radius runs inside for the outward corners, outside for the inward ones.
    return as_cut_outer(as_cut_inner(sharp, radius).contour, radius).contour if radius > 0.0 else sharp


def outer_as_cut(outline: Outline, cutter_mm: float) -> Contour:
    """A part's edge as a cutter outside it leaves it; `relieved` opens each inward corner so that a square part seats."""
    contour = drawn(outline)
    if outline.relieved:
        contour = relieved(contour.reversed(), cutter_mm / 2.0).anticlockwise()
    return as_cut_outer(contour, cutter_mm / 2.0).contour


def inner_as_cut(outline: Outline, cutter_mm: float) -> Contour:
    """A pocket or opening as a cutter inside it leaves it; `relieved` opens each corner so that a square part seats."""
    contour = drawn(outline)
    if outline.relieved:
        contour = relieved(contour, cutter_mm / 2.0)
    return as_cut_inner(contour, cutter_mm / 2.0).contour


def placed(contour: Contour, outline: Outline, place: Placed, x_mm: float, y_mm: float) -> Contour:
    """A contour of `outline` put with the middle of its box at a place, in the frame whose origin is (x, y) in the world.

    A mirrored place exchanges near and far first: the turn that goes with it was chosen for that.
    """
    middle = contour.translated(-outline.width_mm / 2.0, -outline.height_mm / 2.0)
    if place.mirrored:
        middle = middle.mirrored_y()
    return middle.rotated(math.radians(place.turn_deg)).translated(place.x_mm - x_mm, place.y_mm - y_mm)
