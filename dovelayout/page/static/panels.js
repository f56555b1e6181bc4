// The panels below: suggestions, season, fit, glue-up, repair, and the job as text.

import { byId, drawingOf, el, fill, tableOf } from "./dom.js";
import { apply, job, replaceText } from "./job.js";
import { ask } from "./server.js";
import { entry } from "./verdict.js";

const TABS = [
  ["parts", "Parts", parts],
  ["suggest", "Suggestions", suggestions],
  ["season", "Season", report("season", "How far the parts move with the year, and what that does to what holds them.")],
  ["fit", "Fit", report("fit", "How tight to leave the joints for this glue.")],
  ["glueup", "Glue-up", report("glueup", "The order, the time and the clamps.")],
  ["repair", "Repair", repair],
  ["text", "As text", asText],
];
let current = "parts";

export function buildTabs() {
  fill(byId("tabs"), ...TABS.map(([name, label]) => el("button", {
    type: "button", role: "tab", id: `tab-${name}`, "aria-controls": "panel", "aria-selected": String(name === current),
    tabindex: name === current ? "0" : "-1",
    onclick: () => choose(name),
    onkeydown: (event) => {
      const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!way) return;
      const at = TABS.findIndex(([one]) => one === name);
      const [next] = TABS[(at + way + TABS.length) % TABS.length];
      choose(next);
      byId(`tab-${next}`).focus();
    },
  }, label)));
  show();
}

function choose(name) {
  current = name;
  for (const tab of byId("tabs").children) {
    const here = tab.id === `tab-${name}`;
    tab.setAttribute("aria-selected", String(here));
    tab.tabIndex = here ? 0 : -1;
  }
  byId("panel").setAttribute("aria-labelledby", `tab-${name}`);
  show();
}

function show() {
  const [, , panel] = TABS.find(([name]) => name === current);
  fill(byId("panel"), ...panel());
}

/** After a change: the text follows; what was computed says that it is of before. */
export function refreshPanels() {
  const corner = byId("suggest-corner");
  if (corner) fillCorners(corner);
  if (current === "parts") show();
  const area = byId("job-text");
  if (area && document.activeElement !== area) area.value = job.text;
  const old = byId("panel").querySelector(".computed");
  if (old && old.dataset.of !== job.text) byId("panel").querySelector(".outdated").hidden = false;
}

// --- long work: shown, and stopped when asked ---

async function working(holder, body, build) {
  const stopper = new AbortController();
  const text = job.text;
  fill(holder,
    el("p", { role: "status" }, "Working "),
    el("progress", { "aria-label": "Working" }),
    el("button", { type: "button", onclick: () => stopper.abort() }, "Stop"));
  try {
    const answer = await ask(body.what, { ...body, text, name: job.name }, stopper.signal);
    const computed = el("div", { class: "computed" },
      el("p", { class: "outdated", role: "status", hidden: true }, "The job has changed since: work it out again."),
      ...build(answer));
    computed.dataset.of = text;
    fill(holder, computed);
    refreshPanels();
  } catch (error) {
    fill(holder, el("p", { class: "error", role: "alert" }, error.name === "AbortError" ? "Stopped." : error.message));
  }
}

// --- what to cut ---

function parts() {
  const view = job.good;
  if (!view) return [el("p", {}, "Nothing can be cut yet: the job can't be read.")];
  return [
    ...view.sums.map((line) => el("p", { class: "note-line" }, line)),
    tableOf("What to cut", ["part", "wood", "length × width × thickness", "count"], view.boards.map((one) => [one.name, one.wood, one.size, one.count])),
  ];
}

// --- suggestions ---

function suggestions() {
  const holder = el("div", {});
  const corner = el("select", { id: "suggest-corner" });
  fillCorners(corner);
  const taste = el("select", { id: "suggest-taste" },
    ...["plain", "fine", "strong"].map((one) => el("option", { value: one }, one)));
  return [
    el("p", { class: "ask" },
      el("label", { for: "suggest-corner" }, "Corner"), corner,
      el("label", { for: "suggest-taste" }, "Taste"), taste,
      el("button", {
        type: "button", id: "suggest-go",
        onclick: () => working(holder, { what: "suggest", corner: corner.value, taste: taste.value }, suggested),
      }, "Find layouts that pass")),
    holder,
  ];
}

/** The corners as they are now; the one that is drawn is offered. */
function fillCorners(select) {
  const corners = (job.good && job.good.corners) || [];
  const drawn = (job.good && job.good.drawing && job.good.drawing.corner) || "";
  const kept = select.value && corners.some((one) => one.name === select.value) ? select.value : drawn;
  fill(select, ...corners.map((one) => el("option", { value: one.name }, one.name)));
  select.value = kept;
}

function suggested(answer) {
  if (!answer.layouts.length) {
    return [el("p", {}, `No layout passes${answer.tried ? `, of ${answer.tried} tried` : ""}.`),
      el("ul", {}, ...answer.not_met.map((row) => el("li", {}, `not met: ${row}`)),
        ...answer.would_do.map((row) => el("li", {}, `would do: ${row}`)))];
  }
  return [el("p", {}, `The best of ${answer.tried} tried; each passes every check. Taken, it goes to ${answer.serves}.`),
    el("ul", { class: "cards" }, ...answer.layouts.map((layout) => el("li", { class: "card" },
      drawingOf(layout.svg, layout.words),
      el("p", {}, el("strong", {}, layout.words)),
      el("p", {}, layout.reason),
      layout.sensitivity ? el("p", { class: "measured" }, layout.sensitivity) : null,
      el("button", { type: "button", onclick: () => apply(layout.changes) }, "Take this one"))))];
}

// --- reports that other rooms compute: tables, findings, pictures, lines ---

function report(what, lead) {
  return () => {
    const holder = el("div", {});
    return [
      el("p", { class: "ask" }, lead, " ",
        el("button", { type: "button", id: `${what}-go`, onclick: () => working(holder, { what }, reported) }, "Work it out")),
      holder,
    ];
  };
}

export function reported(answer) {
  return [
    ...(answer.lines || []).map((line) => el("p", {}, line)),
    ...(answer.pictures || []).map((picture) => el("div", { class: "chart" }, drawingOf(picture.svg, picture.title))),
    ...(answer.tables || []).map((table) => tableOf(table.title, table.columns, table.rows)),
    el("ol", { class: "findings" }, ...(answer.findings || []).map((finding, index) => entry(finding, index))),
  ];
}

// --- repair ---

function repair() {
  const holder = el("div", {});
  const input = (id, label, hint) => el("span", { class: "pair" },
    el("label", { for: id }, label), el("input", { id, type: "text", "aria-describedby": `${id}-hint` }),
    el("small", { id: `${id}-hint` }, hint));
  const place = el("select", { id: "repair-place" },
    ...["end", "cheek", "baseline", "lap"].map((one) => el("option", { value: one }, one)));
  const go = (body) => (event) => {
    event.preventDefault();
    working(holder, { what: "repair", ...body() }, reported);
  };
  const value = (id) => byId(id).value;
  return [
    el("form", {
      class: "ask",
      onsubmit: go(() => ({
        width: value("repair-width"), length: value("repair-length"), depth: value("repair-depth"), place: place.value,
      })),
    },
      input("repair-width", "A gap as wide as", "0.6 mm or 1/32 in"),
      input("repair-length", "as long as", "12 mm"),
      input("repair-depth", "going in", "if you know"),
      el("span", { class: "pair" }, el("label", { for: "repair-place" }, "at the"), place),
      el("button", { type: "submit", id: "repair-go" }, "What to do")),
    el("form", { class: "ask", onsubmit: go(() => ({ symptom: value("repair-symptom") })) },
      el("span", { class: "pair wide" }, el("label", { for: "repair-symptom" }, "Or what you see"),
        el("input", { id: "repair-symptom", type: "text", list: "list-symptom" })),
      el("button", { type: "submit", id: "symptom-go" }, "What it comes from")),
    holder,
  ];
}

// --- the text ---

let pause = 0;

function asText() {
  const area = el("textarea", {
    id: "job-text", rows: "24", spellcheck: "false", "aria-label": "The job as text",
    oninput: () => {
      clearTimeout(pause);
      pause = setTimeout(() => replaceText(area.value, "typing"), 350);
    },
    onchange: () => { clearTimeout(pause); replaceText(area.value, "typing"); },
  });
  area.value = job.text;
  return [el("p", {}, "The job file itself: everything above is kept in it, comments too."), area];
}
