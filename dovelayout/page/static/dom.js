// Small helpers to build the page: elements, lists, and drawings that came as SVG text.

/** An element with attributes and children; text is always set as text, never as markup. */
export function el(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key === "class") node.className = value;
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
}

export const byId = (id) => document.getElementById(id);

/** Replaces what an element holds. */
export function fill(node, ...children) {
  node.replaceChildren(...children.filter((child) => child !== null && child !== undefined));
}

/** A drawing from SVG text; scripts and handlers can't come along (none are written, and the policy forbids them). */
export function drawingOf(svg, label) {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  if (parsed.nodeName !== "svg") return el("p", {}, "The drawing can't be shown.");
  const node = document.importNode(parsed, true);
  node.removeAttribute("width");
  node.removeAttribute("height");
  node.setAttribute("role", "img");
  node.setAttribute("aria-label", label);
  for (const named of node.querySelectorAll("[id]")) named.removeAttribute("id");
  return node;
}

/** A table with a caption, from rows of text. */
export function tableOf(title, columns, rows) {
  return el("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": title },
    el("table", {},
      el("caption", {}, title),
      el("thead", {}, el("tr", {}, ...columns.map((column) => el("th", { scope: "col" }, column)))),
      el("tbody", {}, ...rows.map((row) => el("tr", {}, ...row.map((cell, index) =>
        index === 0 ? el("th", { scope: "row" }, String(cell)) : el("td", {}, String(cell))))))));
}
