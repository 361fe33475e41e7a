// SPDX-License-Identifier: Apache-2.0
// From and to: a box that finds places by name (own ones first), takes LAT,LON, or waits for a tap on the map.
import { h, uid, field } from "./dom.js";
import { t } from "./texts.js";
import { get } from "./api.js";

export function place_box(key, label, on_change, on_map) {
  const list_id = uid("places");
  const input = h("input", { type: "text", role: "combobox", autocomplete: "off", spellcheck: "false", "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": list_id, placeholder: t("place_example") });
  const found = h("ul", { id: list_id, role: "listbox", "aria-label": label, class: "found", hidden: true });
  let places = [], active = -1, asked = 0, timer = 0, controller = null;

  function close() {
    found.hidden = true;
    active = -1;
    input.setAttribute("aria-expanded", "false");
    input.removeAttribute("aria-activedescendant");
  }
  // The name is enough where it is the only one of its kind; else the point says which is meant.
  function take(place) {
    const twins = places.filter((each) => each.name === place.name).length;
    input.value = place.own || twins < 2 ? place.name : `${place.lat.toFixed(6)},${place.lon.toFixed(6)}`;
    box.point = { lat: place.lat, lon: place.lon };
    close();
    on_change();
  }
  function mark(index) {
    active = index;
    [...found.children].forEach((item, i) => item.setAttribute("aria-selected", String(i === index)));
    const item = found.children[index];
    if (item) {
      input.setAttribute("aria-activedescendant", item.id);
      item.scrollIntoView({ block: "nearest" });
    }
  }
  function show() {
    found.replaceChildren(...places.map((place, i) => h("li", { id: `${list_id}-${i}`, role: "option", "aria-selected": "false", onpointerdown: (event) => event.preventDefault(), onclick: () => take(place) },
      h("span", {}, place.name), h("small", {}, place.own ? t("place_own") : t(`place_${place.kind}`, {}, place.kind ?? "")))));
    found.hidden = places.length === 0;
    active = -1;
    input.setAttribute("aria-expanded", String(!found.hidden));
  }
  async function look() {
    const mine = ++asked;
    controller?.abort();
    controller = new AbortController();
    try {
      const reply = await get(`places?limit=8&q=${encodeURIComponent(input.value.trim())}`, controller.signal);
      if (mine !== asked || document.activeElement !== input) return;
      places = reply.places;
      show();
    } catch { /* the box goes on without a list */ }
  }
  // What is listed already is narrowed at once, so that nothing picked is from before the letter just typed.
  function narrow() {
    places = places.filter((place) => place.name.toLocaleLowerCase().includes(input.value.trim().toLocaleLowerCase()));
    if (!found.hidden) show();
  }
  input.addEventListener("input", () => { box.point = null; on_change(); narrow(); clearTimeout(timer); timer = setTimeout(look, 120); });
  input.addEventListener("focus", () => { if (!input.value) look(); });
  input.addEventListener("blur", () => { asked++; close(); });
  input.addEventListener("keydown", (event) => {
    if (event.key === "ArrowDown" && found.hidden) { look(); event.preventDefault(); return; }
    if (found.hidden) return;
    const last = places.length - 1;
    if (event.key === "ArrowDown") mark(active >= last ? 0 : active + 1);
    else if (event.key === "ArrowUp") mark(active <= 0 ? last : active - 1);
    else if (event.key === "Enter" && active >= 0) take(places[active]);
    else if (event.key === "Escape") close();
    else return;
    event.preventDefault();
  });

  const element = field(key, label, input);
  element.classList.add("with-button");
  input.after(h("button", { type: "button", class: "quiet", onclick: () => on_map(box), "aria-label": t("pick_on_map_for", { what: label }) }, t("pick_on_map")), found);
  const box = {
    key, label, input, element, point: null,
    get value() { return input.value.trim(); },
    set(text, point) { input.value = text; box.point = point ?? null; },
  };
  return box;
}
