// SPDX-License-Identifier: Apache-2.0
// The code in the terminal scans: a decoder that knows nothing of the program that drew it reads the printed address.
import { test } from "node:test";
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build_region } from "./yard.mjs";

const { LOAMWAY_PROGRAM: program, PAGE_PACKAGES: packages } = process.env;
const read_code = createRequire(join(packages, "package.json"))("jsqr");

// Two rows of modules a line, as the terminal shows them in light letters on dark ground: a block is light.
function picture_of(lines, dots) {
  const wide = Math.max(...lines.map((line) => [...line].length)), high = lines.length * 2;
  const pixels = new Uint8ClampedArray(wide * dots * high * dots * 4).fill(255);
  const light = { "█": [true, true], "▀": [true, false], "▄": [false, true], " ": [false, false] };
  lines.forEach((line, row) => [...line].forEach((letter, column) => light[letter].forEach((is_light, half) => {
    if (is_light) return;
    for (let y = 0; y < dots; y++) for (let x = 0; x < dots; x++) {
      const at = (((row * 2 + half) * dots + y) * wide * dots + column * dots + x) * 4;
      pixels.fill(0, at, at + 3);
    }
  })));
  return [pixels, wide * dots, high * dots];
}

test("the printed code says the printed address", { timeout: 60000 }, async () => {
  const folder = mkdtempSync(join(tmpdir(), "loamway-qr-"));
  const server = spawn(program, ["serve", "--region", build_region(folder), "--listen", "0.0.0.0", "--port", "0"], { stdio: ["ignore", "pipe", "ignore"] });
  let text = "";
  const gone = new Promise((resolve) => server.once("exit", resolve));
  await Promise.race([gone, new Promise((resolve) => server.stdout.on("data", (bytes) => {
    text += bytes;
    const rows = text.split("\n").slice(1, -1);
    if (rows.length > 0 && rows.length * 2 >= rows[0].length) resolve();
  }))]);
  server.kill("SIGTERM");
  await gone;
  rmSync(folder, { recursive: true, force: true });
  const lines = text.split("\n"), code = lines.slice(1, -1);
  assert.match(lines[0], /^http:\/\/[^/]+\/#key=\w+$/);
  assert.equal(read_code(...picture_of(code, 4))?.data, lines[0]);
});
