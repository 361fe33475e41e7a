// SPDX-License-Identifier: Apache-2.0
// Keyboard alone, names and contrast (axe-core), night colours, large targets, imperial units.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { open_yard, open_page, five_answers, planned, axe_source } from "./yard.mjs";

let yard;
before(async () => { yard = await open_yard(); });
after(async () => { await yard?.close(); });

async function tab_to(page, selector) {
  for (let i = 0; i < 250; i++) {
    if (await page.evaluate((each) => document.activeElement?.matches(each), selector)) return;
    await page.keyboard.press("Tab");
  }
  assert.fail(`Tab never reaches ${selector}`);
}

async function findings(page) {
  await page.evaluate(readFileSync(axe_source(), "utf8"));
  const { violations } = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  return violations.filter((each) => ["serious", "critical"].includes(each.impact)).map((each) => `${each.id}: ${each.nodes.slice(0, 3).map((node) => `${node.target} ${node.failureSummary}`).join(" | ")}`);
}

test("the whole job by keyboard", { timeout: 240000 }, async () => {
  const page = await open_page(yard, { viewport: { width: 1280, height: 900 } });
  await tab_to(page, "[data-key=from]");
  await page.keyboard.type("nettle");
  await page.locator("[role=listbox]:not([hidden]) [role=option]", { hasText: "Nettle Farm yard" }).first().waitFor();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
  await tab_to(page, "[data-key=to]");
  await page.keyboard.type("long forty");
  await page.locator("[role=listbox]:not([hidden]) [role=option]", { hasText: "Long Forty" }).first().waitFor();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
  await tab_to(page, "[data-key=machine]");
  await page.keyboard.type("medium");
  await tab_to(page, "[data-key='conditions.air_c']");
  await page.keyboard.press("Control+A");
  await page.keyboard.type("24");
  await page.keyboard.press("Enter");
  await page.locator("#verdict .sentence").waitFor();
  await page.waitForFunction(() => document.activeElement?.id === "verdict-title");
  await tab_to(page, "[data-pick=least-hard]");
  await page.keyboard.press("Enter");
  assert.equal(await page.locator("#way .which").innerText(), "Least paved");
  await tab_to(page, "#choices .choice");
  // Which of the points are options and which choices of their own depends on the hour.
  let words = "";
  for (let steps = 0; steps < 20 && !words.startsWith("Choice"); ++steps) {
    await page.keyboard.press("ArrowRight");
    words = await page.evaluate(() => document.activeElement.getAttribute("aria-label"));
  }
  assert.match(words, /^Choice \d+: .* long, .* paved/);
  await page.keyboard.press("Enter");
  await page.locator("#options [data-pick^=front-][aria-pressed=true]").waitFor();
  // Asking about a road: the map takes the arrow keys, Enter takes its middle.
  const asks = page.getByRole("button", { name: "Ask about a road" });
  await asks.focus();
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
  await page.locator("#road-panel:not([hidden])").waitFor();
  await page.waitForFunction(() => document.activeElement.closest("#road-panel") !== null);
  page.check();
  await page.context().close();
});

for (const [name, options] of [["day", {}], ["night", { colorScheme: "dark" }], ["phone", { viewport: { width: 360, height: 740 } }]]) {
  test(`names and contrast: ${name}`, { timeout: 120000 }, async () => {
    const page = await open_page(yard, options);
    assert.deepEqual(await findings(page), []);
    await five_answers(page);
    await page.getByText("More answers").click();
    await page.getByLabel("from hour").fill("9");
    await page.getByLabel("to hour").fill("12");
    await page.getByLabel("And home again").check();
    await planned(page);
    await page.getByRole("button", { name: "Show the loading plan" }).click();
    await page.locator("#loading img").waitFor();
    for (const summary of await page.locator("summary").all()) if (!(await summary.evaluate((each) => each.parentElement.open))) await summary.click();
    assert.deepEqual(await findings(page), []);
    const small = await page.evaluate(() => [...document.querySelectorAll("button, select, input, summary")].filter((each) => each.offsetParent && !each.matches(".pin, [type=checkbox]") && !each.closest(".maplibregl-ctrl"))
      .filter((each) => each.getBoundingClientRect().height < 48).map((each) => each.outerHTML.slice(0, 80)));
    assert.deepEqual(small, []);
    page.check();
    await page.context().close();
  });
}

test("day and night, metric and imperial", { timeout: 120000 }, async () => {
  const page = await open_page(yard);
  await five_answers(page, "medium");
  await page.getByRole("button", { name: "Night colours" }).click();
  assert.equal(await page.evaluate(() => document.documentElement.dataset.night), "1");
  await planned(page);
  await page.getByRole("button", { name: "Imperial units" }).click();
  await page.waitForFunction(() => / mi, /.test(document.querySelector("#verdict .sentence").textContent) || / miles/.test(document.querySelector("#verdict .sentence").textContent));
  assert.equal(await page.getByLabel(/^Air now, °F/).inputValue(), "75.2");
  assert.match(await page.locator("#options").innerText(), /\d\smi/);
  page.check();
  await page.context().close();
});
