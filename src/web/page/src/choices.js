// SPDX-License-Identifier: Apache-2.0
// The choices: length against paved length, every point a way one can pick.
import { h, s, section } from "./dom.js";
import { t } from "./texts.js";
import { state, on } from "./state.js";
import { number, to_long, long_unit, length, money, duration, heat } from "./units.js";
import { option_name } from "./options.js";

const left = 64, right = 24, top = 24, bottom = 58;

function ticks(low, top_value) {
  const span = top_value - low || 1;
  const step = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200].find((each) => span / each <= 6) ?? 500;
  const all = [];
  for (let at = Math.ceil(low / step) * step; at <= top_value + 1e-9; at += step) all.push({ at, digits: step < 1 ? 1 : 0 });
  return all;
}

// Options driven all the way stand in the picture too; a choice that is an option is shown once.
function points_of(plan) {
  const front = (plan.front ?? []).map((point) => ({ ...point, name: t("choice_n", { k: point.k }) }));
  for (const option of plan.options.filter((each) => each.mode === "drive" && each.geometry)) {
    const twin = front.find((point) => point.option === option.id || option.id === `front-${point.k}` || (point.length_m === option.length_m && point.hard_m === option.hard_m));
    if (twin) Object.assign(twin, { option: option.id, marked: true });
    else front.push({ k: null, option: option.id, marked: true, hard_m: option.hard_m, length_m: option.length_m, cost: option.cost?.total ?? null, stops: option.stops.filter((stop) => stop.kind !== "start").length, stops_ok: option.feasible, duration_s: option.duration_s, bar_high_c: option.heat?.bar_high_c ?? null });
  }
  return front.sort((a, b) => a.hard_m - b.hard_m || a.length_m - b.length_m);
}

const words = (point) => t("choice_words", { name: point.option ? option_name(point.option) : point.name, length: length(point.length_m), paved: length(point.hard_m),
  cost: point.cost === null ? t("no_cost") : money(point.cost), can: point.stops_ok && !point.why_not?.length ? t("can") : t("cannot") });

function figures(point) {
  const pair = (name, value) => h("div", {}, h("dt", {}, t(name)), h("dd", {}, value));
  return h("dl", { class: "figures" }, pair("row_driven", length(point.length_m)), pair("row_paved", length(point.hard_m)), pair("row_cost", point.cost === null ? "–" : money(point.cost)),
    pair("row_time", duration(point.duration_s)), pair("row_stops", number(point.stops)), pair("row_bars_high", heat(point.bar_high_c)), pair("row_can", t(point.stops_ok && !point.why_not?.length ? "yes" : "no")));
}

export function choices_card(plan, { on_pick, on_front }) {
  const points = points_of(plan);
  if (points.length < 2) return null;
  // On a phone the picture is drawn upright, so that its letters stay large.
  const [wide, high] = innerWidth < 600 ? [350, 400] : [640, 400];
  const xs = points.map((point) => to_long(point.length_m)), ys = points.map((point) => to_long(point.hard_m));
  const pad = (low, top_value) => (top_value - low || 1) * 0.08;
  const range = (all) => [Math.max(0, Math.min(...all) - pad(Math.min(...all), Math.max(...all))), Math.max(...all) + pad(Math.min(...all), Math.max(...all))];
  const [x0, x1] = range(xs), [y0, y1] = range(ys);
  const x = (value) => left + (value - x0) / (x1 - x0) * (wide - left - right);
  const y = (value) => high - bottom - (value - y0) / (y1 - y0) * (high - top - bottom);
  const grid = [
    ...ticks(x0, x1).map(({ at, digits }) => [s("line", { class: "grid", x1: x(at), x2: x(at), y1: top, y2: high - bottom }), s("text", { x: x(at), y: high - bottom + 22, "text-anchor": "middle" }, number(at, digits))]),
    ...ticks(y0, y1).map(({ at, digits }) => [s("line", { class: "grid", x1: left, x2: wide - right, y1: y(at), y2: y(at) }), s("text", { x: left - 10, y: y(at) + 5, "text-anchor": "end" }, number(at, digits))]),
    s("text", { x: (left + wide - right) / 2, y: high - 10, "text-anchor": "middle", class: "axis" }, t("axis_length", { unit: long_unit() })),
    s("text", { x: 18, y: (top + high - bottom) / 2, "text-anchor": "middle", class: "axis", transform: `rotate(-90 18 ${(top + high - bottom) / 2})` }, t("axis_paved", { unit: long_unit() })),
  ];
  const front = points.filter((point) => point.k !== null);
  const path = front.map((point, i) => `${i ? "L" : "M"}${x(to_long(point.length_m)).toFixed(1)} ${y(to_long(point.hard_m)).toFixed(1)}`).join("");
  const shown = h("div", { class: "shown-choice" });
  const dots = points.map((point, i) => {
    const can = point.stops_ok && !point.why_not?.length;
    const cx = x(xs[i]), cy = y(ys[i]);
    const shape = point.marked ? s("rect", { x: cx - 9, y: cy - 9, width: 18, height: 18, class: "dot" }) : s("circle", { cx, cy, r: 9, class: "dot" });
    const cross = can ? null : s("path", { d: `M${cx - 5} ${cy - 5}l10 10m0 -10l-10 10`, class: "crossed" });
    return s("g", { role: "radio", "aria-checked": "false", tabindex: "-1", "aria-label": words(point), class: can ? "choice" : "choice no", "data-option": point.option ?? "" },
      s("circle", { cx, cy, r: 24, class: "reach" }), shape, cross);
  });
  function look(i) {
    dots.forEach((dot, j) => { dot.tabIndex = j === i ? 0 : -1; dot.classList.toggle("looked", j === i); });
    const point = points[i];
    shown.replaceChildren(h("h3", {}, point.option ? option_name(point.option) : point.name), figures(point));
  }
  function pick(i) {
    if (points[i].option) on_pick(points[i].option);
    else on_front(points[i].k);
  }
  dots.forEach((dot, i) => {
    dot.addEventListener("focus", () => look(i));
    dot.addEventListener("mouseenter", () => look(i));
    dot.addEventListener("click", () => pick(i));
    dot.addEventListener("keydown", (event) => {
      const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
      if (step) dots[(i + step + dots.length) % dots.length].focus();
      else if (event.key === "Enter" || event.key === " ") pick(i);
      else return;
      event.preventDefault();
    });
  });
  const picture = s("svg", { viewBox: `0 0 ${wide} ${high}`, role: "radiogroup", "aria-label": t("choices_picture"), class: "choices" }, grid, s("path", { d: path, class: "front" }), dots);
  function mark() {
    const at = Math.max(0, points.findIndex((point) => point.option === state.option));
    dots.forEach((dot, i) => dot.setAttribute("aria-checked", String(points[i].option !== undefined && points[i].option !== null && points[i].option === state.option)));
    look(at);
  }
  mark();
  const card = section("choices", t("choices"), h("p", { class: "hint" }, t("choices_hint")), h("div", { class: "beside" }, h("div", { class: "picture" }, picture), shown),
    plan.front_exact === false ? h("p", { class: "hint" }, t("front_inexact")) : null, h("p", { class: "hint" }, t("choices_key")));
  on("option", () => { if (card.isConnected) mark(); });
  return card;
}
