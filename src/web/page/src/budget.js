// SPDX-License-Identifier: Apache-2.0
// A budget: jobs in order, what they and the moves between them take.
import { h, list, section, field, say } from "./dom.js";
import { t } from "./texts.js";
import { post } from "./api.js";
import { file_button } from "./files.js";
import { move_body } from "./form.js";
import { money, duration, volume, length, share } from "./units.js";

function job_row(remove) {
  const name = h("input", { type: "text", autocomplete: "off" }), place = h("input", { type: "text", autocomplete: "off", placeholder: t("place_example") }), hours = h("input", { type: "number", inputmode: "decimal", min: 0, step: "any" });
  const row = h("fieldset", { class: "job" }, h("legend", {}, t("job")), h("div", { class: "fields" }, field("job.name", t("job_name"), name), field("job.field", t("job_field"), place), field("job.hours", t("job_hours"), hours)),
    h("button", { type: "button", class: "quiet", onclick: () => remove(row) }, t("remove_job")));
  row.values = () => ({ name: name.value.trim() || place.value.trim(), ...(place.value.trim() ? { field: place.value.trim() } : {}), hours: Number(hours.value || 0) });
  row.given = () => name.value.trim() !== "" || place.value.trim() !== "";
  return row;
}

export function build_budget() {
  const jobs = h("div", {}), result = h("div", { "aria-live": "polite" });
  const start = h("input", { type: "text", autocomplete: "off" }), margin = h("input", { type: "number", inputmode: "decimal", min: 0, step: "any" });
  const add = () => jobs.append(job_row((row) => { row.remove(); if (!jobs.children.length) add(); }));
  add();
  const body = () => {
    const { from, to, when, return_trip, front_point, ...rest } = move_body();
    void to; void when; void return_trip; void front_point;
    return { ...rest, start: start.value.trim() || from, ...(margin.value === "" ? {} : { margin_pct: Number(margin.value) }), job: [...jobs.children].filter((row) => row.given()).map((row) => row.values()) };
  };
  const trouble = h("p", { class: "fault", role: "alert", hidden: true });
  const go = h("button", { type: "submit", class: "main" }, t("budget_it"));
  const form = h("form", { novalidate: true, onsubmit: async (event) => {
    event.preventDefault();
    trouble.hidden = true;
    go.disabled = true;
    try {
      const budget = await post("budget", body());
      result.replaceChildren(...show(budget), h("div", { class: "buttons" }, file_button(() => "budget?format=pdf", t("quote_pdf"), "quote.pdf", body), file_button(() => "budget?format=csv", t("file_csv"), "budget.csv", body)));
      say(t("budget_ready"));
    } catch (error) {
      trouble.textContent = error.message;
      trouble.hidden = false;
    }
    go.disabled = false;
  } }, h("div", { class: "fields" }, field("start", t("job_start"), start, t("job_start_hint")), field("margin_pct", t("margin"), margin)), jobs, trouble, h("div", { class: "go" }, go, h("button", { type: "button", class: "quiet", onclick: () => { add(); jobs.lastChild.querySelector("input").focus(); } }, t("add_job"))));
  return section("budget", t("budget"), h("details", {}, h("summary", {}, t("budget_open")), h("p", { class: "hint" }, t("budget_hint")), form, result));
}

const range = (figure, word) => h("span", {}, word(figure.value), h("small", {}, t("band", { low: word(figure.low), high: word(figure.high) })));

// What a budget says: its sums, then a line a job.
function show(budget) {
  const { sum, currency } = budget;
  const cash = (value) => money(value, currency);
  const pair = (name, value) => h("div", {}, h("dt", {}, t(name)), h("dd", {}, value));
  const row = (job) => h("tr", {}, h("th", { scope: "row" }, job.name || job.to, h("small", {}, job.can_be_done ? job.verdict : [t("cannot"), ...(job.why_not ?? [])].join(": "))), h("td", {}, cash(job.sum.cost.value)), h("td", {}, cash(job.price)),
    h("td", {}, duration(job.sum.road_s)), h("td", {}, duration(job.sum.field_s)), h("td", {}, share(job.sum.wear_share.value, 2)), h("td", {}, volume(job.sum.fuel_l)));
  const head = ["job", "budget_cost", "budget_price", "budget_road", "budget_field", "row_wear", "row_fuel"].map((word) => h("th", { scope: "col" }, t(word)));
  return [
    h("dl", { class: "figures" }, pair("budget_cost", range(sum.cost, cash)), pair("budget_price", cash(budget.price)), pair("row_wear", range(sum.wear_share, (value) => share(value, 2))), pair("row_fuel", volume(sum.fuel_l)), pair("row_driven", length(sum.driven_m))),
    h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": t("budget") }, h("table", {}, h("thead", {}, h("tr", {}, head)), h("tbody", {}, budget.jobs.map(row)))),
    h("div", { class: "caution" }, list(budget.cautions)),
  ];
}
