// SPDX-License-Identifier: Apache-2.0
// The verdict: the sentence, how sure it is, what being wrong would cost, why, what would turn it.
import { h, s, list, section } from "./dom.js";
import { t } from "./texts.js";
import { option_name } from "./options.js";
import { money, number } from "./units.js";

const signs = {
  drive: "M4 20h16M5 20a3 3 0 0 1 0-6h14a3 3 0 0 1 0 6M7 14V7h7l3 7",
  haul: "M2 17h13V9H2zM15 12h4l3 3v2h-7M6 20a2 2 0 1 0 0-.1M18 20a2 2 0 1 0 0-.1",
  mixed: "M3 19h7M14 19h7M5 19a3 3 0 0 1 0-6h4M14 16h8V8h-8zM11 4v17",
  none: "M12 3l9 17H3zM12 9v6M12 17v1",
};
// "re-lube", "1 h 57" and "25 km" are one word to read at a glance: they are not parted at the end of a line.
const whole = /(re-lube|\d+ h \d\d|\d[\d.,]* (?:km|mi|min|[A-Z]{2,3})\b)/;
const unbroken = (sentence) => sentence.split(whole).map((part, i) => (i % 2 ? h("span", { class: "unbroken" }, part) : part));

export const sign = (mode) => s("svg", { class: "sign", viewBox: "0 0 24 24", "aria-hidden": "true" }, s("path", { d: signs[mode] ?? signs.none }));

function changes(before, now) {
  if (!before) return null;
  const was = before.verdict, is = now.verdict;
  const best = (plan) => plan.options.find((option) => option.id === plan.verdict.option);
  const lines = [];
  if (was.mode !== is.mode) lines.push(t("change_mode", { was: t(`mode_${was.mode}`), is: t(`mode_${is.mode}`) }));
  if (was.sentence !== is.sentence) lines.push(t("change_was", { sentence: was.sentence }), t("change_is", { sentence: is.sentence }));
  const [old_way, new_way] = [best(before), best(now)];
  if (old_way?.cost && new_way?.cost && Math.abs(new_way.cost.total - old_way.cost.total) >= 0.5)
    lines.push(t(new_way.cost.total > old_way.cost.total ? "change_dearer" : "change_cheaper", { by: money(Math.abs(new_way.cost.total - old_way.cost.total), new_way.cost.currency) }));
  const rests = now.options.flatMap((option) => option.corrections ?? []);
  if (rests.length) lines.push(t("change_rests", { ids: [...new Set(rests)].join(", ") }));
  return h("div", { class: "changes" }, h("h3", {}, t("what_changed")), lines.length ? list(lines) : h("p", {}, t("nothing_changed")));
}

// What stands against every option, where none can be done, and what has not been looked at yet.
function against(plan, on_haul) {
  if (plan.verdict.option) return null;
  const said = new Map();
  for (const option of plan.options) for (const why of [...(option.why_not ?? []), ...(option.answer_needed ?? [])].filter((each) => !plan.verdict.sentence.includes(each))) said.set(why, [...(said.get(why) ?? []), option_name(option.id)]);
  const hauling = plan.options.some((option) => option.mode === "haul");
  return [said.size ? [h("h3", {}, t("stands_against")), list([...said].map(([why, names]) => t("stands_option", { name: names.join(", "), why })))] : null,
    hauling ? null : h("div", { class: "buttons" }, h("button", { type: "button", class: "main", onclick: on_haul }, t("try_hauling")))];
}

export function verdict_card(plan, before, on_haul) {
  const { verdict, uncertainty } = plan;
  const currency = plan.options.find((option) => option.cost)?.cost.currency;
  const comparison = uncertainty?.comparison;
  const sure = [];
  if (verdict.option && verdict.probability_cheapest !== null) {
    sure.push([t("how_sure"), verdict.too_close ? t("too_close") : verdict.probability_cheapest >= 0.995 ? t("sure_most") : t("sure_share", { share: number(verdict.probability_cheapest * 100) })]);
  }
  if (comparison && comparison.cost_of_being_wrong !== null && comparison.cost_of_being_wrong !== undefined)
    sure.push([t("cost_of_being_wrong"), comparison.cost_of_being_wrong < 0.5 ? t("wrong_nothing") : t("wrong_costs", { cost: money(comparison.cost_of_being_wrong, currency) })]);
  const card = section("verdict", t("verdict"),
    h("div", { class: `verdict ${verdict.mode}` }, sign(verdict.mode), h("div", {}, verdict.option ? null : h("p", { class: "do-not" }, t("do_not")), h("p", { class: "sentence" }, unbroken(verdict.sentence)))),
    against(plan, on_haul),
    changes(before, plan),
    sure.length ? h("dl", { class: "sure" }, sure.map(([name, text]) => h("div", {}, h("dt", {}, name), h("dd", {}, text)))) : null,
    verdict.reasons?.length ? [h("h3", {}, t("why")), reasons(verdict.reasons)] : null,
    verdict.would_flip?.length ? [h("h3", {}, t("would_flip")), list(verdict.would_flip)] : null);
  return card;
}

function reasons(texts) {
  const first = 4;
  if (texts.length <= first + 1) return list(texts);
  return [list(texts.slice(0, first)), h("details", {}, h("summary", {}, t("more_reasons", { n: texts.length - first })), list(texts.slice(first)))];
}
