// SPDX-License-Identifier: Apache-2.0
// Costs, things to look at, hours, the way home, what was assumed: the smaller cards of a result.
import { h, list, section } from "./dom.js";
import { t } from "./texts.js";
import { money, number, length, clock, heat, speed } from "./units.js";
import { option_name } from "./options.js";
import { hauled_from } from "./break_even.js";
import { show_spot } from "./map.js";

export function costs_card(option) {
  const cost = option.cost;
  if (!cost) return null;
  const parts = ["labour", "fuel", "belts", "machine", "lubricant", "escort", "truck", "permit", "other"].filter((word) => Math.abs(cost[word] ?? 0) >= 0.005);
  const most = Math.max(...parts.map((word) => cost[word]));
  const rows = parts.map((word) => h("tr", {}, h("th", { scope: "row" }, t(`cost_${word}`)), h("td", { class: "figure" }, money(cost[word], cost.currency)),
    h("td", { class: "bar-cell" }, h("meter", { min: 0, max: most, value: Math.max(0, cost[word]), "aria-label": t(`cost_${word}`) }))));
  return section("costs", t("costs"), h("table", { class: "sums" }, h("caption", {}, option_name(option.id)), h("tbody", {}, rows),
    h("tfoot", {}, h("tr", {}, h("th", { scope: "row" }, t("cost_total")), h("td", { class: "figure" }, money(cost.total, cost.currency)), h("td", {}, t("band", { low: number(cost.low), high: number(cost.high) }))))),
  h("p", { class: "hint" }, t(`basis_${cost.basis}`), cost.other_basis_total ? ` ${t("other_basis", { total: money(cost.other_basis_total, cost.currency) })}` : ""), h("p", { class: "hint" }, cost.low_high_basis ?? ""));
}

export function flags_card(option) {
  const order = { stop: 0, check: 1, note: 2 };
  const flags = [...(option.flags ?? [])].sort((a, b) => order[a.severity] - order[b.severity] || (a.at_m ?? -1) - (b.at_m ?? -1));
  if (!flags.length) return null;
  return section("flags", t("flags"), h("ul", { class: "flags" }, flags.map((flag) => h("li", { class: flag.severity }, h("b", {}, t(`severity_${flag.severity}`)),
    h("span", {}, flag.at_m === null ? "" : `${t("at", { at: length(flag.at_m) })}: `, flag.text, flag.last_turn_round_m ? h("small", {}, t("last_turn", { at: length(flag.last_turn_round_m) })) : null),
    flag.lat !== null && flag.lat !== undefined ? h("button", { type: "button", class: "quiet", "aria-label": t("show_flag", { what: flag.text }), onclick: () => show_spot([flag.lon, flag.lat], 15) }, t("on_map")) : null))));
}

export function hours_card(plan, on_hour) {
  if (!plan.departures?.length) return null;
  const row = (each) => h("tr", { class: each.taken ? "shown" : "" }, h("th", { scope: "row" }, clock(each.depart), each.taken ? h("em", {}, t("taken")) : null), h("td", {}, each.option ? option_name(each.option) : "–"),
    h("td", {}, each.can_be_done ? money(each.cost) : t("cannot")), h("td", {}, heat(each.bar_high_c)), h("td", {}, speed(each.speed_caps_kmh?.hard)), h("td", {}, number(each.stops)), h("td", {}, clock(each.arrive), each.in_daylight === false ? h("small", {}, t("after_dark")) : null),
    h("td", {}, h("button", { type: "button", class: "quiet", "aria-label": t("take_hour_at", { time: clock(each.depart) }), onclick: () => on_hour(each.depart) }, t("take_hour"))));
  const head = ["hour", "option", "row_cost", "row_bars_high", "paved_speed", "row_stops", "arrival", "take"].map((word) => h("th", { scope: "col" }, t(word)));
  return section("hours", t("hours"), h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": t("hours") }, h("table", {}, h("thead", {}, h("tr", {}, head)), h("tbody", {}, plan.departures.map(row)))));
}

export function home_card(plan) {
  const home = plan.return_trip;
  if (!home) return null;
  return section("home", t("home"), h("p", { class: "sentence small" }, home.sentence), home.both_ways ? h("p", {}, t("both_ways", { cost: money(home.both_ways) })) : null);
}

export function assumed_card(plan) {
  const fields = plan.move.fields?.filter((each) => each.assumed) ?? [];
  if (!fields.length) return null;
  return section("assumed", t("assumed"), h("details", {}, h("summary", {}, t("assumed_n", { n: fields.length })), h("dl", { class: "pairs" }, fields.map((each) => h("div", {}, h("dt", {}, t(`key_${each.key}`, {}, each.key.replaceAll("_", " "))), h("dd", {}, each.value))))));
}

export function speed_card(option) {
  const caps = option.speed_caps_kmh;
  if (!caps || !option.length_m) return null;
  const said = ["hard", "gravel", "earth"].filter((word) => caps[word]);
  return h("p", { class: "caps" }, t("at_most"), said.map((word) => h("span", {}, h("b", {}, speed(caps[word])), ` ${t(`short_${word}`)}`)));
}

export function cautions_card(texts) {
  return section("cautions", t("cautions"), list(texts, "cautions"));
}

export function break_even_card(plan) {
  const from_m = hauled_from(plan.break_even);
  return from_m === null ? null : h("p", { class: "hint" }, t("break_even", { length: length(from_m, 0) }));
}
