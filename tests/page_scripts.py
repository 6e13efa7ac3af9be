"""What tests ask the page in a browser, as scripts, and what they do with it."""

from __future__ import annotations

import re

from tests.browser_driver import Browser

# Of each gear: its middle, and the direction of its farthest points, all in the plan's own mm with y up.
GEARS = """
[...document.querySelectorAll('#plan-shapes > .gear')].map(gear => {
  const path = gear.querySelector('.outline'), turns = gear.querySelector('.turns');
  const shape = gear.transform.baseVal.consolidate().matrix, turn = turns.transform.baseVal.consolidate();
  const inner = turn ? shape.multiply(turn.matrix) : shape, numbers = path.getAttribute('d').match(/[MAL][^MALz]*/g);
  const ends = numbers.map(piece => piece.slice(1).trim().split(/[ ,]+/).slice(-2).map(Number));
  const radii = ends.map(end => Math.hypot(...end)), tip = Math.max(...radii);
  const mark = gear.querySelector('.mark');
  const dot = new DOMPoint(Number(mark.getAttribute('cx')), Number(mark.getAttribute('cy'))).matrixTransform(inner);
  const tips = ends.filter((end, index) => radii[index] > tip - 0.002).map(([x, y]) => new DOMPoint(x, y).matrixTransform(inner));
  const about = point => [point.x - shape.e, shape.f - point.y];
  return {name: gear.id, x: shape.e, y: -shape.f, tip, dot: about(dot), tips: tips.map(about)};
})
"""

# Boxes of all writing in drawings that is shown, and of the page's panels with how many panels each lies in.
BOXES = """
(() => {
  const panels = 'header, main > section, figure, .control, .parts, .ends, .finding, .figures li, .table';
  const box = element => { const r = element.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; };
  const shown = element => { const r = element.getBoundingClientRect(); return r.width > 0 && r.height > 0; };
  const px = (text, svg) => parseFloat(getComputedStyle(text).fontSize) * svg.getScreenCTM().a;
  const depth = element => { let found = 0; while ((element = element.parentElement && element.parentElement.closest(panels))) found += 1; return found; };
  return {
    wide: document.documentElement.scrollWidth,
    writing: [...document.querySelectorAll('figure > svg')].map(svg => ({
      id: svg.id, box: box(svg),
      texts: [...svg.querySelectorAll('text')].filter(shown).map(text => ({text: text.textContent, box: box(text), px: px(text, svg)})),
    })),
    panels: [...document.querySelectorAll(panels)].filter(shown).map(element => (
      {name: element.className || element.id, box: box(element), inside: depth(element)})),
  };
})()
"""

# Per section: heights over the bench of the board's topside and of the lowest that stands, and where the axes are, mm.
SECTION = """
[...document.querySelectorAll('[id$=-rises]')].map(rises => {
  const key = rises.id.replace('-rises', ''), turn = rises.transform.baseVal.consolidate(), up = turn ? -turn.matrix.f : 0;
  const boards = [...rises.querySelectorAll(`rect[fill="url(#${key}-board)"]`)].map(box => -Number(box.getAttribute('y')) + up);
  const stands = [...document.querySelectorAll(`#${key}-stands rect`)].map(box => -Number(box.getAttribute('y')) - Number(box.getAttribute('height')));
  const axes = [...document.querySelectorAll(`#${key}-all .axis`)].map(axis => Number(axis.getAttribute('d').match(/^M(-?[\\d.]+)/)[1]));
  return {work: Math.max(...boards), low: Math.min(...stands), axes};
})
"""


def millimetres(text: str) -> float:
    """The millimetres in a text of the page."""
    match = re.search(r"(-?[\d.]+) mm", text)
    assert match, text
    return float(match[1])


def move(tab: Browser, step: int) -> None:
    """Set the control to a position."""
    tab.run(
        f"(slider => {{ slider.value = {step}; slider.dispatchEvent(new Event('input')); }})(document.getElementById('slider'))"
    )
