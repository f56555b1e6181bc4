// The job as the page holds it: its text, the way back, what is unsaved. The text is the truth; the server reads it.

import { ask } from "./server.js";

const TAB = sessionStorage.getItem("tab") || String(Math.random()).slice(2);
sessionStorage.setItem("tab", TAB);

const MOST_STEPS = 200;

export const job = {
  folder: "", name: "", state: "", text: "", saved: "",
  past: [], future: [], draft: "",
  view: null, good: null,
  selected: { table: "", name: "" }, show: "",
};

const listeners = [];
export const onChange = (listener) => listeners.push(listener);
const changed = (what) => listeners.forEach((listener) => listener(what));

export const unsaved = () => job.text !== job.saved;

// --- one request after the other; of waiting ones with the same mark only the last is asked ---

const queue = [];
let running = false;

function enqueue(step) {
  if (step.mark) {
    const waiting = queue.findIndex((other) => other.mark === step.mark);
    if (waiting >= 0) {
      queue[waiting].done();
      queue[waiting] = step;
      return;
    }
  }
  queue.push(step);
  if (!running) run();
}

async function run() {
  running = true;
  while (queue.length) {
    const step = queue.shift();
    try {
      await step.work();
    } catch (error) {
      changed({ failed: error.message || String(error) });
    }
    step.done();
  }
  running = false;
}

const queued = (work, mark = "") => new Promise((done) => enqueue({ work, mark, done }));

// --- changing the text ---

let openMark = "";

/** Takes a new text as the job's; steps with the same mark (a slider's way) go back in one. */
function take(text, view, mark = "") {
  if (text !== job.text) {
    if (!mark || mark !== openMark) {
      job.past.push(job.text);
      if (job.past.length > MOST_STEPS) job.past.shift();
    }
    job.future = [];
    job.text = text;
  }
  openMark = mark;
  see(view);
  keepDraft();
}

function see(view) {
  job.view = view;
  if (!view.error) job.good = view;
  changed({ view: true });
}

const looked = (text) => ask("look", { text, name: job.name, show: job.show });

/** Makes edits (see the server's editing) and shows what comes of them. */
export const edit = (edits, mark = "") => queued(async () => {
  const answer = await ask("edit", { text: job.text, name: job.name, show: job.show, edits });
  take(answer.text, answer, mark);
}, mark);

/** Makes the changes of a finding's fix, or of a suggestion. */
export const apply = (changes) => queued(async () => {
  const answer = await ask("edit", { text: job.text, name: job.name, show: job.show, changes });
  take(answer.text, answer);
});

/** Takes a text as a whole. */
export const replaceText = (text, mark = "") => queued(async () => take(text, await looked(text), mark), mark);

/** Closes a slider's way once its last step is made: the next change goes back by itself. */
export const settle = () => queued(async () => { openMark = ""; });

/** Draws another corner. */
export const showCorner = (name) => queued(async () => {
  job.show = name;
  see(await looked(job.text));
}, "show");

async function step(from, to) {
  if (!from.length) return;
  to.push(job.text);
  job.text = from.pop();
  openMark = "";
  see(await looked(job.text));
  keepDraft();
}

export const undo = () => queued(() => step(job.past, job.future));
export const redo = () => queued(() => step(job.future, job.past));

// --- files and drafts ---

/** A job without a file has a mark of its own, so that the next one doesn't take the place of its draft. */
const draftKey = (name, tab = TAB) => `draft:${job.folder}:${name || `unnamed ${job.draft}`}:${tab}`;

function keepDraft() {
  try {
    if (unsaved()) {
      const draft = { text: job.text, state: job.state, saved: job.saved, name: job.name, at: Date.now() };
      localStorage.setItem(draftKey(job.name), JSON.stringify(draft));
    } else {
      localStorage.removeItem(draftKey(job.name));
    }
    localStorage.setItem(`alive:${TAB}`, String(Date.now()));
  } catch {
    changed({ failed: "this browser keeps no drafts: save often" });
  }
}

export const beat = () => {
  try { localStorage.setItem(`alive:${TAB}`, String(Date.now())); } catch { /* said when a draft is kept */ }
};

/** The draft of a file: this tab's own, else the newest of a tab that is gone. */
export function draftOf(name) {
  const own = localStorage.getItem(draftKey(name));
  if (own) return JSON.parse(own);
  const start = `draft:${job.folder}:${name || "unnamed"}:`;
  const left = [];
  for (let index = 0; index < localStorage.length; index += 1) {
    const key = localStorage.key(index);
    if (!key.startsWith(start)) continue;
    const alive = Number(localStorage.getItem(`alive:${key.slice(start.length)}`) || 0);
    if (Date.now() - alive > 6000) left.push({ key, ...JSON.parse(localStorage.getItem(key)) });
  }
  left.sort((one, other) => other.at - one.at);
  if (left.length) localStorage.removeItem(left[0].key);
  return left[0] || null;
}

/** Drafts of jobs that have no file yet, newest first. */
export function unnamedDrafts() {
  const start = `draft:${job.folder}:unnamed `;
  const found = [];
  for (let index = 0; index < localStorage.length; index += 1) {
    const key = localStorage.key(index);
    if (key.startsWith(start)) found.push({ key, ...JSON.parse(localStorage.getItem(key)) });
  }
  return found.sort((one, other) => other.at - one.at);
}

/** Goes on with such a draft. */
export function takeDraft(draft) {
  localStorage.removeItem(draft.key);
  return openText({ name: "", text: draft.text, state: "", saved: draft.saved });
}

export function dropDraft(name) {
  localStorage.removeItem(draftKey(name));
}

/** Another tab that has unsaved work on the same file. */
export function editedElsewhere() {
  const start = `draft:${job.folder}:${job.name || "unnamed"}:`;
  for (let index = 0; index < localStorage.length; index += 1) {
    const key = localStorage.key(index);
    if (key.startsWith(start) && !key.endsWith(`:${TAB}`)) {
      const alive = Number(localStorage.getItem(`alive:${key.slice(start.length)}`) || 0);
      if (Date.now() - alive < 6000) return true;
    }
  }
  return false;
}

/** Opens a text as the job: read from a file (with its state), or new. */
export const openText = ({ name, text, state, saved }) => queued(async () => {
  Object.assign(job, { draft: name ? "" : String(Date.now()), name, text, state, saved, past: [], future: [], good: null, show: "", selected: { table: "", name: "" } });
  openMark = "";
  sessionStorage.setItem("name", name);
  see(await looked(text));
  changed({ opened: true });
  keepDraft();
});

/** Saves under a name; `state` is what the file must be now ('' for a new one). */
export const save = (name, state) => queued(async () => {
  try {
    const text = job.text;
    const answer = await ask("save", { name, text, state });
    dropDraft(job.name);
    job.draft = "";
    Object.assign(job, { name: answer.name, state: answer.state, saved: text });
    sessionStorage.setItem("name", answer.name);
    keepDraft();
    changed({ saved: true });
  } catch (error) {
    if (error.status === 409) changed({ conflict: name });
    else throw error;
  }
});

/** Whether the file on disk is still the one that was read. */
export async function diskChanged() {
  if (!job.name || !job.state) return false;
  const { state } = await ask("state", { name: job.name });
  return state !== job.state;
}

/** A value as typed, from the tables of the text. */
export function valueOf(table, name, key) {
  const tables = (job.view && job.view.tables) || {};
  let row = tables;
  if (table) {
    const found = tables[table];
    row = Array.isArray(found) ? found.find((entry) => entry && entry.name === name) : found;
  }
  for (const part of key.split(".")) row = row && typeof row === "object" ? row[part] : undefined;
  return row;
}
