"""A page that measures drawings in a browser, and the run of the browser that reads its answer."""

from __future__ import annotations

import html
import json
import os
import re
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
# No network, no first-run dialogues, nothing left by another run.
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip

SCRIPT = """
const STEP = 1;
// The browser sums chords that are fine in units of the drawing, in single precision: so each piece is measured alone, this much larger.
const LARGER = 256;
function larger(element, changes) {
  const copy = element.cloneNode(false);
  for (const [name, value] of Object.entries(changes)) copy.setAttribute(name, value);
  element.parentNode.appendChild(copy);
  const found = copy.getTotalLength() / LARGER;
  copy.remove();
  return found;
}
function length(element) {
  if (element.tagName !== 'path') {
    const names = ['cx', 'cy', 'r', 'x1', 'y1', 'x2', 'y2'].filter(name => element.hasAttribute(name));
    return larger(element, Object.fromEntries(names.map(name => [name, LARGER * element.getAttribute(name)])));
  }
  let found = 0, first = '', here = '';
  for (const [, command, rest] of element.getAttribute('d').matchAll(/([MLAZ])([^MLAZ]*)/g)) {
    const words = rest.trim().split(/[ ,]+/).map((word, place) => command === 'A' && place > 1 && place < 5 ? word : String(LARGER * word));
    const there = command === 'Z' ? first : words.slice(-2).join(' ');
    if (command === 'M') first = there;
    else if (command === 'A') found += larger(element, {d: `M ${here} A ${words.join(' ')}`});
    else if (here !== there) found += larger(element, {d: `M ${here} L ${there}`});
    here = there;
  }
  return found;
}
function shapes(svg) {
  const found = [];
  for (const group of svg.querySelectorAll(':scope > g')) {
    const layer = group.querySelector(':scope > title').textContent.split(':')[0];
    for (const element of group.querySelectorAll('path, circle, line')) {
      const box = element.getBBox();
      const points = [], operation = group.dataset.operation;
      if (operation !== 'reference') {
        const whole = element.getTotalLength();
        for (let at = 0; at < whole; at += STEP) {
          const point = element.getPointAtLength(at);
          points.push([point.x, point.y]);
        }
      }
      found.push({layer, kind: element.tagName, operation, x: box.x, y: box.y, width: box.width, height: box.height,
                  length: length(element), points});
    }
  }
  return found;
}
function texts(svg, scale) {
  const origin = svg.getBoundingClientRect();
  return [...svg.querySelectorAll('text')].map(text => {
    const box = text.getBoundingClientRect();
    return {text: text.textContent, width: text.getComputedTextLength(), left: (box.left - origin.left) / scale,
            right: (box.right - origin.left) / scale, top: (box.top - origin.top) / scale, bottom: (box.bottom - origin.top) / scale};
  });
}
window.addEventListener('load', () => {
  const found = {};
  for (const holder of document.querySelectorAll('[data-path]')) {
    const svg = holder.querySelector('svg');
    const box = svg.getBoundingClientRect();
    const scale = svg.getScreenCTM().a;
    const all = shapes(svg), words = texts(svg, scale);
    for (const word of words) {
      word.over = all.filter(shape => shape.operation !== 'reference' && shape.points.some(
        ([x, y]) => x > word.left && x < word.right && y > word.top && y < word.bottom)).map(shape => shape.layer);
    }
    all.filter(shape => shape.operation !== 'outer edge').forEach(shape => delete shape.points);
    found[holder.dataset.path] = {width: box.width, height: box.height, scale, shapes: all, texts: words};
  }
  document.getElementById('found').textContent = JSON.stringify(found);
});
"""


def browser() -> str:
    """The program, or no test: skipped with a reason, which is a failure where everything needed is installed on purpose."""
    program = next((path for name in NAMES if (path := shutil.which(name))), None)
    if program is None:
        reason = f"no browser to measure drawings with: none of {', '.join(NAMES)} is installed"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    return program


def measured(program: str, drawings: Mapping[str, bytes], folder: Path) -> dict[str, Any]:
    """What the browser measures of each SVG, placed in one page: sizes in CSS pixels, shapes and texts in the drawing's own mm."""
    page = folder / "page.html"
    parts = ["<!DOCTYPE html><meta charset='utf-8'><style>svg { display: block }</style>"]
    for path, data in drawings.items():
        parts.append(f'<div data-path="{html.escape(path)}">{re.sub("<[?]xml.*?[?]>", "", data.decode("utf-8"))}</div>')
    page.write_text("\n".join([*parts, f"<pre id='found'></pre><script>{SCRIPT}</script>"]), encoding="utf-8")
    command = [program, *FLAGS, f"--user-data-dir={folder / 'profile'}", "--virtual-time-budget=60000", "--dump-dom", page.as_uri()]
    done = subprocess.run(command, capture_output=True, timeout=120, check=False)
    text = re.search('<pre id="found">(.*?)</pre>', done.stdout.decode("utf-8"), re.DOTALL)
    assert text and text[1], done.stderr.decode("utf-8", "replace")[-2000:]
    found: dict[str, Any] = json.loads(html.unescape(text[1]))
    return found
