"""PDF: pages of templates at full size, as lines and curves, never as pictures.

Page description: ISO 32000-1. Lengths are points of 1/72 inch; fonts are among the 14 that every reader has.
"""

from __future__ import annotations

import io
import math
from typing import Any, assert_never

from trivet.drawing.dimension import parts_of
from trivet.drawing.paper import BOTTOM_MM, SIDE_MM, TOP_MM, Page
from trivet.drawing.shapes import Arc, Circle, Dimension, Line, Path, Shape, Text
from trivet.emit.palette import style_of
from trivet.emit.printable import printable

POINTS_PER_MM = 72.0 / 25.4
# A cubic curve stays within 1e-8 of the radius of an arc of so much.
LONGEST_PIECE_RAD = math.pi / 6.0
BAR_MM = 100.0
FONT, CAPITALS_PER_SIZE = "Helvetica", 0.718  # height of capitals over size: the font's own metrics
WORDS_MM = 2.8


def pdf(title: str, words: tuple[str, ...], parts: tuple[str, ...], pages: tuple[Page, ...]) -> bytes:
    """A cover (words, a 100 mm square, a line for each part), then the templates. Same arguments, same bytes."""
    from reportlab.pdfgen.canvas import Canvas

    stream = io.BytesIO()
    first = pages[0]
    portrait = sorted((first.width_mm, first.height_mm))
    canvas = Canvas(stream, pagesize=_points(portrait[0], portrait[1]), invariant=1, pageCompression=1)
    canvas.setTitle(_plain(title))
    canvas.setCreator("trivet")
    _cover(canvas, words, parts, portrait[0], portrait[1])
    for page in pages:
        canvas.setPageSize(_points(page.width_mm, page.height_mm))
        _page(canvas, page)
    canvas.save()
    return stream.getvalue()


def _points(*lengths_mm: float) -> tuple[float, ...]:
    return tuple(length * POINTS_PER_MM for length in lengths_mm)


def _cover(canvas: Any, words: tuple[str, ...], parts: tuple[str, ...], width_mm: float, height_mm: float) -> None:
    top, room = height_mm - 18.0, width_mm - 2.0 * SIDE_MM
    canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
    y = top
    for index, line in enumerate(words):
        size = 4.5 if index == 0 else 3.2
        for piece in _wrapped(canvas, line, size, room):
            _words(canvas, SIDE_MM, y, piece, size)
            y -= 1.9 * size
    canvas.setLineWidth(0.2)
    canvas.rect(SIDE_MM, y - BAR_MM - 2.0, BAR_MM, BAR_MM)
    _words(canvas, SIDE_MM + 4.0, y - 20.0, "100 mm = 3.937 in along each side", 3.2)
    y -= BAR_MM + 12.0
    for line in parts:
        for piece in _wrapped(canvas, line, WORDS_MM, room):
            if y < 15.0:
                canvas.showPage()
                canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
                y = top
            _words(canvas, SIDE_MM, y, piece, WORDS_MM)
            y -= 1.9 * WORDS_MM
    canvas.showPage()


def _page(canvas: Any, page: Page) -> None:
    canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
    window = page.window
    canvas.saveState()
    outline = canvas.beginPath()
    outline.rect(SIDE_MM, BOTTOM_MM, window.width_mm, window.height_mm)
    canvas.clipPath(outline, stroke=0, fill=0)
    canvas.translate(SIDE_MM - window.x_min, BOTTOM_MM - window.y_min)
    for layer in page.layers:
        style = style_of(layer.operation)
        canvas.setStrokeColorRGB(*(part / 255.0 for part in style.rgb))
        canvas.setLineWidth(style.width_mm)
        canvas.setDash(list(style.dash_mm()))
        for shape in layer.shapes:
            _draw(canvas, shape)
    canvas.setStrokeColorRGB(0, 0, 0)
    canvas.setLineWidth(0.13)
    canvas.setDash([])
    for shape in page.marks:
        _draw(canvas, shape)
    canvas.restoreState()
    _margins(canvas, page)
    canvas.showPage()


def _margins(canvas: Any, page: Page) -> None:
    canvas.setStrokeColorRGB(0, 0, 0)
    canvas.setLineWidth(0.13)
    canvas.setDash([])
    top = page.height_mm - TOP_MM + 12.0
    _words(canvas, SIDE_MM, top, page.title, 3.2, page.width_mm - 2.0 * SIDE_MM)
    where = f"row {page.down} of {page.pages_down}, column {page.across} of {page.pages_across}" if page.pages_down * page.pages_across > 1 else "one page"
    _words(canvas, SIDE_MM, top - 6.0, f"{where}; print at 100 percent, and measure both bars: 100 mm (3-15/16 in) each", WORDS_MM)
    canvas.rect(SIDE_MM, BOTTOM_MM, page.window.width_mm, page.window.height_mm)
    base = BOTTOM_MM - 5.0
    canvas.line(SIDE_MM, base, SIDE_MM + BAR_MM, base)
    canvas.line(SIDE_MM - 4.0, BOTTOM_MM, SIDE_MM - 4.0, BOTTOM_MM + BAR_MM)
    for end in (0.0, BAR_MM):
        canvas.line(SIDE_MM + end, base - 1.5, SIDE_MM + end, base + 1.5)
        canvas.line(SIDE_MM - 5.5, BOTTOM_MM + end, SIDE_MM - 2.5, BOTTOM_MM + end)
    _legend(canvas, page, base - 5.5)


def _legend(canvas: Any, page: Page, y: float) -> None:
    """Each kind of line with its layer's name."""
    x = SIDE_MM
    for layer in page.layers:
        style = style_of(layer.operation)
        wide = canvas.stringWidth(_plain(layer.name), FONT, WORDS_MM / CAPITALS_PER_SIZE * 0.9)
        if x + 14.0 + wide > page.width_mm - SIDE_MM:
            x, y = SIDE_MM, y - 4.5
        if y < 3.0:
            return
        canvas.setStrokeColorRGB(*(part / 255.0 for part in style.rgb))
        canvas.setLineWidth(style.width_mm)
        canvas.setDash(list(style.dash_mm()))
        canvas.line(x, y + 1.0, x + 10.0, y + 1.0)
        _words(canvas, x + 11.5, y, layer.name, WORDS_MM * 0.9)
        x += 16.0 + wide


def _words(canvas: Any, x: float, y: float, text: str, capitals_mm: float, room_mm: float = math.inf) -> None:
    size = capitals_mm / CAPITALS_PER_SIZE
    plain = _plain(text)
    while len(plain) > 4 and canvas.stringWidth(plain, FONT, size) > room_mm:
        plain = plain[:-4] + "..."
    canvas.setFont(FONT, size)
    canvas.setFillColorRGB(0, 0, 0)
    canvas.drawString(x, y, plain)


def _wrapped(canvas: Any, text: str, capitals_mm: float, room_mm: float) -> list[str]:
    from reportlab.lib.utils import simpleSplit

    found: list[str] = simpleSplit(_plain(text), FONT, capitals_mm / CAPITALS_PER_SIZE, room_mm)
    return found or [""]


def _plain(text: str) -> str:
    """What the font of every reader has; other letters as a question mark."""
    return printable(text).encode("cp1252", "replace").decode("cp1252")


def _draw(canvas: Any, shape: Shape) -> None:
    match shape:
        case Line():
            canvas.line(shape.x1, shape.y1, shape.x2, shape.y2)
        case Circle():
            _curve(canvas, shape.cx, shape.cy, shape.r, 0.0, 2.0 * math.pi, close=True)
        case Arc():
            _curve(canvas, shape.cx, shape.cy, shape.r, math.radians(shape.start_deg), math.radians(shape.sweep_deg), close=False)
        case Path():
            _path(canvas, shape)
        case Text():
            _text(canvas, shape)
        case Dimension():
            for part in parts_of(shape):
                _draw(canvas, part)
        case _:
            assert_never(shape)


def _text(canvas: Any, text: Text) -> None:
    size = text.height_mm / CAPITALS_PER_SIZE
    canvas.saveState()
    canvas.translate(text.x, text.y)
    canvas.rotate(text.angle_deg)
    canvas.setFont(FONT, size)
    canvas.setFillColorRGB(0, 0, 0)
    wide = canvas.stringWidth(_plain(text.text), FONT, size)
    canvas.drawString({"start": 0.0, "middle": -wide / 2.0, "end": -wide}[text.anchor], 0.0, _plain(text.text))
    canvas.restoreState()


def _curve(canvas: Any, cx: float, cy: float, r: float, start_rad: float, sweep_rad: float, close: bool) -> None:
    path = canvas.beginPath()
    path.moveTo(cx + r * math.cos(start_rad), cy + r * math.sin(start_rad))
    _arc(path, cx, cy, r, start_rad, sweep_rad)
    if close:
        path.close()
    canvas.drawPath(path, stroke=1, fill=0)


def _path(canvas: Any, shape: Path) -> None:
    path = canvas.beginPath()
    path.moveTo(*shape.vertices[0][:2])
    for x1, y1, x2, y2, bulge in shape.segments():
        if not bulge:
            path.lineTo(x2, y2)
            continue
        sweep = 4.0 * math.atan(bulge)
        # The centre lies on the middle of the chord, (1 - b²)/(4 b) chords to its left.
        off = (1.0 - bulge * bulge) / (4.0 * bulge)
        cx, cy = (x1 + x2) / 2.0 - off * (y2 - y1), (y1 + y2) / 2.0 + off * (x2 - x1)
        _arc(path, cx, cy, math.hypot(x1 - cx, y1 - cy), math.atan2(y1 - cy, x1 - cx), sweep)
    if shape.closed:
        path.close()
    canvas.drawPath(path, stroke=1, fill=0)


def _arc(path: Any, cx: float, cy: float, r: float, start_rad: float, sweep_rad: float) -> None:
    """Cubic curves along an arc: control points at 4/3 tan(a/4) radii along the tangents."""
    pieces = max(1, math.ceil(abs(sweep_rad) / LONGEST_PIECE_RAD))
    step = sweep_rad / pieces
    reach = 4.0 / 3.0 * math.tan(step / 4.0) * r
    for index in range(pieces):
        a, b = start_rad + index * step, start_rad + (index + 1) * step
        x1, y1, x2, y2 = cx + r * math.cos(a), cy + r * math.sin(a), cx + r * math.cos(b), cy + r * math.sin(b)
        path.curveTo(x1 - reach * math.sin(a), y1 + reach * math.cos(a), x2 + reach * math.sin(b), y2 - reach * math.cos(b), x2, y2)
