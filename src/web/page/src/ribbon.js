// SPDX-License-Identifier: Apache-2.0
// The road as a ribbon down the page, the stops beside it at the height where they come.
import { h, s, list, section } from "./dom.js";
import { t } from "./texts.js";
import { length, number, heat, to_long, long_unit, long_unit_m, clock, duration, short_length } from "./units.js";
import { pieces, total_m, point_at } from "./way.js";
import { the_map, show_spot } from "./map.js";

const wide = 150, road = 26, road_x = 44;

const heat_at = (option, at_m) => {
  const profile = option.heat?.profile ?? [];
  const i = profile.findIndex(([m]) => m >= at_m);
  if (!profile.length) return null;
  if (i <= 0) return profile[i < 0 ? profile.length - 1 : 0][1];
  const [[m0, c0], [m1, c1]] = [profile[i - 1], profile[i]];
  return m1 > m0 ? c0 + (c1 - c0) * (at_m - m0) / (m1 - m0) : c1;
};

function stop_entry(option, stop, i) {
  const meter = t("stop_meter", { at: length(stop.at_m), since: length(stop.since_relube_m) });
  const bars = heat_at(option, stop.at_m);
  return h("li", { class: `stop ${stop.kind}`, "data-at": stop.at_m, tabindex: "-1" },
    h("h3", {}, h("span", { class: `pin ${stop.kind}`, "aria-hidden": "true" }, String(i + 1)), t(`stop_${stop.kind}`)),
    h("p", { class: "where" }, stop.how_to_find || stop.place),
    h("p", {}, `${meter} · ${clock(stop.arrive)}–${clock(stop.leave)} (${duration(stop.wait_s)})${bars === null ? "" : ` · ${t("bars_about", { heat: heat(bars) })}`}`),
    stop.why ? h("p", { class: "hint" }, stop.why) : null,
    stop.do?.length ? h("details", {}, h("summary", {}, t("steps")), h("ol", {}, stop.do.map((step) => h("li", {}, step)))) : null,
    stop.cautions?.length ? h("div", { class: "caution" }, list(stop.cautions)) : null,
    h("button", { type: "button", class: "quiet", onclick: () => show_spot([stop.lon, stop.lat], 15) }, t("show_on_map")));
}

function end_entry(word, name, time, at_m) {
  return h("li", { class: "end", "data-at": at_m }, h("h3", {}, h("span", { class: `pin ${word}`, "aria-hidden": "true" }, t(`${word}_letter`)), name), h("p", {}, clock(time)));
}

function between(option, from_m, to_m) {
  const sums = { hard: 0, gravel: 0, earth: 0, haul: 0 };
  for (const piece of pieces(option)) {
    const part = Math.min(piece.to_m, to_m) - Math.max(piece.from_m, from_m);
    if (part > 0) sums[piece.mode === "haul" ? "haul" : piece.surface] += part;
  }
  const said = Object.entries(sums).filter(([, m]) => m >= 50).map(([word, m]) => `${length(m)} ${t(`short_${word}`)}`);
  const text = said.join(", ") || short_length(to_m - from_m);
  return h("li", { class: "leg" }, h("p", {}, text));
}

// Metres to height: straight between the entries' own heights, so that every stop lies beside its place on the road.
function scale_of(entries, top) {
  const marks = entries.map((entry) => ({ m: Number(entry.dataset.at), y: entry.querySelector(".pin").getBoundingClientRect().top + 16 - top }));
  return {
    y(m) {
      let i = marks.findIndex((mark) => mark.m >= m);
      if (i < 0) i = marks.length - 1;
      if (i === 0) return marks[0].y;
      const span = marks[i].m - marks[i - 1].m;
      return marks[i - 1].y + (span > 0 ? (m - marks[i - 1].m) / span : 1) * (marks[i].y - marks[i - 1].y);
    },
    m(y) {
      let i = marks.findIndex((mark) => mark.y >= y);
      if (i < 0) i = marks.length - 1;
      if (i === 0) return marks[0].m;
      return marks[i - 1].m + (y - marks[i - 1].y) / (marks[i].y - marks[i - 1].y || 1) * (marks[i].m - marks[i - 1].m);
    },
  };
}

function draw(svg, option, entries) {
  const box = svg.parentElement.getBoundingClientRect();
  if (!box.height) return null;
  const scale = scale_of(entries, box.top);
  svg.setAttribute("viewBox", `0 0 ${wide} ${box.height}`);
  svg.setAttribute("height", box.height);
  const whole = total_m(option);
  const parts = [];
  for (const piece of pieces(option)) {
    const [a, b] = [scale.y(piece.from_m), scale.y(piece.to_m)];
    const kind = piece.mode === "haul" ? "haul" : piece.surface;
    parts.push(s("line", { x1: road_x, x2: road_x, y1: a, y2: b, class: `bed ${piece.known ? "known" : "assumed"}`, "stroke-width": road + 8 }),
      s("line", { x1: road_x, x2: road_x, y1: a, y2: b, class: `run ${kind}`, "stroke-width": road }),
      s("line", { x1: road_x, x2: road_x, y1: a, y2: b, class: `pattern ${kind}` }));
  }
  const unit = long_unit_m();
  const step = unit * ([1, 2, 5, 10, 20, 50].find((each) => whole / unit / each <= 14) ?? 100);
  let last_y = -100;
  for (let m = 0; m <= whole; m += step) {
    const y = scale.y(m);
    if (y - last_y < 20) continue;
    last_y = y;
    parts.push(s("line", { x1: road_x - road / 2 - 8, x2: road_x - road / 2 - 3, y1: y, y2: y, class: "tick" }), s("text", { x: road_x - road / 2 - 10, y: y + 5, "text-anchor": "end" }, number(to_long(m))));
  }
  const profile = option.heat?.profile ?? [];
  if (profile.length) {
    const [low, high] = [20, Math.max(option.heat.limit_c, option.heat.bar_peak_c) + 5];
    const x = (c) => 72 + Math.max(0, Math.min(1, (c - low) / (high - low))) * (wide - 80);
    const end = scale.y(whole);
    parts.push(s("line", { x1: x(option.heat.limit_c), x2: x(option.heat.limit_c), y1: scale.y(0), y2: end, class: "limit" }),
      s("path", { d: profile.map(([m, c], i) => `${i ? "L" : "M"}${x(c).toFixed(1)} ${scale.y(m).toFixed(1)}`).join(""), class: "heat" }));
    const peak = profile.reduce((best, each) => (each[1] > best[1] ? each : best));
    parts.push(s("circle", { cx: x(peak[1]), cy: scale.y(peak[0]), r: 5, class: "peak" }), s("text", { x: Math.min(x(peak[1]), wide - 30), y: scale.y(peak[0]) - 9, "text-anchor": "middle", class: "peak-text" }, heat(peak[1])));
  }
  const here = s("line", { x1: 4, x2: wide - 4, y1: -10, y2: -10, class: "here" });
  svg.replaceChildren(...parts, here);
  return { scale, here };
}

export function way_card(plan, option) {
  if (!option.geometry) return section("way", t("way"), h("p", {}, t("no_way")));
  const stops = option.stops ?? [];
  const whole = total_m(option);
  const rows = [];
  let at = 0;
  rows.push(end_entry("start", plan.move.from.name ?? t("start"), option.depart, 0));
  stops.forEach((stop, i) => {
    if (stop.at_m - at > 1) rows.push(between(option, at, stop.at_m));
    rows.push(stop_entry(option, stop, i));
    at = stop.at_m;
  });
  rows.push(between(option, at, whole), end_entry("goal", plan.move.to.name ?? t("goal"), option.arrive, whole));
  const entries = rows.filter((row) => row.dataset.at !== undefined);
  const svg = s("svg", { width: wide, class: "ribbon", role: "img", "aria-label": t("ribbon_words", { length: length(whole), peak: heat(option.heat?.bar_peak_c), limit: heat(option.heat?.limit_c) }) });
  const items = rows.filter((row) => row.classList.contains("stop"));
  const strip = h("div", { class: "way" }, h("div", { class: "ribbon-column" }, svg), h("ol", { class: "stops" }, rows));
  let drawn = null;
  const redraw = () => { if (strip.isConnected) drawn = draw(svg, option, entries); };
  new ResizeObserver(redraw).observe(strip.querySelector("ol"));
  svg.addEventListener("mousemove", (event) => {
    if (!drawn) return;
    const y = event.clientY - svg.getBoundingClientRect().top;
    drawn.here.setAttribute("y1", y);
    drawn.here.setAttribute("y2", y);
    the_map()?.point(point_at(option, Math.max(0, Math.min(whole, drawn.scale.m(y)))));
  });
  svg.addEventListener("mouseleave", () => the_map()?.point(null));
  const lit = (i) => items.forEach((item, j) => item.classList.toggle("lit", j === i));
  items.forEach((item, i) => {
    const point = () => { lit(i); the_map()?.point([stops[i].lon, stops[i].lat], true); };
    item.addEventListener("mouseenter", point);
    item.addEventListener("focusin", point);
  });
  const card = section("way", t("way"), option.feasible ? null : h("div", { class: "fault banner" }, h("p", {}, t("way_not_done")), list(option.why_not)), h("p", { class: "hint" }, t("way_hint", { unit: long_unit() })), key(), strip);
  card.show_stop = (i, move) => {
    lit(i);
    if (!move) return;
    items[i]?.scrollIntoView({ block: "center", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
    items[i]?.focus({ preventScroll: true });
  };
  return card;
}

function key() {
  const sample = (kind) => s("svg", { width: 26, height: 26, "aria-hidden": "true" }, s("line", { x1: 13, x2: 13, y1: 0, y2: 26, class: `run ${kind}`, "stroke-width": 18 }), s("line", { x1: 13, x2: 13, y1: 0, y2: 26, class: `pattern ${kind}` }));
  return h("ul", { class: "key row" }, ["hard", "gravel", "earth", "haul"].map((kind) => h("li", {}, sample(kind), t(kind === "haul" ? "key_hauled" : `surface_${kind}`))), h("li", {}, h("span", { class: "heat-key", "aria-hidden": "true" }), t("key_heat")));
}
