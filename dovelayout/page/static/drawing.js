// The drawing of one corner, its spots, and the numbers beside it.

import { byId, drawingOf, el, fill } from "./dom.js";
import { job, showCorner } from "./job.js";
import { ask } from "./server.js";

const SVG = "http://www.w3.org/2000/svg";
let drawn = "";

export function showDrawing() {
  const view = job.good;
  if (!view) return;
  showCorners(view);
  const drawing = view.drawing;
  byId("drawing").classList.toggle("stale", Boolean(job.view.error));
  if (!drawing) {
    fill(byId("drawing"), el("p", {}, "No corner to draw: dividers are drawn when you print."));
    fill(byId("numbers"));
    drawn = "";
    return;
  }
  byId("drawing-title").textContent = `Corner ${drawing.corner}`;
  if (drawn !== drawing.svg) {
    drawn = drawing.svg;
    const node = drawingOf(drawing.svg, `Corner ${drawing.corner}: both boards' ends unfolded, waste hatched`);
    node.append(overlay(drawing));
    fill(byId("drawing"), node);
  }
  number(view, drawing);
  const proposed = drawing.proposed.length ? [el("dt", {}, "proposed"), el("dd", {}, drawing.proposed.join(", "))] : [];
  fill(byId("numbers"), ...drawing.numbers.flatMap(([what, value]) => [el("dt", {}, what), el("dd", {}, value)]), ...proposed);
  showPicture(drawing.corner);
}

let pause = 0;
let pictured = "";

/** The picture follows when the hand rests: it takes longer than the drawing. */
function showPicture(corner) {
  const mark = `${corner}|${job.text}`;
  if (mark === pictured || job.view.error) return;
  clearTimeout(pause);
  byId("picture").classList.add("stale");
  pause = setTimeout(async () => {
    try {
      const { svg } = await ask("picture", { text: job.text, name: job.name, corner });
      pictured = mark;
      byId("picture").classList.remove("stale");
      fill(byId("picture"), drawingOf(svg, `Corner ${corner}: apart, together, and its faces`));
    } catch {
      fill(byId("picture"));
    }
  }, 500);
}

function showCorners(view) {
  const chosen = view.drawing && view.drawing.corner;
  const select = byId("corners").querySelector("select");
  const options = view.corners.map((corner) => el("option", { value: corner.name, selected: corner.name === chosen },
    `${corner.name}: ${corner.tails} to ${corner.pins}${marks(corner.levels)}`));
  if (select) {
    fill(select, ...options);
    select.value = chosen || "";
    return;
  }
  fill(byId("corners"), el("label", { for: "corner-choice" }, "Draw"),
    el("select", { id: "corner-choice", onchange: (event) => showCorner(event.target.value) }, ...options));
}

const marks = (levels) => (levels.stop ? " (STOP)" : levels.warn ? " (warning)" : "");

function overlay(drawing) {
  const group = document.createElementNS(SVG, "g");
  group.setAttribute("class", "spots");
  for (const spot of drawing.spots) {
    for (const ring of spot.rings) {
      const shape = document.createElementNS(SVG, "polygon");
      shape.setAttribute("points", ring.map(([x, y]) => `${x},${y}`).join(" "));
      shape.setAttribute("class", "spot");
      shape.setAttribute("data-spot", spot.name);
      group.append(shape);
    }
  }
  return group;
}

/** Numbers on the drawing, the same as before the findings that speak of those places. */
function number(view, drawing) {
  const svg = byId("drawing").querySelector("svg");
  if (!svg) return;
  for (const old of svg.querySelectorAll(".badge")) old.remove();
  const taken = new Map();
  view.findings.forEach((finding, index) => {
    const spot = drawing.spots.find((one) => finding.spots.includes(one.name));
    if (!spot || !finding.corners.includes(drawing.corner)) return;
    const ring = spot.rings[0];
    const x = ring.reduce((sum, point) => sum + point[0], 0) / ring.length;
    const y = ring.reduce((sum, point) => sum + point[1], 0) / ring.length;
    const beside = taken.get(spot.name) || 0;
    taken.set(spot.name, beside + 1);
    svg.append(badge(x + beside * 8, y, index + 1, finding.level));
  });
}

function badge(x, y, text, level) {
  const group = document.createElementNS(SVG, "g");
  group.setAttribute("class", `badge ${level}`);
  group.setAttribute("aria-hidden", "true");
  const circle = document.createElementNS(SVG, "circle");
  circle.setAttribute("cx", x);
  circle.setAttribute("cy", y);
  circle.setAttribute("r", 3.4);
  const label = document.createElementNS(SVG, "text");
  label.setAttribute("x", x);
  label.setAttribute("y", y + 1.5);
  label.setAttribute("text-anchor", "middle");
  label.setAttribute("font-size", 4.2);
  label.textContent = text;
  group.append(circle, label);
  return group;
}

/** Marks the spots of a finding on the drawing. */
export function point(names, on) {
  for (const shape of byId("drawing").querySelectorAll(".spot")) {
    shape.classList.toggle("on", on && names.includes(shape.getAttribute("data-spot")));
  }
}
