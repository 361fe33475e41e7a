// SPDX-License-Identifier: Apache-2.0
// The options side by side: one column each, the shown one marked.
import { h, list, section } from "./dom.js";
import { t } from "./texts.js";
import { state } from "./state.js";
import { length, long_unit, to_long, number, money, heat, to_heat, duration, clock, volume, share } from "./units.js";

export const option_name = (id) => (id.startsWith("front-") ? t("option_front", { k: id.slice(6) }) : t(`option_${id}`, {}, id));

const band = (text, low, high) => h("span", {}, text, low === "–" ? null : h("small", {}, t("band", { low, high })));

function rows() {
  const long = (m) => number(to_long(m), 1);
  return [
    ["row_cost", (o) => o.cost && band(money(o.cost.total, o.cost.currency), number(o.cost.low), number(o.cost.high))],
    ["row_time", (o) => o.duration_s && h("span", {}, duration(o.duration_s), h("small", {}, `${clock(o.depart)}–${clock(o.arrive)}`))],
    ["row_driven", (o) => o.length_m > 0 && length(o.length_m)],
    ["row_paved", (o) => o.length_m > 0 && band(`${long(o.hard_m)}\u00a0${long_unit()}`, long(o.hard_low_m), long(o.hard_high_m))],
    ["row_gravel", (o) => o.length_m > 0 && length(o.gravel_m)],
    ["row_earth", (o) => o.length_m > 0 && length(o.earth_m)],
    ["row_hauled", (o) => o.hauled_m > 0 && length(o.hauled_m)],
    ["row_bars", (o) => o.heat && band(heat(o.heat.bar_peak_c), number(to_heat(o.heat.bar_low_c)), number(to_heat(o.heat.bar_high_c)))],
    ["row_limit", (o) => o.heat && heat(o.heat.limit_c)],
    ["row_stops", (o) => number((o.stops ?? []).filter((stop) => stop.kind !== "start").length)],
    ["row_wear", (o) => o.wear && o.length_m > 0 && band(share(o.wear.share, 2), number(o.wear.low * 100, 2), number(o.wear.high * 100, 2))],
    ["row_fuel", (o) => o.fuel_l !== null && volume(o.fuel_l)],
  ];
}

// The table has what is to be expected, everything drawn what is likeliest: said where a tenth of a kilometre lies between.
function surfaces_differ(option) {
  const drawn = { hard: 0, gravel: 0, earth: 0 };
  for (const leg of option.legs ?? []) if (leg.mode === "drive") for (const [from_m, to_m, surface] of leg.surface_runs ?? []) drawn[surface] += to_m - from_m;
  return drawn.hard + drawn.gravel + drawn.earth > 0 && Object.entries(drawn).some(([surface, m]) => Math.abs((option[`${surface}_m`] ?? m) - m) >= 100);
}

export function options_card(plan, on_pick) {
  const advised = plan.verdict.option;
  const first = (option) => (option.id === advised ? 0 : 1);
  const ids = [...plan.options].sort((a, b) => first(a) - first(b));
  const head = h("tr", {}, h("td", {}), ids.map((option) => h("th", { scope: "col", "data-option": option.id },
    h("button", { type: "button", class: "column", "aria-pressed": "false", "data-pick": option.id, onclick: () => on_pick(option.id) },
      h("b", {}, option_name(option.id)), h("small", {}, t(`mode_${option.mode}`)), option.id === advised ? h("em", {}, t("advised")) : null, !option.feasible ? h("em", { class: "no" }, t("cannot")) : null))));
  const body = rows().filter(([name]) => name !== "row_hauled" || ids.some((option) => option.hauled_m > 0)).map(([name, cell]) => h("tr", {}, h("th", { scope: "row" }, t(name)), ids.map((option) => h("td", { "data-option": option.id }, (option.feasible || option.geometry ? cell(option) : null) || "–"))));
  const whys = ids.filter((option) => option.why_not?.length || option.answer_needed?.length || option.also?.length).map((option) => h("div", { class: "why" }, h("h3", {}, option_name(option.id)),
    option.also?.length ? h("p", {}, t("also", { names: option.also.map(option_name).join(", ") })) : null, list(option.why_not), option.answer_needed?.length ? [h("p", {}, t("answer_needed")), list(option.answer_needed)] : null));
  return section("options", t("options"), h("p", { class: "hint" }, t("options_hint")),
    h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": t("options") }, h("table", { class: "options" }, h("thead", {}, head), h("tbody", {}, body))), plan.options.some(surfaces_differ) ? h("p", { class: "hint" }, t("surfaces_hint")) : null, whys);
}

export function mark_option(root) {
  for (const element of root.querySelectorAll("[data-option]")) element.classList.toggle("shown", element.dataset.option === state.option);
  for (const element of root.querySelectorAll("[data-pick]")) element.setAttribute("aria-pressed", String(element.dataset.pick === state.option));
}
