// SPDX-License-Identifier: Apache-2.0
// Local knowledge: what a road is and why we think so, corrections of it, and what they change in the advice.
import { h, list, section, say, field, choose, fault } from "./dom.js";
import { t } from "./texts.js";
import { state, tell } from "./state.js";
import { get, post, remove } from "./api.js";
import { length, share } from "./units.js";
import { the_map, show_spot, wait_for_tap } from "./map.js";

const surfaces = ["asphalt", "concrete", "paving_stones", "sett", "compacted", "fine_gravel", "gravel", "ground", "grass", "sand"];
let panel, listed, plan_again;

export function ask_road() { wait_for_tap(t("tap_road"), look_at); }
export function ask_stop() { wait_for_tap(t("tap_stop"), (spot) => correct_place("stop", spot)); }

export async function look_at(spot) {
  the_map().point([spot.lon, spot.lat]);
  panel.hidden = false;
  panel.replaceChildren(h("p", {}, t("looking")));
  try {
    const road = await get(`road?lat=${spot.lat.toFixed(7)}&lon=${spot.lon.toFixed(7)}&within_m=250`);
    the_map().ask(road.geometry);
    panel.replaceChildren(...about(road, spot));
  } catch (error) {
    panel.replaceChildren(h("p", { class: "fault", role: "alert" }, error.status === 404 ? t("no_road_here") : error.message), places_only(spot));
  }
  panel.scrollIntoView({ block: "nearest" });
  panel.focus({ preventScroll: true });
}

// "maxheight=3.8" of the map, in words where there are some.
function limit_words(text) {
  const [key, value] = text.split("=");
  return `${t(`limit_${key}`, {}, key.replaceAll("_", " "))}: ${value}`;
}

function about(road, spot) {
  const on_road = road.point ?? spot;
  const odds = ["hard", "gravel", "earth"].map((word) => `${t(`short_${word}`)} ${share(road[`p_${word}`])}`).join(" · ");
  const traits = ["bridge", "tunnel", "ford"].filter((word) => road[word]).map((word) => t(`road_${word}`));
  return [
    h("h3", {}, road.name || t(`surface_road_${road.class}`)),
    h("p", { class: "sentence small" }, t(road.known ? "road_known" : "road_assumed", { surface: t(`short_${road.class}`) })),
    h("dl", { class: "pairs" }, [["road_why", road.reason], ["road_odds", road.known ? null : odds], ["road_length", length(road.length_m)], ["road_kind", [road.highway, ...traits].filter(Boolean).join(", ")], ["road_way", String(road.way)]]
      .filter(([, value]) => value).map(([name, value]) => h("div", {}, h("dt", {}, t(name)), h("dd", {}, value)))),
    h("h4", {}, t("road_limits")), road.limits?.length ? list(road.limits.map(limit_words)) : h("p", {}, t("no_limits")),
    road.corrections?.length ? h("p", {}, t("road_corrected", { ids: road.corrections.join(", ") })) : null,
    correct_form(road, on_road),
  ].filter(Boolean);
}

const places_only = (spot) => h("div", { class: "buttons" }, ["stop", "loading"].map((kind) => h("button", { type: "button", onclick: () => correct_place(kind, spot) }, t(`correct_${kind}`))));

function value_inputs() {
  return {
    surface: () => choose(surfaces.map((word) => [word, t(`osm_${word}`)]), "compacted"),
    limit: () => choose(["maxheight", "maxwidth", "maxweight", "maxaxleload"].map((word) => [word, t(`limit_${word}`)]), "maxweight"),
    gate: () => choose(["locked", "key", "open"].map((word) => [word, t(`gate_${word}`)]), "locked"),
    stop: () => h("input", { type: "text", autocomplete: "off" }),
    loading: () => h("input", { type: "text", autocomplete: "off" }),
  };
}

function correct_form(road, spot, kind_first) {
  const kind = choose(["surface", "closed", "limit", "gate", "stop", "no_stop", "loading"].map((word) => [word, t(`correct_${word}`)]), kind_first ?? "surface");
  const part = choose([["piece", t("part_piece", { length: length(road?.length_m, 2) })], ["way", t("part_way")]], "piece");
  const part_field = field("line", t("part"), part);
  const slot = h("div", { class: "fields" });
  const from = h("input", { type: "date" }), to = h("input", { type: "date" });
  const by = h("input", { type: "text", autocomplete: "nickname" }), note = h("input", { type: "text", autocomplete: "off" });
  try { by.value = localStorage.getItem("loamway-by") ?? ""; } catch { /* no storage here */ }
  const trouble = h("p", { class: "fault", role: "alert", hidden: true });
  let input = null, amount = null;
  function refill() {
    input = value_inputs()[kind.value]?.() ?? null;
    amount = kind.value === "limit" ? h("input", { type: "text", inputmode: "decimal" }) : null;
    part_field.hidden = !road || ["stop", "no_stop", "loading"].includes(kind.value);
    slot.replaceChildren(...[input ? field("value", t(`value_${kind.value}`), input) : null, amount ? field("unit", t("value_amount"), amount, t("amount_hint")) : null].filter(Boolean));
  }
  kind.addEventListener("change", refill);
  refill();
  const send = async (event) => {
    event.preventDefault();
    trouble.hidden = true;
    const body = { kind: kind.value, by: by.value.trim() || undefined, note: note.value.trim() || undefined, from: from.value || undefined, to: to.value || undefined };
    const at_point = ["stop", "no_stop", "loading"].includes(kind.value) || !road;
    if (at_point) body.at = [spot.lat, spot.lon].map((each) => each.toFixed(7)).join(",");
    else if (part.value === "way") body.way = road.way;
    else body.line = road.geometry.coordinates.map(([lon, lat]) => `${lat.toFixed(7)},${lon.toFixed(7)}`).join(";");
    if (amount) {
      const said = /^\s*([\d.,]+|none)\s*([a-z_]*)\s*$/i.exec(amount.value);
      if (!said) { fault(amount, t("amount_wrong")); amount.focus(); return; }
      body.value = `${input.value}=${said[1].replace(",", ".")}`;
      if (said[2]) body.unit = said[2];
    } else if (input?.value) body.value = input.value;
    try { localStorage.setItem("loamway-by", by.value.trim()); } catch { /* no storage here */ }
    try {
      const { id, says } = await post("corrections", body);
      after_change(t("corrected", { id, says: says ?? "" }));
    } catch (error) {
      trouble.textContent = error.message;
      trouble.hidden = false;
    }
  };
  return h("form", { class: "correct", novalidate: true, onsubmit: send }, h("h4", {}, t("correct_it")), h("div", { class: "fields" }, field("kind", t("correct_kind"), kind), part_field), slot,
    h("details", {}, h("summary", {}, t("correct_more")), h("div", { class: "fields" }, field("from", t("valid_from"), from), field("to", t("valid_to"), to), field("by", t("noted_by"), by), field("note", t("note"), note))),
    trouble, h("button", { type: "submit", class: "main" }, t("save_correction")));
}

export function correct_place(kind, spot) {
  panel.hidden = false;
  the_map().point([spot.lon, spot.lat]);
  panel.replaceChildren(h("h3", {}, t(`correct_${kind}`)), correct_form(null, spot, kind));
  panel.scrollIntoView({ block: "nearest" });
  panel.focus({ preventScroll: true });
}

function after_change(text) {
  panel.replaceChildren(h("p", { class: "done" }, text), state.plan ? h("button", { type: "button", class: "main", id: "plan-again", onclick: () => { panel.hidden = true; plan_again(); } }, t("plan_again")) : h("p", {}, t("plan_will_use")));
  panel.querySelector("button")?.focus();
  the_map().ask(null);
  say(text);
  tell("corrections");
  refresh_list();
}

async function refresh_list() {
  let features;
  try { ({ features } = await get("corrections")); } catch (error) { listed.replaceChildren(h("p", { class: "fault" }, error.message)); return; }
  if (!features.length) { listed.replaceChildren(h("p", { class: "hint" }, t("no_corrections"))); return; }
  listed.replaceChildren(h("ul", { class: "corrections" }, features.map(({ properties, geometry, id }) => {
    const number = properties.id ?? id;
    const what = properties.says ?? [t(`correct_${properties.kind}`, {}, properties.kind), properties.value, properties.unit].filter(Boolean).join(": ");
    const when = [properties.from && t("from_day", { day: properties.from }), properties.to && t("to_day", { day: properties.to }), properties.by && t("by_whom", { name: properties.by }), properties.note].filter(Boolean).join(" · ");
    const spot = geometry.type === "Point" ? geometry.coordinates : geometry.coordinates[Math.floor(geometry.coordinates.length / 2)];
    return h("li", {}, h("span", {}, h("b", {}, `${number} `), what, h("small", {}, properties.in_force === false ? `${t("not_in_force")} · ` : "", when)),
      h("button", { type: "button", class: "quiet", "aria-label": t("show_correction", { id: number }), onclick: () => show_spot(spot, 15) }, t("on_map")),
      h("button", { type: "button", class: "quiet", "aria-label": t("remove_correction", { id: number }), onclick: async () => {
        try { await remove(`corrections/${encodeURIComponent(number)}`); after_change(t("removed", { id: number })); panel.hidden = false; } catch (error) { say(error.message); }
      } }, t("remove")));
  })));
}

export function build_local(again) {
  plan_again = again;
  panel = h("div", { class: "panel", id: "road-panel", tabindex: "-1", role: "group", "aria-label": t("about_road"), hidden: true });
  listed = h("div", {});
  refresh_list();
  return section("local", t("local"), h("p", { class: "hint" }, t("local_hint")), h("div", { class: "buttons" }, h("button", { type: "button", onclick: ask_road }, t("ask_road")), h("button", { type: "button", onclick: ask_stop }, t("ask_stop"))),
    panel, h("h3", {}, t("corrections")), listed);
}
