"use strict";
(function () {
  const by = id => document.getElementById(id);
  const facts = JSON.parse(by("facts").textContent);
  const MM_PER_INCH = 25.4;

  function trimmed(value, decimals) {
    const text = value.toFixed(decimals);
    const short = text.includes(".") ? text.replace(/\.?0+$/, "") : text;
    return short === "-0" ? "0" : short;
  }
  function fraction(value, steps, join) {
    const count = Math.floor(value * steps + 0.5), whole = Math.floor(count / steps);
    let rest = count % steps, parts = steps;
    if (!rest) return String(whole);
    while (rest % 2 === 0) { rest /= 2; parts /= 2; }
    return (whole ? whole + join : "") + rest + "/" + parts;
  }
  function both(mm) {
    const metric = trimmed(mm + 1e-9, 2) + " mm", inches = mm / MM_PER_INCH, inch = trimmed(inches, 3) + " in";
    if (facts.unit !== "in") return metric + " (" + inch + ")";
    if (Math.abs(inches) < 0.125) return inch + " (" + metric + ")";
    return fraction(inches, 64, "-") + " in (" + inch + ", " + metric + ")";
  }
  function turnsText(turns) {
    const near = fraction(turns, 8, " and ");
    if (Math.abs(turns * 8 - Math.round(turns * 8)) < 1e-6) return near;
    return turns.toFixed(2) + (near === "0" ? "" : " (nearest eighth: " + near + ")");
  }

  /* marks: what a pointer, the focus or a pressed button points at, in the plan and in the lists */
  const tokens = element => (element.dataset.targets || "").split(" ").filter(Boolean);
  const rows = [...document.querySelectorAll("[data-targets]")];
  const pressed = new Set();
  let pointed = [];
  function paint() {
    const wanted = new Set(pointed);
    pressed.forEach(row => tokens(row).forEach(token => wanted.add(token)));
    document.querySelectorAll("#plan-shapes > [id]").forEach(shape => shape.classList.toggle("marked", wanted.has(shape.id)));
    rows.forEach(row => row.classList.toggle("marked", pressed.has(row) || pointed.length > 0 && tokens(row).some(token => pointed.includes(token))));
  }
  function point(found) { pointed = found; paint(); }
  rows.forEach(row => {
    row.addEventListener("pointerenter", () => point(tokens(row)));
    row.addEventListener("pointerleave", () => point([]));
    row.addEventListener("focusin", () => point(tokens(row)));
    row.addEventListener("focusout", () => point([]));
    const button = row.querySelector("button");
    if (!button) return;
    button.hidden = false;
    button.disabled = false;
    button.addEventListener("click", () => {
      if (pressed.has(row)) pressed.delete(row); else pressed.add(row);
      button.setAttribute("aria-pressed", String(pressed.has(row)));
      paint();
      if (pressed.has(row)) by("plan").scrollIntoView({ block: "nearest" });
    });
  });
  document.querySelectorAll("#plan-shapes > [id]").forEach(shape => {
    shape.addEventListener("pointerenter", () => point([shape.id]));
    shape.addEventListener("pointerleave", () => point([]));
  });

  /* the plan from below: mirrored, its writing moved but not mirrored */
  const below = by("below"), box = by("plan").viewBox.baseVal;
  by("below-switch").hidden = false;
  below.checked = false;
  function turnOver() {
    const middle = box.x + box.width / 2;
    by("plan-shapes").setAttribute("transform", below.checked ? "translate(" + 2 * middle + " 0) scale(-1 1)" : "");
    document.querySelectorAll("#plan-labels > text").forEach(label => {
      label.dataset.x = label.dataset.x || label.getAttribute("x");
      label.setAttribute("x", below.checked ? String(2 * middle - label.dataset.x) : label.dataset.x);
    });
    by("plan").classList.toggle("below", below.checked);
    by("side").textContent = below.checked ? "from below" : "from above";
    if (facts) tell();
  }
  below.addEventListener("change", turnOver);

  /* tables */
  function number(text) {
    const found = /^-?\d+(?:[-.]\d+)?(?:\/\d+)?/.exec(text);
    if (!found) return NaN;
    const [whole, part] = found[0].includes("/") ? [found[0].replace(/-?\d+\/\d+$/, "") || 0, /\d+\/\d+$/.exec(found[0])[0]] : [found[0], ""];
    const [over, under] = part ? part.split("/") : [0, 1];
    return Number(whole) + over / under;
  }
  document.querySelectorAll(".sort").forEach(button => button.addEventListener("click", () => {
    const heading = button.closest("th"), table = button.closest("table"), body = table.tBodies[0];
    const column = [...heading.parentNode.children].indexOf(heading);
    const down = heading.getAttribute("aria-sort") === "ascending";
    const cell = row => row.cells[column].textContent.trim();
    const order = [...body.rows].sort((one, other) => {
      const a = cell(one), b = cell(other), x = number(a), y = number(b);
      return isNaN(x) || isNaN(y) ? a.localeCompare(b, "en", { numeric: true }) : x - y;
    });
    if (down) order.reverse();
    body.append(...order);
    table.querySelectorAll("th").forEach(other => other.setAttribute("aria-sort", other === heading ? (down ? "descending" : "ascending") : "none"));
  }));

  if (!facts) return;

  /* height */
  const slider = by("slider"), last = Number(slider.max);
  let rise = 0, turns = 0, waiting = 0;
  by("control").hidden = false;
  const span = (a, b) => {
    const low = Math.max(a[0] + (a[2] ? rise : 0), b[0] + (b[2] ? rise : 0));
    return [low, Math.min(a[1] + (a[2] ? rise : 0), b[1] + (b[2] ? rise : 0))];
  };
  function tell() {
    const height = both(facts.low + rise), side = below.checked ? "below" : "above";
    const degrees = facts.gears.map(gear => gear.name + " by " + Math.round(Math.abs(gear.degrees * turns)) + " degrees").join(", ");
    by("plan-desc").textContent = "Seen from " + side + " at " + height + ", " + turnsText(turns) + " turns above the lowest. Gears have turned: " + degrees + ".";
    facts.sections.forEach((section, index) => {
      const parts = section.overlaps.map(item => {
        const [low, high] = span(item.a, item.b);
        return "teeth of " + item.one + " and " + item.other + " share " + both(Math.max(0, high - low));
      });
      by("s" + index + "-desc").textContent = "At " + height + (parts.length ? ": " + parts.join("; ") : "") + ".";
    });
    return height + ", " + turnsText(turns) + " turns from the lowest";
  }
  function show() {
    const step = Number(slider.value);
    turns = step >= last ? facts.turns : step / facts.stepsPerTurn;
    rise = step >= last ? facts.high - facts.low : turns * facts.perTurn;
    by("height").textContent = both(facts.low + rise);
    by("turns").textContent = turnsText(turns);
    by("left").textContent = trimmed(facts.turns - turns, 2);
    slider.setAttribute("aria-valuetext", both(facts.low + rise) + ", " + turnsText(turns) + " turns");
    facts.gears.forEach(gear => {
      const shape = by(gear.token);
      if (shape) shape.querySelector(".turns").setAttribute("transform", "rotate(" + trimmed(-gear.degrees * turns % 360, 4) + ")");
    });
    facts.sections.forEach((section, index) => {
      const key = "s" + index, up = "translate(0 " + -rise + ")";
      by(key + "-rises").setAttribute("transform", up);
      const pointer = by(key + "-pointer");
      if (pointer) pointer.setAttribute("transform", up);
      section.overlaps.forEach((item, place) => {
        const [low, high] = span(item.a, item.b), shared = Math.max(0, high - low), mark = by(key + "-overlap-" + place);
        mark.setAttribute("y", String(-high));
        mark.setAttribute("height", String(shared));
        by(key + "-shares-" + place).textContent = both(shared);
      });
      const holds = by(key + "-holds");
      if (holds && section.live) {
        const [low, high] = span(section.screw, section.live);
        holds.textContent = both(Math.max(0, high - low));
      }
    });
    window.clearTimeout(waiting);
    waiting = window.setTimeout(() => { by("live").textContent = tell(); }, 400);
  }
  slider.addEventListener("input", show);
  slider.addEventListener("keydown", event => {
    const way = event.key === "PageUp" ? 1 : event.key === "PageDown" ? -1 : 0;
    if (!way) return;
    event.preventDefault();
    slider.value = String(Number(slider.value) + way * facts.stepsPerTurn / 8);
    show();
  });
  document.querySelectorAll("[data-steps]").forEach(button => button.addEventListener("click", () => {
    slider.value = String(Number(slider.value) + Number(button.dataset.steps));
    show();
  }));
  slider.value = "0";
  show();
})();
