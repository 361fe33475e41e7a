// SPDX-License-Identifier: Apache-2.0
// The move: five answers, and behind "More answers" what has a stated default.
import { h, section, field, fault, choose } from "./dom.js";
import { t } from "./texts.js";
import { state, tell } from "./state.js";
import { place_box } from "./place_box.js";
import { from_heat, to_heat, heat_unit, is_imperial, use_units, long_unit, miles, now_there } from "./units.js";
import { write_address } from "./address.js";

let boxes, inputs, extra_front = null;

export const place_boxes = () => boxes;
export const use_front = (k) => { extra_front = k; };

function machine_named(name) { return state.machines.find((machine) => machine.name === name); }

function fill_states() {
  const machine = machine_named(inputs.machine.value);
  const before = inputs.state.value;
  const states = machine?.states ?? [];
  inputs.state.replaceChildren(...states.map((each) => h("option", { value: each.name }, each.name)));
  if (states.some((each) => each.name === before)) inputs.state.value = before;
  inputs.state.disabled = states.length === 0;
}

function fill_belts() {
  const before = inputs.belts.value;
  const machine = machine_named(inputs.machine.value);
  const words = [["run-in", t("belts_run_in")], ["new", t("belts_new")], ["washed", t("belts_washed")]];
  const sets = (state.belts?.belts ?? []).filter((set) => !set.removed_for).filter((set) => !set.machine || set.machine === machine?.name).map((set) => [set.belts, t("belts_set", { name: set.belts })]);
  if (machine?.source === "ledger") words.unshift(["", t("belts_on_machine")]);
  const all = [...words, ...sets];
  inputs.belts.replaceChildren(...all.map(([value, text]) => h("option", { value }, text)));
  if (all.some(([value]) => value === before)) inputs.belts.value = before;
}

export function refresh_machines() {
  const before = inputs.machine.value;
  const title = (machine) => machine.title ?? machine.name;
  const alone = (machine) => state.machines.filter((other) => title(other) === title(machine)).length === 1;
  inputs.machine.replaceChildren(...state.machines.map((machine) => h("option", { value: machine.name }, alone(machine) ? title(machine) : `${title(machine)} (${machine.name})`)));
  if (machine_named(before)) inputs.machine.value = before;
  fill_states();
  fill_belts();
}

function make_inputs() {
  const number = (more) => h("input", { type: "number", inputmode: "decimal", step: "any", ...more });
  return {
    machine: h("select", { onchange: () => { fill_states(); fill_belts(); changed(); } }),
    state: h("select", {}),
    belts: h("select", {}),
    air: number({ value: Math.round(to_heat(20)) }),
    depart: h("input", { type: "datetime-local" }),
    when_from: number({ min: 0, max: 24, step: 1 }),
    when_to: number({ min: 0, max: 24, step: 1 }),
    return: h("input", { type: "checkbox" }),
    ground: choose(["", "dry", "dusty", "moist", "wet", "frozen"].map((word) => [word, t(word ? `ground_${word}` : "not_said")]), ""),
    cloud: choose([["", t("not_said")], ["0", t("sky_clear")], ["0.5", t("sky_half")], ["1", t("sky_overcast")]], ""),
    since: number({ min: 0 }),
    hours: number({ min: 0 }),
    trailer: h("select", {}),
    basis: choose([["", t("not_said")], ["marginal", t("basis_marginal")], ["full", t("basis_full")]], ""),
    detour: number({ min: 0, max: 500, step: 5 }),
    modes: choose([["", t("modes_all")], ["drive,haul", t("modes_no_mixed")], ["drive", t("modes_drive")], ["haul", t("modes_haul")]], ""),
    haul_from: h("input", { type: "datetime-local" }),
    loading: h("input", { type: "text", autocomplete: "off" }),
  };
}

function changed() {
  extra_front = null;
  write_address(answers());
}

export function answers() {
  const [from, to] = boxes;
  const value = (key) => inputs[key].value;
  const hours = value("when_from") !== "" && value("when_to") !== "" ? `${value("when_from")}-${value("when_to")}` : "";
  // The address and the server speak °C and km, whatever is shown.
  const celsius = value("air") === "" ? "" : Math.round(from_heat(Number(value("air"))) * 10) / 10;
  const since = value("since") === "" ? "" : Number(value("since")) * (is_imperial() ? miles / 1000 : 1);
  return { from: from.value, to: to.value, machine: value("machine"), state: value("state"), belts: value("belts"), air: celsius, depart: value("depart"), when: hours,
    return: inputs.return.checked ? 1 : "", ground: value("ground"), cloud: value("cloud"), since, hours: value("hours"), trailer: value("trailer"), basis: value("basis"),
    detour: value("detour"), modes: value("modes"), haul_from: value("haul_from"), loading: value("loading"), units: is_imperial() ? "imperial" : "metric", front: extra_front ?? "" };
}

export function use_answers(given) {
  for (const box of boxes) if (given[box.key]) box.set(given[box.key]);
  if (given.machine && machine_named(given.machine)) inputs.machine.value = given.machine;
  fill_states();
  fill_belts();
  for (const key of ["state", "belts", "depart", "ground", "cloud", "hours", "trailer", "basis", "detour", "modes", "haul_from", "loading"]) {
    if (given[key] === undefined) continue;
    inputs[key].value = given[key];
    if (inputs[key].tagName === "SELECT" && inputs[key].selectedIndex < 0) inputs[key].selectedIndex = 0;
  }
  if (given.air !== undefined) inputs.air.value = Math.round(to_heat(Number(given.air)) * 10) / 10;
  if (given.since !== undefined) inputs.since.value = Math.round(Number(given.since) / (is_imperial() ? miles / 1000 : 1) * 10) / 10;
  if (given.when) [inputs.when_from.value, inputs.when_to.value] = given.when.split("-");
  inputs.return.checked = Boolean(given.return);
  extra_front = given.front ? Number(given.front) : null;
  const more = ["depart", "when", "return", "ground", "cloud", "since", "hours", "trailer", "basis", "detour", "modes", "haul_from", "loading"].some((key) => given[key]);
  if (more) document.getElementById("more-answers").open = true;
}

// The move document of the server's API.
export function move_body() {
  const a = answers();
  const body = { from: a.from, to: a.to, machine: a.machine, units: a.units, conditions: {} };
  if (a.state) body.state = a.state;
  if (a.belts) body.belts = a.belts;
  if (a.air !== "") body.conditions.air_c = a.air;
  if (a.ground) body.conditions.ground = a.ground;
  if (a.cloud) body.conditions.cloud = Number(a.cloud);
  if (a.trailer) body.trailer = a.trailer;
  if (a.depart) body.depart = a.depart;
  if (a.when) body.when = a.when;
  if (a.return) body.return_trip = true;
  if (a.basis) body.basis = a.basis;
  if (a.detour !== "") body.detour_cap = Number(a.detour) / 100;
  if (a.modes) body.modes = a.modes.split(",");
  if (a.haul_from) body.haul_from = a.haul_from;
  if (a.loading) body.loading_places = a.loading.split(";").map((each) => each.trim()).filter(Boolean);
  if (a.front) body.front_point = Number(a.front);
  const belts = {};
  if (a.since !== "") belts.since_lube_km = a.since;
  if (a.hours !== "") belts.hours = Number(a.hours);
  if (Object.keys(belts).length) body.belts_state = belts;
  return body;
}

export function clear_faults() {
  for (const input of document.querySelectorAll("#move [data-key]")) fault(input, null);
}

// Says what is wrong beside the answer it concerns; false when no field is meant.
export function show_fault(item, text) {
  const key = (item ?? "").split(/[[\]]/)[0];
  const input = document.querySelector(`#move [data-key="${CSS.escape(key)}"]`) ?? document.querySelector(`#move [data-key$=".${CSS.escape(key.split(".").pop() || "-")}"]`);
  if (!input) return false;
  input.closest("details")?.setAttribute("open", "");
  fault(input, text);
  input.focus();
  return true;
}

export function check_answers() {
  clear_faults();
  const missing = [...boxes].reverse().filter((box) => !box.value);
  for (const box of missing) show_fault(box.key, t("missing_place"));
  if (inputs.air.value === "") show_fault("conditions.air_c", t("missing_air"));
  return missing.length === 0 && inputs.air.value !== "";
}

export function build_form({ on_plan, on_map }) {
  boxes = [place_box("from", t("from"), changed, on_map), place_box("to", t("to"), changed, on_map)];
  inputs = make_inputs();
  inputs.trailer.replaceChildren(h("option", { value: "" }, t("trailer_assumed")), ...state.trailers.map((each) => h("option", { value: each.name }, each.title ?? each.name)));
  refresh_machines();
  const swap = h("button", { type: "button", class: "quiet", onclick: () => {
    const [from, to] = boxes.map((box) => [box.value, box.point]);
    boxes[0].set(...to);
    boxes[1].set(...from);
    changed();
  } }, t("swap"));
  const when = h("fieldset", { class: "pair" }, h("legend", {}, t("when")), field("when", t("when_from"), inputs.when_from), field("when_to", t("when_to"), inputs.when_to));
  const now = h("button", { type: "button", class: "quiet", onclick: () => { inputs.depart.value = now_there(); changed(); } }, t("now"));
  const depart = field("depart", t("depart"), inputs.depart, t("depart_hint"));
  depart.classList.add("with-button");
  inputs.depart.after(now);
  const check = h("label", { class: "tick" }, inputs.return, t("return_trip"));
  const more = h("details", { id: "more-answers" }, h("summary", {}, t("more_answers")),
    h("p", { class: "hint" }, t("more_hint")),
    h("div", { class: "fields" }, depart, when, check, field("conditions.ground", t("ground"), inputs.ground), field("conditions.cloud", t("sky"), inputs.cloud),
      field("belts_state.since_lube_km", t("since_lube", { unit: long_unit() }), inputs.since, t("since_hint")), field("belts_state.hours", t("belt_hours"), inputs.hours),
      field("trailer", t("trailer"), inputs.trailer), field("haul_from", t("haul_from"), inputs.haul_from), field("loading_places", t("loading_places"), inputs.loading, t("loading_hint")),
      field("modes", t("modes"), inputs.modes), field("basis", t("basis"), inputs.basis), field("detour_cap", t("detour"), inputs.detour, t("detour_hint"))));
  const form = h("form", { novalidate: true, onsubmit: (event) => { event.preventDefault(); on_plan(); }, onchange: changed },
    h("div", { class: "places" }, boxes.map((box) => box.element), swap),
    h("div", { class: "fields" }, field("machine", t("machine"), inputs.machine), field("state", t("state"), inputs.state), field("belts", t("belts"), inputs.belts),
      field("conditions.air_c", t("air", { unit: heat_unit() }), inputs.air)),
    more,
    h("div", { class: "go" }, h("button", { type: "submit", class: "main", id: "plan-it" }, t("plan_it")), h("button", { type: "button", id: "cancel", class: "quiet", hidden: true }, t("cancel")),
      h("div", { id: "progress", hidden: true }, h("progress", { max: 1, "aria-label": t("working") }), h("span", {}))),
    h("p", { class: "fault banner", id: "trouble", role: "alert", hidden: true }));
  return section("move", t("the_move"), form);
}

// The form speaks in other units: the figures in it are turned over, and it is made again.
export function turn_units(word, rebuild) {
  const given = answers();
  use_units(word);
  rebuild();
  use_answers({ ...given, units: word });
  write_address(answers());
  tell("units");
}
