// Ties the page together: start, files, keys, printing.

import { byId, el, fill } from "./dom.js";
import { showDrawing } from "./drawing.js";
import { offer, showFields, showParts } from "./fields.js";
import * as jobs from "./job.js";
import { buildTabs, refreshPanels } from "./panels.js";
import { ask, askPdf } from "./server.js";
import { showVerdict } from "./verdict.js";

const { job } = jobs;
let start = null;

// --- what is seen ---

function choose(table, name, focus = false) {
  job.selected = { table, name };
  render();
  if (focus) byId("form-title").scrollIntoView({ block: "nearest" });
  const corner = focus && cornerOf(table, name);
  if (corner && corner !== (job.good.drawing && job.good.drawing.corner)) jobs.showCorner(corner);
}

/** The first corner of a part, to be drawn when the part is chosen. */
function cornerOf(table, name) {
  const corners = (job.good && job.good.corners) || [];
  const own = corners.find((one) => one.table === table && one.row === name);
  return own && own.name;
}

function render() {
  if (!job.view) return;
  showParts(choose);
  if (!showFields()) {
    job.selected = { table: "", name: "" };
    showFields();
    showParts(choose);
  }
  showDrawing();
  if (job.good) showVerdict();
  else fill(byId("findings"));
  refreshPanels();
  tools();
}

function tools() {
  byId("undo").disabled = !job.past.length;
  byId("redo").disabled = !job.future.length;
  byId("file").textContent = job.name || "not saved yet";
  byId("saved").textContent = jobs.unsaved() ? "unsaved changes, kept in this browser" : job.state ? "saved" : "no file yet";
  document.title = `${jobs.unsaved() ? "• " : ""}${job.name || "new job"} – dovelayout`;
}

jobs.onChange((what) => {
  if (what.view) render();
  if (what.opened) opened();
  if (what.saved) { tools(); banner(""); }
  if (what.failed) banner(what.failed, [["Close", () => banner("")]]);
  if (what.conflict) conflict(what.conflict);
});

function banner(text, acts = []) {
  const node = byId("banner");
  node.hidden = !text;
  fill(node, text ? el("span", {}, text) : null, ...acts.map(([label, act]) => el("button", { type: "button", onclick: act }, label)));
}

function dialog(title, ...body) {
  byId("dialog-title").textContent = title;
  fill(byId("dialog-body"), ...body);
  if (!byId("dialog").open) byId("dialog").showModal();
}

// --- files ---

function opened() {
  banner("");
  byId("welcome").hidden = true;
  byId("work").hidden = false;
  buildTabs();
  const first = job.view.tables.corner?.[0]?.name ? ["corner", job.view.tables.corner[0].name]
    : job.view.tables.box?.[0]?.name ? ["box", job.view.tables.box[0].name] : ["", ""];
  choose(...first);
  if (jobs.editedElsewhere()) banner("This job has unsaved changes in another tab too. Each tab keeps its own.", [["Close", () => banner("")]]);
}

async function openFile(name) {
  const file = await ask("read", { name });
  const draft = jobs.draftOf(name);
  if (draft && draft.text !== file.text) {
    await jobs.openText({ name, text: draft.text, state: draft.state || file.state, saved: draft.saved ?? file.text });
    banner("Your unsaved changes are back.", [
      ["Keep them", () => banner("")],
      ["Leave them and take the saved file", async () => { jobs.dropDraft(name); banner(""); await jobs.openText({ name, text: file.text, state: file.state, saved: file.text }); }],
    ]);
    return;
  }
  await jobs.openText({ name, text: file.text, state: file.state, saved: file.text });
}

async function newJob(kind) {
  const { text } = await ask("new", { kind });
  await jobs.openText({ name: "", text, state: "", saved: text });
}

const guarded = (act) => async (...given) => {
  try { await act(...given); } catch (error) { banner(error.message, [["Close", () => banner("")]]); }
};

function leaving(act) {
  if (!jobs.unsaved()) { act(); return; }
  dialog("There are unsaved changes", el("p", {}, "They stay in this browser: Open lists the job."),
    el("p", {},
      el("button", { type: "button", onclick: async () => { byId("dialog").close(); await saveNow(); } }, "Save first"),
      el("button", { type: "button", onclick: () => { byId("dialog").close(); act(); } }, "Go on")));
}

const KIND_WORDS = { corner: "One corner", box: "A box of four boards", drawer: "A drawer for an opening", bank: "A bank of drawers", divider: "A shelf on sliding dovetails" };

function kindButtons() {
  return start.kinds.map((kind) => el("button", { type: "button", "data-kind": kind, onclick: guarded(async () => { byId("dialog").close(); await newJob(kind); }) }, KIND_WORDS[kind] || kind));
}

function fileButtons(files) {
  return files.length
    ? files.map((name) => el("button", { type: "button", onclick: guarded(async () => { byId("dialog").close(); await openFile(name); }) }, name))
    : [el("p", {}, "There are no job files here yet.")];
}

/** Jobs that were begun and never got a file: they are kept in this browser until one is given. */
function draftButtons() {
  return jobs.unnamedDrafts().map((draft) => {
    const title = (draft.text.match(/^title\s*=\s*"([^"]*)"/m) || ["", "a job"])[1];
    return el("button", { type: "button", onclick: guarded(async () => { byId("dialog").close(); await jobs.takeDraft(draft); }) },
      `${title}, no file yet, ${new Date(draft.at).toLocaleString()}`);
  });
}

const showNew = () => leaving(() => dialog("New job", el("div", { class: "choices" }, ...kindButtons())));

const showOpen = guarded(async () => {
  const { files } = await ask("files");
  leaving(() => dialog("Open a job",
    el("div", { class: "choices" }, ...fileButtons(files), ...draftButtons()),
    el("p", {}, el("label", { for: "elsewhere" }, "A job or a table of openings from elsewhere "),
      el("input", { id: "elsewhere", type: "file", accept: ".toml,.csv", onchange: (event) => takeFile(event.target.files[0]) }))));
});

/** A file dropped or chosen: a job's text, or a CSV of openings that becomes a bank of drawers. */
const takeFile = guarded(async (file) => {
  if (!file) return;
  byId("dialog").close();
  if (file.size > 1_000_000) { banner("That file is larger than 1 MB.", [["Close", () => banner("")]]); return; }
  const text = await file.text();
  if (file.name.toLowerCase().endsWith(".csv")) {
    const bank = await ask("bank", { csv: text, name: file.name });
    await jobs.openText({ name: "", text: bank.text, state: "", saved: "" });
    if (bank.bad.length) dialog("Rows that were left out", el("ul", {}, ...bank.bad.map((row) => el("li", {}, row))));
    return;
  }
  await jobs.openText({ name: "", text, state: "", saved: "" });
});

const saveNow = async () => (job.name ? jobs.save(job.name, job.state) : saveAs());

function saveAs() {
  const suggested = job.name || `${(job.view?.tables?.title || "job").toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "job"}.toml`;
  const input = el("input", { id: "save-name", type: "text", value: suggested });
  dialog("Save as", el("form", {
    onsubmit: async (event) => {
      event.preventDefault();
      byId("dialog").close();
      const name = input.value.trim().endsWith(".toml") ? input.value.trim() : `${input.value.trim()}.toml`;
      await jobs.save(name, name === job.name ? job.state : "");
    },
  }, el("label", { for: "save-name" }, `Name in the folder ${start.folder} `), input, el("button", { type: "submit" }, "Save")));
}

function conflict(name) {
  dialog(`${name} was changed meanwhile`,
    el("p", {}, "Another program or tab wrote this file since you opened it. Nothing was written over it."),
    el("p", {},
      el("button", { type: "button", onclick: guarded(async () => { byId("dialog").close(); const { state } = await ask("state", { name }); await jobs.save(name, state); }) }, "Write mine over it"),
      el("button", { type: "button", onclick: guarded(async () => { byId("dialog").close(); const file = await ask("read", { name }); await jobs.replaceText(file.text); job.name = name; job.state = file.state; job.saved = file.text; jobs.dropDraft(name); render(); }) }, "Take the file's (undo brings mine back)"),
      el("button", { type: "button", onclick: () => { byId("dialog").close(); saveAs(); } }, "Save mine under another name")));
}

async function watch() {
  jobs.beat();
  if (document.hidden || byId("work").hidden) return;
  try {
    if (await jobs.diskChanged() && byId("banner").hidden) {
      banner(`${job.name} was changed on disk.`, [
        ["Take the file's", guarded(async () => { const file = await ask("read", { name: job.name }); await jobs.replaceText(file.text); job.state = file.state; job.saved = file.text; banner(""); render(); })],
        ["Keep mine", () => { banner(""); }],
      ]);
    }
  } catch {
    banner("The page's server is gone: start 'dovelayout page' again. Your changes are kept in this browser.");
  }
}

// --- printing ---

function showPrint() {
  const papers = el("select", { id: "print-paper" }, el("option", { value: "" }, "the job's paper"), ...start.papers.map((name) => el("option", { value: name }, name)));
  const printers = el("select", { id: "print-printer" }, el("option", { value: "" }, "none"), ...(start.printers || []).map((name) => el("option", { value: name }, name)));
  const holder = el("div", {});
  const preview = el("div", { class: "sheets" });
  const go = (anyway) => print(holder, papers.value, printers.value, anyway);
  papers.addEventListener("change", () => sheets(preview, papers.value));
  dialog("Print",
    el("p", {}, el("label", { for: "print-paper" }, "Paper "), papers, " ", el("label", { for: "print-printer" }, "Correction for the printer "), printers),
    el("p", {}, "In the print dialogue choose 100 %, or 'actual size', never 'fit to page'. Then measure the two bars on the sheet before you cut."),
    preview,
    el("p", {}, el("button", { type: "button", id: "make-pdf", class: "main", onclick: () => go(false) }, "Make the PDF")),
    holder);
  sheets(preview, papers.value);
}

async function sheets(holder, paper) {
  fill(holder, el("p", { role: "status" }, "Laying out the sheets"));
  try {
    const answer = await ask("sheets", { text: job.text, name: job.name, paper });
    const { drawingOf } = await import("./dom.js");
    fill(holder, el("p", { id: "sheet-count", role: "status" }, answer.words),
      el("ul", { class: "cards" }, ...answer.sheets.map((sheet, index) => el("li", { class: "card sheet" },
        drawingOf(sheet.svg, `sheet ${index + 1}: ${sheet.title}`), el("p", {}, `${index + 1}: ${sheet.title}`)))));
  } catch (error) {
    fill(holder, el("p", { class: "error" }, error.message));
  }
}

async function print(holder, paper, printer, anyway) {
  const stopper = new AbortController();
  fill(holder, el("p", { role: "status" }, "Drawing "), el("progress", { "aria-label": "Drawing" }),
    el("button", { type: "button", onclick: () => stopper.abort() }, "Stop"));
  try {
    const blob = await askPdf({ text: job.text, name: job.name, paper, printer, anyway }, stopper.signal);
    const address = URL.createObjectURL(blob);
    const name = `${(job.name || "job").replace(/\.toml$/, "")}.pdf`;
    fill(holder, el("p", { role: "status" }, `Done, ${Math.ceil(blob.size / 1024)} kB. `),
      el("p", {}, el("a", { href: address, download: name, id: "pdf-link", class: "button" }, `Download ${name}`), " ",
        el("a", { href: address, target: "_blank", rel: "noopener" }, "Open it in a new tab")));
  } catch (error) {
    const stopped = error.answer && error.answer.stopped;
    fill(holder, el("p", { class: "error", role: "alert" }, error.name === "AbortError" ? "Stopped." : error.message),
      stopped ? el("button", { type: "button", onclick: () => print(holder, paper, printer, true) }, "Draw it all the same, stamped") : null);
  }
}

// --- keys and drops ---

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const typing = event.target.matches?.("input[type=text], textarea");
  if (key === "s") { event.preventDefault(); saveNow(); }
  if (key === "z" && !event.shiftKey && !typing) { event.preventDefault(); jobs.undo(); }
  if (((key === "z" && event.shiftKey) || key === "y") && !typing) { event.preventDefault(); jobs.redo(); }
});
document.addEventListener("dragover", (event) => event.preventDefault());
document.addEventListener("drop", (event) => { event.preventDefault(); takeFile(event.dataTransfer.files[0]); });
byId("fields").addEventListener("submit", (event) => event.preventDefault());

// --- start ---

const begin = guarded(async () => {
  start = await ask("start");
  job.folder = start.folder;
  offer(start);
  fill(byId("welcome-kinds"), ...kindButtons());
  fill(byId("welcome-files"), ...fileButtons(start.files));
  const last = sessionStorage.getItem("name");
  const name = last && start.files.includes(last) ? last : start.opened;
  if (name) {
    await openFile(name);
  } else {
    const [draft] = jobs.unnamedDrafts();
    if (draft && sessionStorage.getItem("name") === "") {
      await jobs.takeDraft(draft);
      banner("Your unsaved job is back.", [["Close", () => banner("")]]);
    } else {
      byId("welcome").hidden = false;
      byId("welcome-files").append(...draftButtons());
    }
  }
  setInterval(watch, 2500);
});

byId("new").addEventListener("click", showNew);
byId("open").addEventListener("click", showOpen);
byId("save").addEventListener("click", guarded(saveNow));
byId("save-as").addEventListener("click", saveAs);
byId("undo").addEventListener("click", () => jobs.undo());
byId("redo").addEventListener("click", () => jobs.redo());
byId("print").addEventListener("click", showPrint);
byId("dialog-close").addEventListener("click", () => byId("dialog").close());
begin();
