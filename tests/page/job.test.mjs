// SPDX-License-Identifier: Apache-2.0
// The job as a person does it, on a laptop and on a phone.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { open_yard, open_page, five_answers, planned } from "./yard.mjs";

let yard;
before(async () => { yard = await open_yard(); });
after(async () => { await yard?.close(); });

const belts = async (page) => page.evaluate(async () => (await (await fetch("/api/1/belts")).json()).belts[0]);

async function saved(page, button) {
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: button, exact: true }).click()]);
  return readFileSync(await download.path());
}

for (const [width, height] of [[1280, 900], [360, 740]]) {
  test(`plan, pick, correct, print and record at ${width} px`, { timeout: 240000 }, async () => {
    const page = await open_page(yard, { viewport: { width, height }, hasTouch: width < 600 });
    const wide = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    await five_answers(page);
    assert.match(await planned(page), /^Drive it: \d+ km, \d+ of them paved, \d re-lube stop/);
    assert.ok(await page.getByText("Never a hand, a tool or powder on a moving belt.", { exact: false }).isVisible());
    assert.ok(await wide() <= 0, "nothing sticks out at the side");
    assert.match(page.url(), /#from=Nettle/);

    // Another option: the road and its caption follow.
    await page.locator("#options [data-pick=least-hard]").click();
    assert.equal(await page.locator("#way .which").innerText(), "Least paved");
    // A choice that was not planned yet becomes an option.
    await page.locator("#choices .choice[data-option='']").nth(3).click();
    await page.locator("#options [data-pick^=front-][aria-pressed=true]").waitFor();
    assert.match(await page.locator("#way .which").innerText(), /^Choice \d+$/);

    // Point at the road of the first stop, close it, and see what that changes.
    await page.locator("#options [data-pick^=least-][aria-pressed=false]").last().click();
    await page.locator("#way .stop").first().getByRole("button", { name: "Show on the map" }).click();
    await page.waitForTimeout(500);
    await page.getByRole("button", { name: "Ask about a road" }).click();
    const map = await page.locator("#map-holder").boundingBox();
    await page.mouse.click(map.x + map.width / 2, map.y + map.height / 2);
    await page.locator("#road-panel form").waitFor();
    assert.match(await page.locator("#road-panel .sentence").innerText(), /^(Known|Assumed): (paved|gravel|earth)\.$/);
    await page.getByLabel("What is it about").selectOption("closed");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByRole("button", { name: "Plan again" }).click();
    await page.locator("#verdict .changes").waitFor();
    assert.notEqual(await page.locator("#verdict .changes").innerText(), "");
    await page.getByRole("button", { name: /^Remove correction/ }).first().click();
    await page.getByText("None yet.").waitFor();

    assert.equal((await saved(page, "Stop sheet (PDF)")).subarray(0, 4).toString(), "%PDF");
    assert.match((await saved(page, "Track (GPX)")).toString(), /<gpx /);

    const moves = (await belts(page)).moves;
    await page.getByRole("button", { name: "Add a reading" }).click();
    await page.getByLabel(/^Bars, /).fill("62");
    await page.getByLabel(/^After a run of/).fill("9");
    await page.getByLabel(/^At a speed of/).fill("20");
    await page.getByRole("button", { name: "Record the move" }).click();
    await page.getByText(/^Recorded\./).first().waitFor();
    assert.equal((await belts(page)).moves, moves + 1);
    page.check();
    await page.context().close();
  });
}

test("the address holds the move, and never the key", { timeout: 60000 }, async () => {
  const page = await open_page(yard);
  await page.goto(`${yard.address}#from=Nettle+Farm+yard&to=Long+Forty&machine=medium&state=mounted+implement&air=24&key=abc`);
  await page.reload();
  await page.locator("#verdict .sentence").waitFor();
  assert.equal(await page.getByRole("combobox", { name: "From", exact: true }).inputValue(), "Nettle Farm yard");
  assert.ok(!page.url().includes("abc"));
  await page.context().close();
});

test("what the server says stands beside the answer it concerns", { timeout: 60000 }, async () => {
  const page = await open_page(yard);
  await five_answers(page, "medium");
  await page.getByRole("combobox", { name: "From", exact: true }).fill("Nowhere At All");
  await page.getByRole("button", { name: "Plan the move" }).click();
  const box = page.getByRole("combobox", { name: "From", exact: true });
  await page.locator("#move .fault:visible").waitFor();
  assert.equal(await box.getAttribute("aria-invalid"), "true");
  assert.match(await page.locator(`#${await box.getAttribute("id")}-fault`).innerText(), /Nowhere At All/);
  await page.context().close();
});

test("belts that are not run in are not driven", { timeout: 60000 }, async () => {
  const page = await open_page(yard);
  await five_answers(page, "medium");
  await page.locator("#move [data-key=belts]").selectOption("new");
  await page.getByText("More answers").click();
  await page.getByLabel("Look at", { exact: true }).selectOption("drive");
  await planned(page);
  assert.ok(await page.locator("#verdict .verdict.none").isVisible());
  assert.ok(await page.getByText("cannot be done").first().isVisible());
  await page.context().close();
});
