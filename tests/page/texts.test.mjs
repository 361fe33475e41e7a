// SPDX-License-Identifier: Apache-2.0
// Every word the page asks for is in its catalogue, and its scripts hold no words of their own; a sentence that cannot be
// true is not said.
import { test } from "node:test";
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const folder = join(process.env.LOAMWAY_SOURCE, "src/web/page/src");
const { texts } = await import(pathToFileURL(join(folder, "texts.js")));
const { hauled_from } = await import(pathToFileURL(join(folder, "break_even.js")));
const scripts = readdirSync(folder).filter((name) => name.endsWith(".js") && name !== "texts.js").map((name) => ({ name, text: readFileSync(join(folder, name), "utf8") }));

test("each key asked for is there", () => {
  const missing = scripts.flatMap(({ name, text }) => [...text.matchAll(/\bt\("([^"]+)"/g)].map((found) => found[1]).filter((key) => !(key in texts)).map((key) => `${name}: ${key}`));
  assert.deepEqual(missing, []);
});

test("each key there is asked for", () => {
  const all = scripts.map(({ text }) => text).join("\n") + readFileSync(join(folder, "../build.mjs"), "utf8");
  const begun = [...all.matchAll(/`([a-z_]+_)\$\{/g)].map((found) => found[1]);
  const ended = [...all.matchAll(/\bt\(`\$\{\w+\}([a-z_]+)`/g)].map((found) => found[1]);
  const unused = Object.keys(texts).filter((key) => !all.includes(`"${key}"`) && !all.includes(`texts.${key}`) && !begun.some((head) => head && key.startsWith(head)) && !ended.some((tail) => key.endsWith(tail)));
  assert.deepEqual(unused, []);
});

test("no words outside the catalogue", () => {
  const loose = scripts.flatMap(({ name, text }) => [...text.replace(/^\s*\/\/.*$/gm, "").matchAll(/"([A-Z][a-z]+ [a-z]+[^"]*)"/g)].map((found) => `${name}: ${found[1]}`));
  assert.deepEqual(loose, []);
});

// Costs may cross more than once, as at an escort's or a day's end: the page named the last crossing as if hauling were
// dearer everywhere below it.
test("a length from which hauling pays is named only where there is one", () => {
  const even = { drive_below_m: 41000, haul_from_m: 60000, crossings_m: [60000] };
  assert.equal(hauled_from(even), 60000);
  assert.equal(hauled_from({ ...even, crossings_m: [41000, 52000, 60000] }), null);
  assert.equal(hauled_from({ ...even, drive_below_m: null }), null);
  assert.equal(hauled_from({ ...even, haul_from_m: null, crossings_m: [] }), null);
  assert.equal(hauled_from(null), null);
});
