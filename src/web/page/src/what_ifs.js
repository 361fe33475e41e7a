// SPDX-License-Identifier: Apache-2.0
// What would a budget be if one thing were otherwise: a kind and, where it has one, a figure each.
import { h, field, choose } from "./dom.js";
import { t } from "./texts.js";
import { money, number, share, heat_unit, from_heat, from_volume, volume_unit, currency_word } from "./units.js";

// What each puts over the list of jobs; `conditions` takes the place of the list's, so that the rest of them goes along.
const kinds = {
  air: { unit: heat_unit, turns: true, change: (value, body) => ({ conditions: { ...body.conditions, air_c: Math.round(from_heat(value) * 10) / 10 } }) },
  fuel: { unit: () => `${currency_word()}/${volume_unit()}`, turns: true, change: (value) => ({ rates: { fuel: { price_per_l: value / from_volume(1) } } }) },
  belts: { change: (value) => ({ rates: { belts: { price_per_set: value } } }) },
  wage: { change: (value) => ({ rates: { labour: { wage_per_h: value } } }) },
  low_bed: { change: (value) => ({ rates: { low_bed: { per_h: value } } }) },
  hauled: { bare: true, change: () => ({ modes: ["haul"] }) },
  driven: { bare: true, change: () => ({ modes: ["drive"] }) },
};

export function what_if_row(remove) {
  const kind = choose(Object.keys(kinds).map((word) => [word, t(`what_if_${word}`)]), "fuel");
  const slot = h("div", { class: "slot" });
  let input = null;
  function refill() {
    const { bare, unit = currency_word } = kinds[kind.value];
    input = bare ? null : h("input", { type: "number", inputmode: "decimal", step: "any" });
    slot.replaceChildren(...(input ? [field("what_if.value", t("what_if_value", { unit: unit() }), input)] : []));
  }
  kind.addEventListener("change", refill);
  refill();
  const row = h("fieldset", { class: "job" }, h("legend", {}, t("what_if")), h("div", { class: "fields" }, field("what_if.kind", t("what_if_kind"), kind), slot), h("button", { type: "button", class: "quiet", onclick: () => remove(row) }, t("remove_what_if")));
  // A figure in the other unit is asked for again.
  row.turn = () => { if (kinds[kind.value].turns) refill(); };
  row.given = () => input === null || input.value !== "";
  row.values = (body) => {
    const value = Number(input?.value ?? 0), { bare, change } = kinds[kind.value];
    return { name: bare ? t(`what_if_${kind.value}`) : t("what_if_name", { what: t(`what_if_${kind.value}`), value: input.value }), ...change(value, body) };
  };
  return row;
}

// A line each beside the sum as it is.
export function what_if_table(budget) {
  if (!budget.what_ifs?.length) return [];
  const cash = (value) => money(value, budget.currency);
  const now = budget.sum.cost.value;
  const line = (name, { sum, not_done }, by) => h("tr", {}, h("th", { scope: "row" }, name, not_done ? h("small", {}, t("what_if_not_done", { n: not_done })) : null), h("td", {}, cash(sum.cost.value)), h("td", {}, by),
    h("td", {}, share(sum.wear_share.value, 2)));
  const signed = (value) => `${value < 0 ? "−" : "+"}${number(Math.abs(value))}`;
  return [h("h3", {}, t("what_ifs")), h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": t("what_ifs") }, h("table", { class: "what-ifs" }, h("thead", {}, h("tr", {}, ["what_if", "budget_cost", "what_if_by", "row_wear"].map((word) => h("th", { scope: "col" }, t(word))))),
    h("tbody", {}, line(t("as_it_is"), budget, ""), budget.what_ifs.map((each) => line(each.name, each, signed(each.sum.cost.value - now))))))];
}
