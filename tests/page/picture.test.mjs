// SPDX-License-Identifier: Apache-2.0
// Without WebGL2 the server draws the map; a tap on it still finds its place.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { open_yard, open_page, five_answers, planned } from "./yard.mjs";

let yard;
before(async () => { yard = await open_yard({ flags: ["--disable-3d-apis"] }); });
after(async () => { await yard?.close(); });

test("the server's drawing", { timeout: 120000 }, async () => {
  const page = await open_page(yard, { viewport: { width: 1280, height: 900 } });
  await page.waitForFunction(() => document.querySelector("img.drawn")?.naturalWidth > 100);
  await five_answers(page, "medium");
  await planned(page);
  await page.waitForFunction(() => document.querySelectorAll(".frame .pin").length > 0);
  const stop = page.locator("#way .stop").first();
  await stop.getByRole("button", { name: "Show on the map" }).click();
  await page.getByRole("button", { name: "Ask about a road" }).click();
  const map = await page.locator(".frame").boundingBox();
  await page.mouse.click(map.x + map.width / 2, map.y + map.height / 2);
  await page.locator("#road-panel form").waitFor();
  page.check();
  await page.context().close();
});
