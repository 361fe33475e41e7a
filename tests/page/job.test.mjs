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
    // What to do is read before the map is looked at; on a wide page the map stands beside it.
    const [verdict_box, map_box] = await Promise.all(["#verdict", "#map"].map((each) => page.locator(each).boundingBox()));
    if (width < 700) assert.ok(verdict_box.y + verdict_box.height <= map_box.y, "the verdict comes before the map");
    else assert.ok(map_box.x >= verdict_box.x + verdict_box.width, "the map stands beside the verdict");
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
    // The trip meter and the hour of leaving, as the driver read them.
    const { km } = await belts(page);
    await page.getByLabel(/^Driven by the trip meter/).fill("30.5");
    const left = await page.getByLabel("Left at").inputValue();
    await page.getByLabel("Left at").fill(`${left.slice(0, 11)}00:05`);
    await page.getByRole("button", { name: "Record the move" }).click();
    await page.getByText(/^Recorded\./).first().waitFor();
    const after = await belts(page);
    assert.equal(after.moves, moves + 1);
    const driven = (of) => of.hard + of.gravel + of.earth;
    assert.ok(Math.abs(driven(after.km) - driven(km) - 30.5) < 0.01, `${driven(after.km) - driven(km)} km`);
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
  assert.match(await page.locator("#verdict .do-not").innerText(), /^Do not/);
  assert.match(await page.locator(".map-note").innerText(), /^Cannot be done/);
  assert.match(await page.locator("#way .fault").innerText(), /not to be driven.*not run in/s);
  // What has not been looked at yet is one press away.
  await page.getByRole("button", { name: "Look at hauling, too" }).click();
  await page.locator("#options [data-pick=haul]").waitFor();
  assert.match(await page.locator("#verdict .sentence").innerText(), /^Haul it/);
  assert.ok(!(await page.locator(".map-note").isVisible()));
  await page.context().close();
});

test("a budget by area, with a what-if beside it", { timeout: 120000 }, async () => {
  const page = await open_page(yard, { viewport: { width: 1280, height: 900 } });
  await five_answers(page, "medium");
  await page.getByText("What do jobs and the moves between them take?").click();
  await page.getByLabel("Field or place").fill("Long Forty");
  await page.getByLabel("or area, ha").fill("12");
  await page.getByRole("button", { name: "Work it out" }).click();
  await page.getByText("Say how much of the area an hour does.").waitFor();
  await page.getByLabel("at, ha an hour").fill("4");
  await page.getByRole("button", { name: "Add a what-if" }).click();
  await page.getByLabel("It is, CU/l").fill("2.5");
  const [request] = await Promise.all([page.waitForRequest((each) => each.url().endsWith("/api/1/budget")), page.getByRole("button", { name: "Work it out" }).click()]);
  const body = request.postDataJSON();
  assert.deepEqual(body.job, [{ name: "Long Forty", field: "Long Forty", hectares: 12, ha_per_h: 4 }]);
  assert.deepEqual(body.what_if, [{ name: "price of fuel 2.5", rates: { fuel: { price_per_l: 2.5 } } }]);
  const rows = page.locator(".what-ifs tbody tr");
  await rows.nth(1).waitFor();
  assert.match(await rows.nth(1).innerText(), /^price of fuel 2\.5\s.*\+\d/s);
  // In acres the same work stays the same work.
  await page.getByRole("button", { name: "Imperial units" }).click();
  assert.equal(await page.getByLabel("or area, ac").inputValue(), "29.65");
  page.check();
  await page.context().close();
});

test("a loading place somebody named is on the map, and the scale follows the units", { timeout: 120000 }, async () => {
  const page = await open_page(yard, { viewport: { width: 1280, height: 900 } });
  await five_answers(page, "medium");
  await planned(page);
  await page.locator("#way .stop").first().getByRole("button", { name: "Show on the map" }).click();
  const scale = page.locator(".maplibregl-ctrl-scale");
  assert.match(await scale.innerText(), /\sk?m$/);
  await page.getByRole("button", { name: "Imperial units" }).click();
  assert.match(await scale.innerText(), /\s(mi|ft)$/);
  await page.locator("#map-holder").click({ position: { x: 200, y: 200 } });
  await page.getByRole("button", { name: "What road is this?" }).click();
  await page.getByLabel("What is it about").selectOption("loading");
  await page.getByLabel("Name of the place").fill("Quarry gate");
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await page.getByText(/^Noted as /).first().waitFor();
  // The map's own library is not to be asked from outside; what it gets is.
  const { id, lon, lat } = await page.evaluate(async () => {
    const { features } = await (await fetch("/api/1/corrections")).json();
    return { id: features[0].id ?? features[0].properties.id, lon: features[0].geometry.coordinates[0], lat: features[0].geometry.coordinates[1] };
  });
  const tile = await page.evaluate(async ([x, y]) => {
    const n = 2 ** 14, row = Math.floor((1 - Math.asinh(Math.tan(y * Math.PI / 180)) / Math.PI) / 2 * n);
    return new TextDecoder("latin1").decode(await (await fetch(`/api/1/tiles/14/${Math.floor((x + 180) / 360 * n)}/${row}.mvt`)).arrayBuffer());
  }, [lon, lat]);
  assert.match(tile, /Quarry gate/);
  await page.getByRole("button", { name: `Remove correction ${id}` }).click();
  await page.getByText("None yet.").waitFor();
  page.check();
  await page.context().close();
});
