// SPDX-License-Identifier: Apache-2.0
// The page: puts the sections together and runs a plan.
import { h, say } from "./dom.js";
import { t } from "./texts.js";
import { state, tell, on, shown_option } from "./state.js";
import { take_token, token, set_token, get, plan as ask_plan, ApiError } from "./api.js";
import { read_address, write_address } from "./address.js";
import { use_units, use_zone, use_currency, is_imperial } from "./units.js";
import { build_form, use_answers, answers, move_body, check_answers, clear_faults, show_fault, use_front, turn_units } from "./form.js";
import { build_map_section, start_map, wait_for_tap, the_map } from "./map.js";
import { apply_night, turn_night, dark_now } from "./night.js";
import { verdict_card } from "./verdict.js";
import { options_card, mark_option, option_name } from "./options.js";
import { choices_card } from "./choices.js";
import { way_card } from "./ribbon.js";
import { costs_card, flags_card, hours_card, home_card, assumed_card, speed_card, cautions_card, break_even_card } from "./figures.js";
import { files_card, loading_card } from "./files.js";
import { build_local, look_at, correct_place } from "./local.js";
import { build_belts, load_belts, record_card } from "./ledger.js";
import { build_budget } from "./budget.js";
import { build_about } from "./about.js";

let result, detail, form_place, map_card, running = null, way = null;
const standing = () => t("standing_cautions").split("|");

function pick_option(id) {
  state.option = id;
  const found = shown_option();
  show_detail();
  tell("option");
  mark_option(result);
  if (found) say(t("now_shown", { name: option_name(id) }));
}

function pick_front(k) {
  use_front(k);
  run({ show: `front-${k}` });
}

function take_hour(depart) {
  const there = depart.slice(0, 16);
  use_answers({ ...answers(), depart: there });
  document.querySelector("#move [data-key='when']").value = "";
  document.querySelector("#move [data-key='when_to']").value = "";
  run({});
}

// What belongs to one option is made again when another is picked.
function show_detail() {
  const option = shown_option();
  way = option ? way_card(state.plan, option) : null;
  const cards = option ? [way, costs_card(option), flags_card(option)] : [];
  detail.replaceChildren(...cards.filter(Boolean));
  if (option) {
    const caps = speed_card(option);
    if (caps) way.querySelector("h2").after(h("p", { class: "which" }, option_name(option.id)), caps);
  }
}

function show_result() {
  const { plan, before } = state;
  detail = h("div", { class: "stack" });
  const verdict = verdict_card(plan, before, () => { use_answers({ ...answers(), modes: "" }); run({}); });
  const even = break_even_card(plan);
  if (even) verdict.append(even);
  const after = [loading_card(), hours_card(plan, take_hour), home_card(plan), files_card(), record_card(), assumed_card(plan), cautions_card(plan.cautions)];
  result.replaceChildren(...[verdict, h("div", { class: "map-slot map-slot-verdict" }), options_card(plan, pick_option), choices_card(plan, { on_pick: pick_option, on_front: pick_front }), detail, ...after].filter(Boolean));
  document.getElementById("standing").hidden = true;
  result.hidden = false;
  place_map();
  show_detail();
  mark_option(result);
}

function busy(yes) {
  document.getElementById("progress").hidden = !yes;
  document.getElementById("cancel").hidden = !yes;
  document.getElementById("plan-it").disabled = yes;
  document.body.toggleAttribute("data-busy", yes);
}

function show_progress({ step, share }) {
  const place = document.getElementById("progress");
  place.querySelector("progress").value = share ?? 0;
  const words = t(`step_${step}`, {}, step ?? "");
  if (place.querySelector("span").textContent !== words) {
    place.querySelector("span").textContent = words;
    say(words);
  }
}

function show_trouble(error) {
  const trouble = document.getElementById("trouble");
  if (show_fault(error.item, error.message)) { say(error.message); return; }
  trouble.textContent = error.message;
  trouble.hidden = false;
}

// One plan. `show`: the option to look at first; `compare`: say what changed since the plan before.
async function run({ show, compare }) {
  if (!check_answers()) return;
  running?.abort();
  const mine = running = new AbortController();
  clear_faults();
  document.getElementById("trouble").hidden = true;
  write_address(answers());
  performance.mark("plan-asked");
  busy(true);
  show_progress({ step: "start", share: 0 });
  try {
    const body = move_body();
    const plan = await ask_plan(body, show_progress, mine.signal);
    state.before = compare ? state.plan : null;
    state.plan = plan;
    state.body = body;
    const there = (id) => plan.options.some((option) => option.id === id);
    const twin = show && plan.options.find((option) => option.id === show || option.also?.includes(show));
    state.option = twin?.id ?? (there(plan.verdict.option) ? plan.verdict.option : plan.options.find((option) => option.geometry)?.id ?? plan.options[0]?.id ?? null);
    if (plan.options[0]?.cost) use_currency(plan.options[0].cost.currency);
    show_result();
    performance.mark("verdict-shown");
    tell("plan");
    say(plan.verdict.sentence);
    document.getElementById(show ? "choices-title" : "verdict-title")?.focus({ preventScroll: true });
    document.getElementById(show ? "choices" : "verdict")?.scrollIntoView({ block: "start" });
  } catch (error) {
    if (error.name === "AbortError") say(t("cancelled"));
    else if (error instanceof ApiError && error.status === 401) ask_token();
    else show_trouble(error);
  } finally {
    if (running === mine) {
      running = null;
      busy(false);
    }
  }
}

function pick_on_map(box) {
  wait_for_tap(t("tap_place", { what: box.label }), (spot) => {
    box.set(`${spot.lat.toFixed(6)},${spot.lon.toFixed(6)}`, spot);
    the_map().point([spot.lon, spot.lat]);
    write_address(answers());
    box.input.focus();
    say(t("place_taken", { what: box.label }));
  });
}

function put_place(key) {
  return (spot) => {
    const input = document.querySelector(`#move [data-key="${key}"]`);
    input.value = `${spot.lat.toFixed(6)},${spot.lon.toFixed(6)}`;
    write_address(answers());
    say(t("place_taken", { what: t(key) }));
    input.focus();
  };
}

function make_form() {
  const form = build_form({ on_plan: () => run({}), on_map: pick_on_map });
  form_place.replaceChildren(form);
  document.getElementById("cancel").addEventListener("click", () => running?.abort());
}

function build_header() {
  const units = h("button", { type: "button", class: "quiet", id: "turn-units", onclick: () => {
    turn_units(is_imperial() ? "metric" : "imperial", make_form);
    units.textContent = t(is_imperial() ? "to_metric" : "to_imperial");
    if (state.plan) run({ show: state.option });
  } }, t(is_imperial() ? "to_metric" : "to_imperial"));
  const night = h("button", { type: "button", class: "quiet", id: "turn-night", onclick: turn_night }, t(dark_now() ? "day_colours" : "night_colours"));
  on("night", (dark) => { night.textContent = t(dark ? "day_colours" : "night_colours"); });
  return h("header", {}, h("a", { href: "#move-title", class: "skip", onclick: (event) => { event.preventDefault(); document.getElementById("move-title").focus(); } }, t("skip")),
    h("div", {}, h("h1", {}, t("name")), h("p", {}, t("in_region", { region: state.region.name, date: state.region.map_date?.slice(0, 10) ?? "–" }))), h("div", { class: "buttons" }, units, night));
}

async function build() {
  [state.region, { machines: state.machines, trailers: state.trailers }] = await Promise.all([get("region"), get("machines").then((said) => ({ trailers: [], ...said }))]);
  const { region } = state;
  const given = read_address();
  use_units(given.units ?? region.units);
  use_zone(region.time_zone);
  use_currency(region.currency ?? "CU");
  await load_belts();
  form_place = h("div", { class: "form-place" });
  result = h("div", { class: "stack", id: "result", hidden: true });
  map_card = build_map_section();
  const tools = h("div", { class: "stack tools" }, build_local(() => run({ compare: true })), build_belts(), build_budget(), build_about());
  const standing_card = h("section", { class: "card", id: "standing", "aria-label": t("cautions") }, h("h2", {}, t("cautions")), h("ul", { class: "cautions" }, standing().map((text) => h("li", {}, text))));
  document.getElementById("page").replaceChildren(build_header(), h("main", {}, h("div", { class: "left" }, form_place, h("div", { class: "map-slot map-slot-narrow" }), result, standing_card, tools), h("div", { class: "right" })));
  document.title = t("title", { region: region.name });
  narrow.addEventListener("change", place_map);
  place_map();
  make_form();
  use_answers(given);
  const menu_for = [[t("start_here"), put_place("from")], [t("go_here"), put_place("to")], [t("ask_here"), look_at], [t("stop_here"), (spot) => correct_place("stop", spot)]];
  await start_map({ on_stop: (i, move) => way?.show_stop?.(i, move), menu_for });
  if (given.from && given.to && given.machine) run({ show: given.front ? `front-${given.front}` : undefined });
}

// On a narrow page the map comes after the answers and, once there is one, after the verdict: what to do is read first. On a
// wide one it stands beside them.
const narrow = matchMedia("(max-width: 1023px)");
function place_map() {
  const slot = document.querySelector(!narrow.matches ? ".right" : state.plan ? ".map-slot-verdict" : ".map-slot-narrow");
  if (map_card.parentElement === slot) return;
  slot.append(map_card);
  the_map()?.resize();
}

function ask_token() {
  const input = h("input", { type: "password", id: "token", autocomplete: "off" });
  document.getElementById("page").replaceChildren(h("main", { class: "alone" }, h("form", { class: "card", onsubmit: (event) => { event.preventDefault(); set_token(input.value.trim()); start(); } },
    h("h1", {}, t("name")), h("p", {}, t(token() ? "token_wrong" : "token_needed")), h("label", { for: "token" }, t("token")), input, h("button", { type: "submit", class: "main" }, t("go_on")))));
  input.focus();
}

async function start() {
  try {
    await build();
  } catch (error) {
    if (error.status === 401) { ask_token(); return; }
    console.error(error);
    document.getElementById("page").replaceChildren(h("main", { class: "alone" }, h("div", { class: "card", role: "alert" }, h("h1", {}, t("name")), h("p", {}, error.message), h("button", { type: "button", class: "main", onclick: start }, t("try_again")))));
  }
}

take_token();
apply_night();
start();
