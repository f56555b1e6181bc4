// The verdict: every finding with its place and its fix.

import { byId, el, fill } from "./dom.js";
import { point } from "./drawing.js";
import { apply, job, showCorner } from "./job.js";

const WORDS = {
  ok: "Clean. Nothing stands against sawing.",
  note: "Good, with notes worth reading.",
  warn: "It can be made; a careful maker would change it or prepare for what is warned of.",
  stop: "STOP. It can't be made so, or will very likely break.",
};
const LEVEL = { stop: "STOP", warn: "Warning", note: "Note" };
const MOST_SHOWN = 60;

export function showVerdict() {
  const view = job.good;
  const error = job.view.error;
  byId("worst").textContent = error
    ? `It can't be laid out so: ${error.place ? `${error.place}: ` : ""}${error.problem}${error.remedy ? `; ${error.remedy}` : ""}. The drawing and what stands below show it as it was before.`
    : WORDS[view.worst];
  byId("findings").classList.toggle("stale", Boolean(error));
  byId("worst").className = `worst ${error ? "stop" : view.worst}`;
  if (!view) { fill(byId("findings")); return; }
  const shown = view.findings.slice(0, MOST_SHOWN);
  const rest = view.findings.length - shown.length;
  fill(byId("findings"), ...shown.map((finding, index) => entry(finding, index)),
    rest > 0 ? el("li", { class: "rest" }, `and ${rest} more, in print and in 'dovelayout check'`) : null);
}

export function entry(finding, index) {
  const measured = finding.measured === null || finding.measured === undefined ? null
    : `${finding.measured} ${finding.unit}${finding.limit === null || finding.limit === undefined ? "" : `, limit ${finding.limit}`}`;
  const spots = finding.spots || [];
  const corners = finding.corners || [];
  return el("li", {
    class: `finding ${finding.level}`, value: index + 1,
    onmouseenter: () => point(spots, true), onmouseleave: () => point([], false),
    onfocusin: () => point(spots, true), onfocusout: () => point([], false),
  },
    el("p", { class: "where" }, el("strong", {}, LEVEL[finding.level]), ` ${finding.where}`),
    el("p", {}, finding.message),
    measured ? el("p", { class: "measured" }, `${finding.check}: ${measured}. Source: ${finding.source}`) : null,
    finding.fix ? el("p", { class: "fix" }, `What would do: ${finding.fix}`) : null,
    el("p", { class: "acts" },
      finding.changes && finding.changes.length
        ? el("button", { type: "button", class: "fix-now", onclick: () => apply(finding.changes) }, "Make this change") : null,
      corners.length ? el("button", {
        type: "button", class: "show",
        "aria-label": `Show it: ${finding.where}`,
        onclick: async () => {
          if (job.good.drawing && !corners.includes(job.good.drawing.corner)) await showCorner(corners[0]);
          byId("drawing").scrollIntoView({ block: "nearest" });
          byId("drawing").focus({ preventScroll: true });
          const now = job.good.findings.find((one) => one.where === finding.where && one.check === finding.check);
          point(now ? now.spots : spots, true);
        },
      }, "Show it") : null));
}
