// SPDX-License-Identifier: Apache-2.0
// Elements without a framework: h("button", { class: "wide", onclick }, "text", other) and s(...) for SVG.

// Names are strangers' words: marks that turn the rest of a line round, and controls, are shown as a box. What
// people typed stays as it is; boxes to type in hold no other words.
const marks = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F-\u009F\u061C\u200E\u200F\u2028\u2029\u202A-\u202E\u2066-\u2069\uFEFF]/g;
export const plain = (text) => (typeof text === "string" ? text.replace(marks, "\uFFFD") : text);

function fill(element, properties, children) {
  for (const [name, value] of Object.entries(properties ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value" || name === "checked" || name === "disabled" || name === "hidden" || name === "open" || name === "selected") element[name] = value;
    else element.setAttribute(name, value === true ? "" : plain(value));
  }
  element.append(...children.flat(3).filter((child) => child !== null && child !== undefined && child !== false).map(plain));
  return element;
}

export const h = (tag, properties, ...children) => fill(document.createElement(tag), properties, children);
export const s = (tag, properties, ...children) => fill(document.createElementNS("http://www.w3.org/2000/svg", tag), properties, children);

let last = 0;
export const uid = (word) => `${word}-${++last}`;

// One place where everything said aloud is put; an empty text first, so that the same words are said again.
const live = h("p", { class: "unseen", role: "status", "aria-live": "polite" });
export function say(text) {
  if (!live.isConnected) document.body.append(live);
  live.textContent = "";
  setTimeout(() => { live.textContent = text; }, 30);
}

export function section(id, title, ...children) {
  return h("section", { id, class: "card", "aria-labelledby": `${id}-title` }, h("h2", { id: `${id}-title`, tabindex: "-1" }, title), ...children);
}

export const list = (texts, name) => (texts?.length ? h("ul", { class: name ?? "plain" }, texts.map((text) => h("li", {}, text))) : null);

// A field with its label, a hint and room for what the server says about it.
export function field(key, label, input, hint) {
  const id = uid(key.replaceAll(".", "-"));
  input.id ||= id;
  const note = h("p", { class: "fault", id: `${input.id}-fault`, hidden: true });
  const about = hint ? h("p", { class: "hint", id: `${input.id}-hint` }, hint) : null;
  input.setAttribute("aria-describedby", [about?.id, note.id].filter(Boolean).join(" "));
  input.dataset.key = key;
  return h("div", { class: "field" }, h("label", { for: input.id }, label), input, about, note);
}

export function fault(input, text) {
  const note = document.getElementById(`${input.id}-fault`);
  input.toggleAttribute("aria-invalid", Boolean(text));
  if (text) input.setAttribute("aria-invalid", "true");
  if (note) {
    note.hidden = !text;
    note.textContent = text ?? "";
  }
}

export const choose = (pairs, value, properties) =>
  h("select", properties, pairs.map(([word, text]) => h("option", { value: word, selected: word === value }, text)));

// Files come from the server with the token in a header, so they are fetched and handed to the browser.
export function hand_over(blob, name) {
  const link = h("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
