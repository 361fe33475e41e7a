// SPDX-License-Identifier: Apache-2.0
// One plan, one set of figures: what the terminal, the sheets, the tracks and tables and the page say of it is the
// same to the last digit, in metric and in imperial units. What the page says comes from its own modules, over a
// document that only keeps text.
import test, { after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";

const program = process.env.LOAMWAY_PROGRAM, source = process.env.LOAMWAY_SOURCE;
const folder = mkdtempSync(path.join(tmpdir(), "loamway-figures-"));
after(() => rmSync(folder, { recursive: true, force: true }));
const file = (name) => path.join(folder, name);

class Element {
  constructor(tag) { this.tag = tag; this.children = []; this.dataset = {}; this.attributes = {}; }
  append(...children) { this.children.push(...children); }
  setAttribute(name, value) { this.attributes[name] = value; }
  addEventListener() {}
  get text() { return this.children.map((child) => (child instanceof Element ? child.text : String(child))).join(["td", "th", "tr"].includes(this.tag) ? " " : ""); }
  all(tag) { return this.children.flatMap((child) => (child instanceof Element ? [...(child.tag === tag ? [child] : []), ...child.all(tag)] : [])); }
}
globalThis.document = { createElement: (tag) => new Element(tag), createElementNS: (_, tag) => new Element(tag) };
const page = path.join(source, "src/web/page/src");
const units = await import(path.join(page, "units.js"));
const { options_card } = await import(path.join(page, "options.js"));

const run = (...words) => execFileSync(program, words, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });
const flat = (text) => text.replace(/[\s\u00a0]+/g, " ");
// What a person reads of a sheet for the phone or of a picture.
const read_html = (text) => flat(text.replace(/<(style|script|svg)[\s\S]*?<\/\1>/g, " ").replace(/<[^>]+>/g, " ").replaceAll("&quot;", '"').replaceAll("&amp;", "&"));
function read_pdf(name) {
  try {
    return flat(execFileSync("pdftotext", ["-layout", name, "-"], { encoding: "utf8" }));
  } catch (fault) {
    if (fault.code === "ENOENT") return null;
    throw fault;
  }
}

run("region", "build", path.join(source, "regions/demo/demo.osm.pbf"), "-o", file("demo.region"), "--recipe", path.join(source, "regions/demo.toml"));

/// The cells of a row of the terminal's table of options.
function row(text, name) {
  const line = text.split("\n").find((each) => each.trimStart().startsWith(`${name} `));
  assert.ok(line, `no row "${name}"`);
  return line.trim().slice(name.length).trim().split(/ {2,}/);
}

function compare(move, unit, flags) {
  const text = run("plan", path.join(source, "examples/moves", move), "--region", file("demo.region"), "--units", unit, "--trials", "50", ...flags, "-o", file("plan.json"));
  const plan = JSON.parse(readFileSync(file("plan.json"), "utf8"));
  units.use_units(plan.move.units);
  const { length, number, to_long, long_unit, duration, clock, speed, heat, money } = units;
  const say = (words) => flat(words);
  const long = (m) => number(to_long(m), 1);
  const has = (where, words, what) => assert.ok(where.includes(say(words)), `${move}, ${unit}, ${what}: "${say(words)}" is not in: ${where.slice(0, 1500)}`);

  // The terminal's table and the page's, cell by cell.
  const shown = options_card(plan, () => {}).all("tbody")[0].all("tr");
  const on_page = (name) => shown.find((each) => each.children[0].text === name)?.children.slice(1).map((each) => flat(each.text));
  const order = plan.options;
  const sorted = [...order].sort((a, b) => (a.id === plan.verdict.option ? 0 : 1) - (b.id === plan.verdict.option ? 0 : 1));
  const check_row = (name, page_name, cell, page_cell) => {
    const cells = row(text, name), there = page_name ? on_page(page_name) : null;
    order.forEach((option, i) => {
      if (!option.feasible) return;
      assert.equal(cells[i], say(cell(option)), `${move}, ${unit}, terminal, ${name} of ${option.id}`);
      if (there && page_cell(option)) assert.ok(there[sorted.indexOf(option)].startsWith(say(page_cell(option))), `page, ${page_name} of ${option.id}: ${there[sorted.indexOf(option)]}`);
    });
  };
  check_row(`driven ${long_unit()}`, "Driven", (o) => long(o.length_m), (o) => o.length_m > 0 && length(o.length_m));
  check_row(`paved ${long_unit()}`, "Paved", (o) => long(o.hard_m), (o) => o.length_m > 0 && `${long(o.hard_m)} ${long_unit()}`);
  check_row("time", "Time", (o) => duration(o.duration_s), (o) => duration(o.duration_s));
  check_row("leave", null, (o) => clock(o.depart));
  check_row("arrive", null, (o) => clock(o.arrive));
  check_row(`cost ${order.find((o) => o.cost).cost.currency}`, "Cost", (o) => number(o.cost.total), (o) => money(o.cost.total, o.cost.currency));
  check_row("belt wear, % of a set", null, (o) => number(o.wear.share * 100, 2));
  check_row("bars up to, estimate", null, (o) => (o.heat ? heat(o.heat.bar_peak_c) : "-"));

  has(flat(text), plan.verdict.sentence, "terminal");
  const option = order.find((each) => each.id === plan.verdict.option);
  if (!option || option.mode !== "drive") return;
  has(plan.verdict.sentence, `about ${number(option.cost.total)} ${option.cost.currency}`, "verdict");
  has(plan.verdict.sentence, duration(option.duration_s), "verdict");

  // Sheets.
  for (const ending of ["txt", "html", "pdf"]) run("sheet", file("plan.json"), "-o", file(`sheet.${ending}`));
  const sheets = { txt: flat(readFileSync(file("sheet.txt"), "utf8")), html: read_html(readFileSync(file("sheet.html"), "utf8")), pdf: read_pdf(file("sheet.pdf")) };
  const way = `${length(option.length_m)} driven, ${length(option.hard_m)} paved (${long(option.hard_low_m)} to ${long(option.hard_high_m)})`;
  const stops = option.stops.filter((stop) => stop.kind === "relube");
  for (const [ending, sheet] of Object.entries(sheets)) {
    if (sheet === null) continue;
    has(sheet, way, ending);
    has(sheet, clock(option.arrive), ending);
    has(sheet, duration(option.duration_s), ending);
    for (const stop of stops) {
      has(sheet, length(stop.at_m), ending);
      for (const time of [stop.arrive, stop.leave]) has(sheet, clock(time), ending);
      has(sheet, "RE-LUBE STOP", ending);
    }
    if (ending !== "pdf") for (const kmh of [option.speed_caps_kmh.hard, option.speed_caps_kmh.gravel]) has(sheet, speed(kmh), ending);
  }
  has(sheets.html, plan.verdict.sentence, "html");

  // Tracks and tables.
  for (const ending of ["gpx", "geojson", "kml", "csv"]) run("export", file("plan.json"), "-o", file(`plan.${ending}`));
  const tracks = Object.fromEntries(["gpx", "geojson", "kml", "csv"].map((ending) => [ending, flat(readFileSync(file(`plan.${ending}`), "utf8"))]));
  has(tracks.gpx, length(option.length_m), "gpx");
  has(tracks.gpx, `arrive ${option.arrive}`, "gpx");
  for (const stop of stops) {
    has(tracks.gpx, `<name>${length(stop.at_m)} re-lube</name>`, "gpx");
    has(tracks.gpx, "<type>re-lube stop</type>", "gpx");
    has(tracks.gpx, `Planned ${clock(stop.arrive)} to ${clock(stop.leave)}`, "gpx");
    for (const ending of ["geojson", "kml", "csv"]) has(tracks[ending], `${length(stop.at_m)} re-lube stop`, ending);
    for (const time of [stop.arrive, stop.leave]) has(tracks.csv, time, "csv");
  }
}

const ways = [["demo.toml", []], ["demo.toml", ["--air", "12"]], ["hot.toml", []], ["dawn.toml", []], ["hauling-wins.toml", []], ["washed.toml", []],
  ["demo.toml", ["--from", "Long Forty", "--to", "Nettle Farm yard", "--air", "24"]]];
for (const unit of ["metric", "imperial"])
  for (const [move, flags] of ways) test(`${move} ${flags.join(" ")} in ${unit} units`, () => compare(move, unit, flags));

// Lengths lie on whole metres and costs on hundredths, so that halves are common: both sides go the same way.
test("halves are rounded as the program rounds them", () => {
  units.use_units("metric");
  for (const [m, words] of [[12250, "12.2"], [12350, "12.3"], [12750, "12.8"], [12449, "12.4"], [12450, "12.4"], [850, "0.8"], [950, "0.9"]])
    assert.equal(units.number(units.to_long(m), 1), words, `${m} m`);
  for (const [cost, words] of [[266.5, "266"], [267.5, "268"], [0.5, "0"], [266.49, "266"]]) assert.equal(units.number(cost), words);
});
test("a speed cap is never rounded up", () => {
  units.use_units("imperial");
  assert.equal(units.speed(40).replace("\u00a0", " "), "24 mph");
  assert.equal(units.speed(25).replace("\u00a0", " "), "15 mph");
});
