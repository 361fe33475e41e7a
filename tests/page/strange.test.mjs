// SPDX-License-Identifier: Apache-2.0
// A map across the 180th meridian whose names, like those of places, machines and remarks, are markup, scripts
// and marks of direction: nothing of it runs, all of it is shown as text, and the map shows the move, not the
// world.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { launch, open_page, pick_place, planned, serve } from "./yard.mjs";

const source = process.env.LOAMWAY_SOURCE;
const markup = `<img src=x onerror="window.hit=1"> "><script>window.hit=2</script><svg/onload=window.hit=3> javascript:window.hit=4 {{7*7}} &lt;b&gt; '\``;
const turned = "\u202Eevil\u202C \u2066\u200F\u0085\u2028";
const strange = (name) => `${name} ${markup} ${turned}`;
const lat = -16.5, west = 179.85, steps = 30, step = 0.01;

// One road of 32 km from west to east, with a gravel track off it at each bend.
function strange_map() {
  const escaped = (text) => [...text].map((c) => (/[A-Za-z0-9]/.test(c) ? c : `%${c.codePointAt(0).toString(16)}%`)).join("");
  const wrap = (lon) => (lon > 180 ? lon - 360 : lon).toFixed(7);
  const nodes = [], ways = [];
  for (let i = 0; i <= steps; ++i) {
    const at = (west + i * step);
    nodes.push(`n${i + 1} v1 x${wrap(at)} y${(lat + (i % 2) * 0.001).toFixed(7)}`, `n${i + 101} v1 x${wrap(at)} y${(lat - 0.003).toFixed(7)}`);
    ways.push(`w${i + 101} v1 Thighway=track,surface=gravel,name=${escaped(strange(`Track ${i}`))} Nn${i + 1},n${i + 101}`);
  }
  nodes.push(`n500 v1 Tplace=village,name=${escaped(strange("Midway"))} x179.9900000 y${lat}`);
  const line = Array.from({ length: steps + 1 }, (_, i) => `n${i + 1}`).join(",");
  return [...nodes, `w1 v1 Thighway=tertiary,surface=asphalt,name=${escaped(strange("Long Road"))} N${line}`, ...ways].join("\n") + "\n";
}

let yard, folder, server;
before(async () => {
  folder = mkdtempSync(join(tmpdir(), "loamway-page-"));
  const file = (name, text) => { writeFileSync(join(folder, name), text); return join(folder, name); };
  const run = (...words) => execFileSync(process.env.LOAMWAY_PROGRAM, words, { stdio: ["ignore", "ignore", "inherit"] });
  const region = join(folder, "strange.region"), ledger = join(folder, "strange.ledger");
  run("region", "build", file("strange.opl", strange_map()), "-o", region);
  const place = (name, lon) => ({ type: "Feature", properties: { name: strange(name) }, geometry: { type: "Point", coordinates: [lon, lat] } });
  const places = file("places.geojson", JSON.stringify({ type: "FeatureCollection", features: [place("Alpha", 179.851), place("Omega", -179.851)] }));
  const machine = `red ${markup}`;
  run("ledger", "machine", "add", machine, "--profile", join(source, "examples/profiles/medium.toml"), "--ledger", ledger);
  run("ledger", "belts", "add", `set ${markup}`, "--machine", machine, "--fit", "--hours", "300", "--run-in", "--ledger", ledger);
  run("ledger", "condition", "--machine", machine, "--note", strange("worn"), "--ledger", ledger);
  server = await serve(["--region", region, "--ledger", ledger, "--places", places]);
  const browser = await launch(["--disable-3d-apis"]);
  yard = { address: server.address, browser, machine };
});
after(async () => {
  await yard?.browser.close();
  await server?.stop();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

async function nothing_ran(page) {
  const found = await page.evaluate(() => ({
    hit: window.hit ?? null,
    made: document.querySelectorAll("img[src=x], [onerror], [onload], a[href^='javascript' i]").length,
    scripts: [...document.scripts].filter((each) => each.textContent.includes("hit")).length,
  }));
  assert.deepEqual(found, { hit: null, made: 0, scripts: 0 });
}

test("names of strangers are text, across the date line", { timeout: 240000 }, async () => {
  const page = await open_page(yard, { viewport: { width: 1280, height: 900 } });
  const asked = [];
  page.on("request", (request) => { if (request.url().includes("map.png")) asked.push(new URL(request.url()).searchParams.get("bbox").split(",").map(Number)); });
  page.on("dialog", (dialog) => assert.fail(`a dialog: ${dialog.message()}`));
  await page.reload();
  await page.waitForFunction(() => document.querySelector("img.drawn")?.naturalWidth > 100);
  assert.ok(asked[0][0] > 179 && asked[0][2] < 181.5, `the first view is ${asked[0]}`);
  await pick_place(page, "From", "alpha", "Alpha");
  await pick_place(page, "To", "omega", "Omega");
  await page.getByLabel("Machine", { exact: true }).selectOption(yard.machine);
  await page.getByLabel(/^Air now/).fill("20");
  await planned(page);
  await page.waitForFunction(() => document.querySelectorAll(".frame .pin:not([hidden])").length > 0);

  // The map shows the move: a third of a degree, not the world.
  const box = asked.at(-1);
  assert.ok(box[0] > 179 && box[2] < 181 && box[2] - box[0] < 1.5, `${box}`);
  await page.waitForFunction(() => document.querySelector("img.drawn").complete && document.querySelector("img.drawn").naturalWidth > 100);
  for (let i = 0; i < 14; ++i) await page.getByRole("button", { name: "Further", exact: true }).click();
  await page.waitForLoadState("networkidle");
  for (const [w, s, e, n] of asked) assert.ok(w >= -180 && w <= 180 && s >= -90 && n <= 90 && e > w && e - w < 360, `${[w, s, e, n]}`);

  // A remark on a road, and the road itself.
  const road = await page.evaluate(async (text) => (await fetch("/api/1/corrections", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ kind: "stop", at: "-16.4995,179.995", value: text, by: text, note: text }) })).status, strange("me"));
  assert.equal(road, 201);
  await page.reload();
  await page.getByRole("button", { name: /^Remove correction/ }).first().waitFor();
  await planned(page);
  await page.waitForLoadState("networkidle");
  await page.getByRole("button", { name: "Ask about a road" }).click();
  const map = await page.locator(".frame").boundingBox();
  await page.mouse.click(map.x + map.width * 0.4, map.y + map.height / 2);
  await page.locator("#road-panel form").waitFor();
  await nothing_ran(page);
  await page.evaluate(() => document.querySelectorAll("details").forEach((each) => { each.open = true; }));
  const shown = await page.evaluate(() => document.body.innerText + [...document.querySelectorAll("input, option")].map((each) => each.value).join("\n"));
  const as_text = markup.replace(/\s+/g, " ");
  for (const name of ["Alpha", "Omega", "Long Road", "Track 14", "Midway", "red", "set", "me"]) {
    const at = shown.replace(/\s+/g, " ").search(new RegExp(`${name} <img src=x onerror="window.hit=1">`));
    assert.ok(at >= 0, `"${name}" is not shown as it is written`);
  }
  assert.ok(shown.replace(/\s+/g, " ").includes(as_text));
  // A mark that turns the rest of a line round would turn "right, 300 m after", too.
  for (const line of (await page.evaluate(() => document.body.innerText)).split("\n")) assert.doesNotMatch(line, /[\u202A-\u202E\u2066-\u2069\u200F\u0085\u2028]/);
  for (const label of await page.evaluate(() => [...document.querySelectorAll("[aria-label], [title]")].map((each) => `${each.ariaLabel} ${each.title}`))) assert.doesNotMatch(label, /[\u202A-\u202E]/);

  // The sheet for a telephone, which may be opened from anywhere.
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Sheet for the phone", exact: true }).click()]);
  const sheet = join(folder, "sheet.html");
  await download.saveAs(sheet);
  assert.ok(readFileSync(sheet, "utf8").includes("&lt;img src=x"));
  const alone = await page.context().newPage();
  await alone.goto(`file://${sheet}`);
  await nothing_ran(alone);
  assert.ok((await alone.evaluate(() => document.body.innerText)).includes(`<img src=x onerror="window.hit=1">`));
  await page.context().close();
});

test("an address of markup is text", { timeout: 120000 }, async () => {
  const page = await open_page(yard, { viewport: { width: 1280, height: 900 } });
  const text = strange("Nowhere");
  await page.goto(`${yard.address}#${new URLSearchParams({ from: text, to: text, machine: text, belts: text, trailer: text, air: text, front: text })}`);
  await page.reload();
  await page.locator("#plan-it").waitFor();
  await page.getByRole("button", { name: "Plan the move" }).click();
  await page.waitForLoadState("networkidle");
  await nothing_ran(page);
  assert.ok((await page.getByRole("combobox", { name: "From", exact: true }).inputValue()).includes(markup));
  await page.context().close();
});
