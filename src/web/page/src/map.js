// SPDX-License-Identifier: Apache-2.0
// The map's section: which map, what a tap means, the key to its lines.
import { h, s, section, say } from "./dom.js";
import { t } from "./texts.js";
import { state, on, shown_option } from "./state.js";
import { gl_map } from "./map_gl.js";
import { picture_map } from "./map_picture.js";
import { dark_now } from "./night.js";
import { option_name } from "./options.js";
import { stop_sign, loading_sign, correction_sign } from "./map_signs.js";

let map = null, waiting = null, menu, prompt, holder, cross, note;

export const the_map = () => map;

function has_webgl2() {
  try { return Boolean(document.createElement("canvas").getContext("webgl2")); } catch { return false; }
}

function sample(surface) {
  const dash = { hard: null, gravel: "9 5", earth: "2.5 4" }[surface];
  return s("svg", { width: 44, height: 14, "aria-hidden": "true" }, s("line", { x1: 2, x2: 42, y1: 7, y2: 7, class: `sample ${surface}`, "stroke-dasharray": dash }));
}

function key_to_lines() {
  const entry = (icon, text) => h("li", {}, icon, text);
  const casing = (known) => s("svg", { width: 44, height: 14, "aria-hidden": "true" }, s("line", { x1: 2, x2: 42, y1: 7, y2: 7, class: known ? "casing known" : "casing assumed" }), s("line", { x1: 2, x2: 42, y1: 7, y2: 7, class: "sample hard" }));
  return h("details", { class: "map-key" }, h("summary", {}, t("map_key")), h("ul", { class: "key" }, ["hard", "gravel", "earth"].map((surface) => entry(sample(surface), t(`surface_${surface}`))),
    entry(casing(true), t("key_known")), entry(casing(false), t("key_assumed")),
    entry(stop_sign(), t("key_stop")), entry(loading_sign(false), t("key_loading")), entry(loading_sign(true), t("key_loading_corrected")), entry(correction_sign(), t("key_correction"))));
}

// The next tap answers one question; Escape or the button takes it back.
export function wait_for_tap(text, answer) {
  waiting = answer;
  prompt.replaceChildren(h("span", {}, text), h("button", { type: "button", onclick: stop_waiting }, t("never_mind")));
  prompt.hidden = false;
  cross.hidden = false;
  holder.classList.add("waiting");
  menu.hidden = true;
  holder.scrollIntoView({ block: "nearest" });
  map?.focus();
  say(text);
}

export function stop_waiting() {
  waiting = null;
  holder.classList.remove("waiting");
  prompt.hidden = true;
  cross.hidden = true;
}

// Shows a place, and the map itself where it is out of sight.
export function show_spot(spot, zoom) {
  map.go_to(spot, zoom);
  map.point(spot);
  const { top, bottom } = holder.getBoundingClientRect();
  if (bottom < 120 || top > innerHeight - 120) holder.scrollIntoView({ block: "center" });
}

function tapped(spot, menu_for) {
  if (waiting) {
    const answer = waiting;
    stop_waiting();
    answer(spot);
    return;
  }
  map.point([spot.lon, spot.lat]);
  menu.replaceChildren(h("p", {}, t("tap_what")), ...menu_for.map(([text, act]) => h("button", { type: "button", onclick: () => { menu.hidden = true; act(spot); } }, text)),
    h("button", { type: "button", class: "quiet", onclick: () => { menu.hidden = true; map.point(null); map.focus(); } }, t("never_mind")));
  menu.hidden = false;
  menu.querySelector("button").focus({ preventScroll: true });
}

export function build_map_section(tools) {
  holder = h("div", { id: "map-holder" });
  menu = h("div", { class: "tap-menu", role: "group", "aria-label": t("tap_what"), hidden: true });
  prompt = h("div", { class: "prompt", hidden: true });
  cross = h("div", { class: "cross", "aria-hidden": "true", hidden: true });
  note = h("p", { class: "map-note", hidden: true });
  const frame = h("div", { class: "map-frame" }, holder, note, cross, prompt, menu);
  frame.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    stop_waiting();
    menu.hidden = true;
  });
  return section("map", t("map"), frame, h("div", { class: "under-map" }, key_to_lines(), tools, h("p", { class: "attribution" }, state.region.attribution)));
}

export async function start_map({ on_stop, menu_for }) {
  const hooks = { on_tap: (spot) => tapped(spot, menu_for), on_stop, dark: dark_now() };
  try {
    if (!has_webgl2()) throw new Error("no WebGL2");
    map = await gl_map(holder, state.region, hooks);
  } catch (error) {
    if (error.message !== "no WebGL2") console.error(error);
    holder.replaceChildren();
    map = await picture_map(holder, state.region, hooks);
  }
  map.keys(() => tapped(map.centre(), menu_for));
  const show = () => {
    const option = shown_option();
    note.hidden = !option || option.feasible;
    note.textContent = note.hidden ? "" : t("map_not_done", { name: option_name(option.id) });
    map.show(state.plan, option);
  };
  on("plan", show);
  on("option", show);
  on("night", (dark) => map.night(dark));
  on("units", () => map.units());
  on("corrections", () => map.refresh());
  if (state.plan) show();
}
