// SPDX-License-Identifier: Apache-2.0
// How long somebody waits for the page: from its address to the complete map, from the press of the button to the verdict.
// Beside each, in the same run, what the server takes for the same answers over HTTP: the tiles of the first view one after
// another, and the plan. Without a graphics card the browser draws the map by software, which is most of the first figure.
//   page_bench.mjs NAME REGION FROM TO [NAME REGION FROM TO ...]
import { serve, launch } from "../page/yard.mjs";

const repetitions = 5;
const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
const ms = (value) => `${value.toFixed(value < 10 ? 1 : 0)} ms`;

async function timed(work) {
  const begun = performance.now();
  await work();
  return performance.now() - begun;
}

async function open(browser, address, from, to) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: "reduce" });
  const page = await context.newPage();
  const tiles = [];
  page.on("request", (request) => { if (request.url().includes("/api/1/tiles/")) tiles.push(request.url()); });
  await page.goto(address);
  await page.locator("#plan-it").waitFor();
  const marked = (name) => page.waitForFunction((each) => performance.getEntriesByName(each)[0]?.startTime, name, { timeout: 120000 }).then((handle) => handle.jsonValue());
  const map = await marked("map-complete");
  const first_view = [...tiles];
  await page.locator("[data-key=from]").fill(from);
  await page.locator("[data-key=to]").fill(to);
  await page.locator("[data-key=machine]").selectOption("medium");
  const [request] = await Promise.all([page.waitForRequest((each) => each.url().endsWith("/api/1/plan")), page.locator("#plan-it").click()]);
  const verdict = await marked("verdict-shown") - await marked("plan-asked");
  await context.close();
  return { map, verdict, tiles: first_view, body: request.postData() };
}

async function row(browser, name, region, from, to) {
  const server = await serve(["--region", region]);
  // The first request of a program pays for more than the server.
  await (await fetch(`${server.address}health`)).text();
  const runs = [], planned = [], all_tiles = [], each_tile = [], bytes = [];
  for (let i = 0; i < repetitions; i++) {
    const run = await open(browser, server.address, from, to);
    runs.push(run);
    let sum = 0;
    for (const url of run.tiles) {
      const took = await timed(async () => bytes.push((await (await fetch(url)).arrayBuffer()).byteLength));
      each_tile.push(took);
      sum += took;
    }
    all_tiles.push(sum);
    planned.push(await timed(async () => (await fetch(`${server.address}api/1/plan`, { method: "POST", headers: { "Content-Type": "application/json" }, body: run.body })).json()));
  }
  await server.stop();
  const [map, tiles, verdict, plan] = [runs.map((run) => run.map), all_tiles, runs.map((run) => run.verdict), planned].map(median);
  const kb = bytes.reduce((sum, each) => sum + each, 0) / repetitions / 1024;
  console.log(`| ${name} | ${ms(map)} | ${runs[0].tiles.length} tiles, ${kb.toFixed(0)} kB, ${ms(tiles)} | ${ms(median(each_tile))}, ${ms(Math.max(...each_tile))} | ${ms(verdict)} | ${ms(plan)} | ${(verdict / plan).toFixed(2)} |`);
}

const words = process.argv.slice(2), browser = await launch();
console.log("| page in headless Chromium, software GL | address to complete map | its tiles over HTTP | tile, median and slowest | press to verdict | the plan over HTTP | verdict beside plan |");
console.log("|---|---|---|---|---|---|---|");
for (let i = 0; i + 3 < words.length; i += 4) await row(browser, ...words.slice(i, i + 4));
await browser.close();
