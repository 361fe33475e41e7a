// SPDX-License-Identifier: Apache-2.0
// Belts as the ledger knows them, and noting a move after it was driven.
import { h, section, field, say } from "./dom.js";
import { t } from "./texts.js";
import { state, shown_option } from "./state.js";
import { get, post } from "./api.js";
import { number, share, length, duration, from_heat, from_long, heat_unit, long_unit } from "./units.js";
import { refresh_machines } from "./form.js";

let holder;

export async function load_belts() {
  if (!state.region.has_ledger) return;
  try { state.belts = await get("belts"); } catch { state.belts = null; }
}

export function build_belts() {
  holder = h("div", {});
  show_belts();
  return section("belts", t("belts_title"), holder);
}

// A figure alone, or with its range.
const middle = (figure) => (figure && typeof figure === "object" ? figure.value : figure) ?? null;

function belt_line(set) {
  const bar = middle(set.bar_mm), gone = middle(set.share_used);
  const figures = [[t("belt_state"), set.state ? t(`belt_state_${set.state}`, {}, String(set.state).replaceAll("_", " ")) : null], [t("belt_hours_short"), set.hours === undefined ? null : number(set.hours)], [t("belt_since"), set.since_lube_km === undefined || set.since_lube_km === null ? null : length(set.since_lube_km * 1000)],
    [t("belt_bar"), bar === null ? null : `${number(bar, 1)}\u00a0mm`], [t("belt_used"), gone === null ? null : share(gone, 1)], [t("belt_left"), middle(set.hours_left) === null ? null : number(middle(set.hours_left))]];
  const used = Math.min(1, Math.max(0, gone ?? 0));
  return h("li", {}, h("h3", {}, set.belts, set.machine ? h("small", {}, t("belt_on", { machine: set.machine })) : null), h("meter", { min: 0, max: 1, value: used, "aria-label": t("belt_used") }),
    h("dl", { class: "figures" }, figures.filter(([, value]) => value !== null).map(([name, value]) => h("div", {}, h("dt", {}, name), h("dd", {}, value)))));
}

function show_belts() {
  if (!state.region.has_ledger) { holder.replaceChildren(h("p", { class: "hint" }, t("no_ledger"))); return; }
  const sets = (state.belts?.belts ?? []).filter((set) => !set.removed_for);
  holder.replaceChildren(sets.length ? h("ul", { class: "belt-list" }, sets.map(belt_line)) : h("p", { class: "hint" }, t("no_belts")));
}

function reading_row() {
  const input = (key, label, more) => [key, h("input", { type: "number", inputmode: "decimal", step: "any", ...more }), label];
  const inputs = [input("c", t("reading_c", { unit: heat_unit() })), input("km", t("reading_km", { unit: long_unit() })), input("kmh", t("reading_kmh", { unit: long_unit() })), input("air", t("reading_air", { unit: heat_unit() })), input("after_min", t("reading_after"))];
  const row = h("fieldset", { class: "reading" }, h("legend", {}, t("reading")), h("div", { class: "fields" }, inputs.map(([key, element, label]) => field(`readings.${key}`, label, element))));
  row.values = () => {
    const said = Object.fromEntries(inputs.filter(([, element]) => element.value !== "").map(([key, element]) => [key, Number(element.value)]));
    if (!Object.keys(said).length) return null;
    for (const key of ["c", "air"]) if (said[key] !== undefined) said[key] = Math.round(from_heat(said[key]) * 10) / 10;
    for (const key of ["km", "kmh"]) if (said[key] !== undefined) said[key] = Math.round(from_long(said[key])) / 1000;
    return said;
  };
  return row;
}

export function record_card() {
  const option = shown_option();
  if (!state.region.has_ledger || !option?.feasible) return null;
  const machine = state.machines.find((each) => each.source === "ledger" && [each.name, each.title].includes(state.body?.machine));
  const title = t("record");
  if (!machine) return section("record", title, h("p", { class: "hint" }, t("record_needs_machine")));
  const arrive = h("input", { type: "datetime-local", value: option.arrive.slice(0, 16) });
  const depart = h("input", { type: "datetime-local", value: option.depart.slice(0, 16) });
  const driven = h("input", { type: "number", inputmode: "decimal", min: 0, step: "any" });
  const by = h("input", { type: "text", autocomplete: "nickname" });
  const readings = h("div", {});
  const trouble = h("p", { class: "fault", role: "alert", hidden: true });
  const done = h("p", { class: "done", hidden: true });
  const send = h("button", { type: "submit", class: "main" }, t("record_it"));
  const form = h("form", { novalidate: true, onsubmit: async (event) => {
    event.preventDefault();
    trouble.hidden = true;
    const body = { plan: state.plan, option: state.option, machine: machine.name, readings: [] };
    if (arrive.value) body.arrived = arrive.value;
    // Times left as planned say nothing about how long it took.
    if (depart.value && (depart.value !== option.depart.slice(0, 16) || arrive.value !== option.arrive.slice(0, 16))) body.departed = depart.value;
    if (driven.value !== "") body.driven_km = Math.round(from_long(Number(driven.value))) / 1000;
    if (by.value.trim()) body.by = by.value.trim();
    for (const row of readings.children) {
      const said = row.values();
      if (said && [said.c, said.km, said.kmh].some((each) => each === undefined)) { trouble.textContent = t("reading_short"); trouble.hidden = false; return; }
      // The ledger wants the air of a reading; unless somebody says it, that of the move.
      if (said) body.readings.push({ air: state.body.conditions.air_c, ...said });
    }
    send.disabled = true;
    try {
      const said = await post("moves", body);
      done.textContent = t("recorded", { id: said.events?.map((each) => each.event).join(", ") ?? "" });
      done.hidden = false;
      form.hidden = true;
      say(done.textContent);
      await load_belts();
      show_belts();
      refresh_machines();
    } catch (error) {
      trouble.textContent = error.message;
      trouble.hidden = false;
      send.disabled = false;
    }
  } }, h("div", { class: "fields" }, field("departed", t("departed_at"), depart), field("arrived", t("arrived_at"), arrive), field("driven_km", t("driven_length", { unit: long_unit() }), driven, t("driven_hint", { length: length(option.length_m) })), field("by", t("noted_who"), by)), readings,
  trouble, h("div", { class: "go" }, send, h("button", { type: "button", class: "quiet", onclick: () => { readings.append(reading_row()); readings.lastChild.querySelector("input").focus(); } }, t("add_reading"))));
  return section("record", title, h("p", { class: "hint" }, t("record_hint")), h("p", {}, t("record_figures", { length: length(option.length_m), paved: length(option.hard_m), time: duration(option.driving_s) })), form, done);
}
