// SPDX-License-Identifier: Apache-2.0
// What every test of the page starts from: the demo region, a ledger with one machine, the server, a browser.
import { execFileSync, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import assert from "node:assert/strict";

const { LOAMWAY_PROGRAM: program, LOAMWAY_SOURCE: source, PAGE_PACKAGES: packages, CHROMIUM: executablePath } = process.env;
const require = createRequire(join(packages, "package.json"));
const { chromium } = require("playwright-core");

const quiet = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];
// A name that is asked for cannot be found: what is not on this machine fails, and the test with it.
const closed = ["--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"];

const run = (...words) => execFileSync(program, words, { stdio: ["ignore", "ignore", "inherit"] });

// The server with its address, once it answers.
export async function serve(words) {
  const server = spawn(program, ["serve", "--port", "0", "--profiles", join(source, "examples/profiles"), ...words], { stdio: ["ignore", "pipe", "ignore"] });
  const lines = createInterface({ input: server.stdout });
  const address = (await Promise.race([lines[Symbol.asyncIterator]().next().then(({ value }) => value), new Promise((_, refuse) => server.once("exit", (status) => refuse(new Error(`serve ended with ${status}`))))])).trim();
  server.stdout.resume();
  return {
    address,
    async stop() {
      const gone = new Promise((resolve) => server.once("exit", resolve));
      if (server.exitCode === null) server.kill("SIGTERM");
      await gone;
    },
  };
}

export const launch = (flags = []) => chromium.launch({ executablePath, headless: true, args: [...quiet, ...closed, ...flags] });

export function build_region(folder) {
  const region = join(folder, "demo.region");
  run("region", "build", join(source, "regions/demo/demo.osm.pbf"), "-o", region, "--recipe", join(source, "regions/demo.toml"), "--elevation", join(source, "regions/demo/hills.tif"));
  return region;
}

export async function open_yard({ flags = [], more = [] } = {}) {
  const folder = mkdtempSync(join(tmpdir(), "loamway-page-"));
  const region = build_region(folder), ledger = join(folder, "yard.ledger");
  const note = (...words) => run("ledger", ...words, "--ledger", ledger);
  const a_month_ago = new Date(Date.now() - 30 * 86400e3).toISOString().replace(/\.\d+/, "");
  note("machine", "add", "red", "--profile", join(source, "examples/profiles/medium.toml"), "--at", a_month_ago);
  note("belts", "add", "red-2026", "--machine", "red", "--fit", "--price", "16000", "--currency", "CU", "--at", a_month_ago);
  note("field", "--machine", "red", "--hours", "120");
  note("relube", "--machine", "red");
  const server = await serve(["--region", region, "--ledger", ledger, "--places", join(source, "regions/demo/places.geojson"), ...more]);
  const browser = await launch(flags);
  return {
    address: server.address, browser, folder,
    async close() {
      await browser.close();
      await server.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

// A page that notes every request and every complaint; `check` fails on what left the server's origin.
export async function open_page(yard, options = {}) {
  const context = await yard.browser.newContext({ reducedMotion: "reduce", acceptDownloads: true, locale: "en-GB", ...options });
  const page = await context.newPage();
  const requests = [], complaints = [];
  context.on("request", (request) => requests.push(request.url()));
  page.on("pageerror", (error) => complaints.push(`error: ${error.message}`));
  page.on("console", (message) => { if (message.type() === "error") complaints.push(message.text()); });
  page.check = () => {
    const origin = new URL(yard.address).origin;
    assert.deepEqual(requests.filter((url) => !url.startsWith(`${origin}/`) && !url.startsWith("blob:") && !url.startsWith("data:")), []);
    assert.ok(requests.length > 5, "requests are seen at all");
    assert.deepEqual(complaints, []);
  };
  await page.goto(yard.address);
  await page.locator("#plan-it").waitFor();
  return page;
}

export async function pick_place(page, label, typed, name) {
  await page.getByRole("combobox", { name: label, exact: true }).fill(typed);
  await page.getByRole("option", { name, exact: false }).first().click();
}

export const tomorrow = () => `${new Date(Date.now() + 86400000).toISOString().slice(0, 10)}T10:00`;

export async function five_answers(page, machine = "red") {
  await pick_place(page, "From", "nettle", "Nettle Farm yard");
  await pick_place(page, "To", "long f", "Long Forty");
  await page.getByLabel("Machine", { exact: true }).selectOption(machine);
  await page.getByLabel("What hangs on it").selectOption("mounted implement");
  await page.getByLabel(/^Air now/).fill("24");
}

export async function planned(page) {
  await page.getByRole("button", { name: "Plan the move" }).click();
  await page.locator("#verdict .sentence").waitFor();
  return page.locator("#verdict .sentence").innerText();
}

export const axe_source = () => require.resolve("axe-core/axe.min.js");
