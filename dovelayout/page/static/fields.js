// The parts of the job and the fields of the part that is chosen.

import { byId, el, fill } from "./dom.js";
import { edit, job, settle, valueOf } from "./job.js";

let forms = {};
let terms = {};
let lists = {};

/** What the server offers: forms, terms, woods, glues, papers. */
export function offer(start) {
  forms = start.forms;
  terms = start.terms;
  lists = { wood: start.woods, glue: start.glues, paper: start.papers, symptom: start.symptoms };
  for (const [kind, values] of Object.entries(lists)) {
    document.body.append(el("datalist", { id: `list-${kind}` }, ...values.map((value) => el("option", { value }))));
  }
}

const GROUPS = [
  ["board", "Boards"], ["box", "Boxes"], ["corner", "Corners"], ["drawer", "Drawers"], ["bank", "Banks of drawers"],
  ["divider", "Dividers"], ["panel", "Panels"], ["across", "Across the grain"], ["captured", "Captured parts"],
  ["stage", "Stages of the glue-up"], ["wood", "Woods of your own"],
];
const SINGLE = [["", "Job"], ["shop", "Shop"], ["home", "Home"], ["paper", "Paper"], ["drawers", "All drawers"],
  ["glue", "Glue's label"], ["glueup", "Pace of the glue-up"], ["rehearsal", "How far a hand misses"]];
const ALWAYS = new Set(["", "shop", "home", "paper"]);

const rowsOf = (table) => {
  const rows = job.view && job.view.tables[table];
  return Array.isArray(rows) ? rows.filter((row) => row && typeof row.name === "string") : [];
};

/** What a board's ends are called, left one first. */
const endsOf = (row) => (Array.isArray(row.ends) && row.ends.length === 2 ? row.ends : ["left", "right"]);

const boardNames = () => rowsOf("board").map((row) => row.name);

/** A new entry with what can be guessed; the maker changes it. */
function fresh(table) {
  const names = new Set(rowsOf(table).map((row) => row.name));
  const boards = boardNames();
  const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ".split("");
  const name = table === "corner"
    ? letters.find((letter) => !names.has(letter)) || `corner ${names.size + 1}`
    : numbered(table, names);
  const [one = "", other = one] = boards;
  const species = (rowsOf("board")[0] || {}).species || "black cherry";
  const third = boards[2] || other;
  return {
    panel: { name, board: third, groove: 6, play: 2 },
    across: { name, kind: "runner", part: other, host: one },
    captured: { name, in: [((rowsOf("corner")[0] || rowsOf("box")[0]) || { name: "A" }).name] },
    stage: { name, joins: [((rowsOf("corner")[0]) || { name: "A" }).name] },
    board: { name, species, length: 400, width: 150, thickness: 16 },
    corner: { name, tails: `${one}.left`, pins: `${other}.right`, slope: "1:7" },
    box: { name, tails: one, pins: other, slope: "1:7" },
    divider: { name, host: `${one}.left`, key: other, at: 100 },
    drawer: { name, width: 400, height: 120, depth: 380, species },
    bank: { name, width: 400, height: 600, depth: 380, count: 4, species },
    wood: { name, kind: "hardwood" },
  }[table] || { name };
}

function numbered(table, names) {
  let number = names.size + 1;
  while (names.has(`${table} ${number}`)) number += 1;
  return `${table} ${number}`;
}

export function showParts(choose) {
  const used = (table) => ALWAYS.has(table) || job.view.tables[table] !== undefined || job.selected.table === table;
  const items = SINGLE.filter(([table]) => forms[table] && used(table)).map(([table, label]) => part(table, "", label, choose));
  const rare = SINGLE.filter(([table]) => forms[table] && !used(table));
  if (rare.length) {
    items.push(el("li", {}, el("label", { for: "more-parts", class: "small-label" }, "More settings"),
      el("select", { id: "more-parts", onchange: (event) => event.target.value && choose(event.target.value, "", true) },
        el("option", { value: "" }, "choose"), ...rare.map(([table, label]) => el("option", { value: table }, label)))));
  }
  for (const [table, label] of GROUPS) {
    if (!forms[table]) continue;
    const rows = rowsOf(table);
    items.push(el("li", { class: "group" },
      el("span", {}, label),
      el("button", {
        type: "button", class: "small", "aria-label": `Add to ${label.toLowerCase()}`,
        onclick: async () => {
          const values = fresh(table);
          await edit([{ op: "add", table, values }]);
          choose(table, values.name, true);
        },
      }, "Add")));
    items.push(...rows.map((row) => part(table, row.name, row.name, choose)));
  }
  fill(byId("parts"), ...items);
}

function part(table, name, label, choose) {
  const here = job.selected.table === table && job.selected.name === name;
  const bad = job.view.error && job.view.error.table === table && job.view.error.name === name && job.view.error.key;
  return el("li", {}, el("button", {
    type: "button", class: "part", "aria-current": here ? "true" : undefined,
    onclick: () => choose(table, name, true),
  }, label, bad ? el("span", { class: "bad" }, " ✗ to mend") : null));
}

// --- the fields of one part ---

let built = "";

export function showFields() {
  const { table, name } = job.selected;
  const there = !name || rowsOf(table).some((row) => row.name === name);
  if (!there) return false;
  const mark = `${table}|${name}`;
  byId("form-title").textContent = name ? `${table} ${name}` : (SINGLE.find(([key]) => key === table) || ["", table])[1];
  if (mark !== built) {
    built = mark;
    build(table, name);
  }
  for (const field of forms[table] || []) refresh(table, name, field);
  const error = job.view.error;
  const general = byId("form-error");
  const mine = error && error.table === table && error.name === name;
  const field = mine && (forms[table] || []).some((one) => matches(one, error.key));
  general.textContent = error && !field ? `${error.place ? `${error.place}: ` : ""}${words(error)}` : "";
  general.hidden = !general.textContent;
  return true;
}

const words = (error) => (error.remedy ? `${error.problem}; ${error.remedy}` : error.problem);
const matches = (field, key) => field.key === key || field.key.split(".")[0] === key;
const idOf = (field) => `field-${field.key.replace(".", "-") || "top"}`;

function build(table, name) {
  const fields = forms[table] || [];
  const groups = new Map();
  for (const field of fields) {
    if (!groups.has(field.group)) groups.set(field.group, []);
    groups.get(field.group).push(row(table, name, field));
  }
  const parts = [el("p", { id: "form-error", class: "error", role: "alert", hidden: true })];
  for (const [group, rows] of groups) {
    if (!group) parts.push(...rows);
    else {
      const used = fields.some((field) => field.group === group && valueOf(table, name, field.key) !== undefined);
      parts.push(el("details", { open: used }, el("summary", {}, group), ...rows));
    }
  }
  if (name) {
    parts.push(el("button", {
      type: "button", class: "remove",
      onclick: async () => {
        await edit([{ op: "remove", table, name }]);
        job.selected = { table: "", name: "" };
        built = "";
        showFields();
      },
    }, `Remove ${table} ${name}`));
  }
  fill(byId("fields"), ...parts);
}

function row(table, name, field) {
  const id = idOf(field);
  const input = inputOf(table, name, field, id);
  return el("div", { class: "field" },
    el("label", { for: id }, field.label),
    field.term ? termButton(field.term, field.label) : null,
    input,
    field.slider ? slider(table, name, field) : null,
    field.hint ? el("small", { id: `${id}-hint` }, field.hint) : null,
    el("p", { id: `${id}-error`, class: "error", hidden: true }));
}

function inputOf(table, name, field, id) {
  const common = { id, "aria-describedby": `${id}-hint ${id}-error`, "data-key": field.key };
  const commit = (value) => change(table, name, field, value);
  if (["choice", "end", "flag", "board"].includes(field.kind)) {
    return el("select", { ...common, onchange: (event) => commit(event.target.value) });
  }
  const list = { wood: "list-wood", glue: "list-glue", paper: "list-paper" }[field.kind];
  return el("input", {
    ...common, type: "text", list, spellcheck: "false",
    inputmode: field.kind === "count" ? "numeric" : undefined,
    onchange: (event) => commit(event.target.value),
    onkeydown: (event) => { if (event.key === "Enter") { event.preventDefault(); commit(event.target.value); } },
  });
}

function slider(table, name, field) {
  const [min, max, step] = field.slider;
  return el("input", {
    type: "range", min, max, step, class: "slider", "data-slider": field.key,
    "aria-label": `${field.label}, slider`,
    oninput: (event) => {
      const value = field.kind === "slope" ? `1:${event.target.value}` : inUnits(event.target.value, field);
      change(table, name, field, value, `slide ${table} ${name} ${field.key}`);
    },
    onchange: settle,
  });
}

/** A slider is in mm; a job in inches gets it as a text with its unit. */
function inUnits(value, field) {
  const units = (job.view.tables.units || "mm");
  return field.kind === "length" && units !== "mm" ? `${value} mm` : value;
}

function change(table, name, field, value, mark = "") {
  const text = typeof value === "string" ? value.trim() : value;
  const old = shown(valueOf(table, name, field.key));
  if (text === old && !mark) return;
  if (field.key === "units" && !table) {
    byId("dialog-title").textContent = `Read every bare number in ${text}?`;
    fill(byId("dialog-body"),
      el("p", {}, `The numbers stay as they were typed: 16 that was 16 ${old || "mm"} becomes 16 ${text || "mm"}. To use another unit in one place only, type it there, such as 3/4 in or 19 mm.`),
      el("p", {},
        el("button", { type: "button", onclick: () => { byId("dialog").close(); edit([{ op: "set", table, name, key: "units", value: text || "mm" }]); } }, `Yes, they are in ${text || "mm"}`),
        el("button", { type: "button", onclick: () => { byId("dialog").close(); refresh(table, name, field); } }, "Leave it as it was")));
    byId("dialog").showModal();
    return;
  }
  if (field.key === "name" && name) {
    if (!text) return;
    job.selected = { table, name: text };
    built = "";
    edit([{ op: "rename", table, name, value: text }]);
    return;
  }
  const edits = text === "" ? [{ op: "unset", table, name, key: field.key }] : [{ op: "set", table, name, key: field.key, value: typed(field, text) }];
  edit(edits, mark);
}

/** Boards may be named in a row, "front, back"; one with a comma or a bracket in its own name is quoted as in the job. */
function asBoards(text) {
  const names = text.split(",").map((name) => name.trim());
  const known = new Set(boardNames());
  return names.length > 1 && names.every((name) => known.has(name)) ? names : null;
}

/** A list may be typed without brackets: 3, 6, 12. */
function typed(field, text) {
  if (field.kind === "flag") return text === "yes";
  if (field.kind === "boards" && asBoards(text)) return asBoards(text);
  if (field.kind === "list" && /^[\d.]+(\s*[,;]\s*[\d.]+)+$/.test(text)) return `[${text.replaceAll(";", ",")}]`;
  if (field.kind === "list" && /^[\d.]+\s*(-|to)\s*[\d.]+$/.test(text)) return `[${text.replace(/\s*(-|to)\s*/, ", ")}]`;
  return text.replace(/^"(.*)"$/, field.kind === "list" ? '"$1"' : "$1");
}

function shown(value) {
  if (value === undefined || value === null) return "";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value) && value.every((entry) => typeof entry === "string") && asBoards(value.join(", "))) return value.join(", ");
  if (Array.isArray(value)) return `[${value.map((entry) => (typeof entry === "string" ? `"${entry}"` : shown(entry))).join(", ")}]`;
  if (typeof value === "object") return `{ ${Object.entries(value).map(([key, entry]) => `${key} = ${typeof entry === "string" ? `"${entry}"` : shown(entry)}`).join(", ")} }`;
  return String(value);
}

function refresh(table, name, field) {
  const input = byId(idOf(field));
  if (!input) return;
  const value = valueOf(table, name, field.key);
  if (input.tagName === "SELECT") fillChoices(input, field, value);
  if (document.activeElement !== input || input.tagName === "SELECT") input.value = shown(value);
  const range = byId("fields").querySelector(`[data-slider="${field.key}"]`);
  if (range && document.activeElement !== range) range.value = sliderValue(field, value);
  const error = job.view.error;
  const bad = Boolean(error && error.table === table && error.name === name && matches(field, error.key));
  input.setAttribute("aria-invalid", bad ? "true" : "false");
  const told = byId(`${input.id}-error`);
  told.textContent = bad ? words(error) : "";
  told.hidden = !bad;
  if (bad && input.closest("details")) input.closest("details").open = true;
}

function sliderValue(field, value) {
  const found = String(value ?? "").match(/[\d.]+(?=\D*$)/);
  return found ? found[0] : (field.slider[0] + field.slider[1]) / 2;
}

function fillChoices(select, field, value) {
  const options = field.kind === "end"
    ? rowsOf("board").flatMap((row) => endsOf(row).map((end) => `${row.name}.${end}`))
    : field.kind === "board" ? boardNames()
    : field.kind === "flag" ? ["yes", "no"] : field.choices;
  const all = [...new Set(["", ...options, ...(value === undefined ? [] : [shown(value)])])];
  const now = Array.from(select.options, (option) => option.value);
  if (now.join("|") === all.join("|")) return;
  fill(select, ...all.map((option) => el("option", { value: option }, option === "" ? "as usual" : option.replace("_", "-"))));
}

function termButton(term, label) {
  return el("button", {
    type: "button", class: "term", "aria-label": `What is this: ${label}?`,
    onclick: () => {
      byId("dialog-title").textContent = label;
      const image = el("img", { src: `/static/terms/${term}.svg`, alt: "", class: "term-picture" });
      fill(byId("dialog-body"), image, el("p", {}, terms[term] || ""));
      byId("dialog").showModal();
    },
  }, el("img", { src: `/static/terms/${term}.svg`, alt: "" }));
}
