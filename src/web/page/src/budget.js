// SPDX-License-Identifier: Apache-2.0
// A budget: jobs in order, what they and the moves between them take.
import { h, list, section, field, say } from "./dom.js";
import { t } from "./texts.js";
import { post } from "./api.js";
import { file_button } from "./files.js";
import { move_body } from "./form.js";
import { on } from "./state.js";
import { money, duration, volume, length, share, area_unit, from_area } from "./units.js";
import { what_if_row, what_if_table } from "./what_ifs.js";

const figure = () => h("input", { type: "number", inputmode: "decimal", min: 0, step: "any" });
const hundredths = (value) => Math.round(value * 100) / 100;

// How much work: hours, or an area and how much of it an hour does.
function job_row(remove, was) {
  const name = h("input", { type: "text", autocomplete: "off" }), place = h("input", { type: "text", autocomplete: "off", placeholder: t("place_example") });
  const hours = figure(), area = figure(), pace = figure();
  const row = h("fieldset", { class: "job" }, h("legend", {}, t("job")), h("div", { class: "fields" }, field("job.name", t("job_name"), name), field("job.field", t("job_field"), place)),
    h("div", { class: "fields" }, field("job.hours", t("job_hours"), hours), field("job.hectares", t("job_area", { unit: area_unit() }), area), field("job.ha_per_h", t("job_pace", { unit: area_unit() }), pace)),
    h("button", { type: "button", class: "quiet", onclick: () => remove(row) }, t("remove_job")));
  const unit = from_area(1);
  const in_unit = (ha) => (ha === undefined ? "" : hundredths(ha / unit));
  if (was) [name.value, place.value, hours.value, area.value, pace.value] = [was.name ?? "", was.field ?? "", was.hours || "", in_unit(was.hectares), in_unit(was.ha_per_h)];
  const work = () => (area.value === "" ? { hours: Number(hours.value || 0) } : { hectares: hundredths(Number(area.value) * unit), ...(pace.value === "" ? {} : { ha_per_h: hundredths(Number(pace.value) * unit) }) });
  row.values = () => ({ name: name.value.trim() || place.value.trim(), ...(place.value.trim() ? { field: place.value.trim() } : {}), ...work() });
  row.given = () => name.value.trim() !== "" || place.value.trim() !== "";
  row.doubt = () => (area.value === "" ? null : hours.value !== "" ? t("job_hours_or_area") : pace.value === "" ? t("job_needs_pace") : null);
  return row;
}

export function build_budget() {
  const jobs = h("div", {}), cases = h("div", {}), result = h("div", { "aria-live": "polite" });
  const start = h("input", { type: "text", autocomplete: "off" }), margin = figure();
  const add = (was) => jobs.append(job_row((row) => { row.remove(); if (!jobs.children.length) add(); }, was));
  add();
  const add_case = () => {
    cases.append(what_if_row((row) => row.remove()));
    cases.lastChild.querySelector("select").focus();
  };
  on("units", () => {
    const were = [...jobs.children].map((row) => row.values());
    jobs.replaceChildren();
    were.forEach(add);
    for (const row of cases.children) row.turn();
  });
  const body = () => {
    const { from, to, when, return_trip, front_point, ...rest } = move_body();
    void to; void when; void return_trip; void front_point;
    const list = { ...rest, start: start.value.trim() || from, ...(margin.value === "" ? {} : { margin_pct: Number(margin.value) }), job: [...jobs.children].filter((row) => row.given()).map((row) => row.values()) };
    const what_if = [...cases.children].filter((row) => row.given()).map((row) => row.values(list));
    return what_if.length ? { ...list, what_if } : list;
  };
  const trouble = h("p", { class: "fault", role: "alert", hidden: true });
  const go = h("button", { type: "submit", class: "main" }, t("budget_it"));
  const form = h("form", { novalidate: true, onsubmit: async (event) => {
    event.preventDefault();
    trouble.hidden = true;
    const doubt = [...jobs.children].map((row) => row.doubt()).find(Boolean);
    if (doubt) { trouble.textContent = doubt; trouble.hidden = false; return; }
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
  } }, h("div", { class: "fields" }, field("start", t("job_start"), start, t("job_start_hint")), field("margin_pct", t("margin"), margin)), jobs, cases, trouble, h("div", { class: "go" }, go, h("button", { type: "button", class: "quiet", onclick: () => { add(); jobs.lastChild.querySelector("input").focus(); } }, t("add_job")), h("button", { type: "button", class: "quiet", onclick: add_case }, t("add_what_if"))));
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
    h("p", { class: "hint" }, t(`basis_${budget.basis}`)),
    h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": t("budget") }, h("table", {}, h("thead", {}, h("tr", {}, head)), h("tbody", {}, budget.jobs.map(row)))),
    ...what_if_table(budget),
    h("div", { class: "caution" }, list(budget.cautions)),
  ];
}
