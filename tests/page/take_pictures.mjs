// SPDX-License-Identifier: Apache-2.0
// For scripts/pictures: the page in a browser with the demo move planned, and pictures made small enough to keep.
//   take_pictures.mjs FOLDER [PICTURE.png ...]    writes FOLDER/page.png, then FOLDER/NAME.png for each picture named
import { readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { deflateSync, inflateSync } from "node:zlib";
import { open_yard, open_page, planned } from "./yard.mjs";

const colours = 64;

// The pixels of a PNG as our two drawers write it: 8 bits a channel, RGB or RGBA, not interlaced.
function pixels(file) {
  const chunks = [];
  let width = 0, height = 0, depth = 3;
  for (let at = 8; at < file.length; at += 12 + file.readUInt32BE(at)) {
    const type = file.toString("latin1", at + 4, at + 8), data = file.subarray(at + 8, at + 8 + file.readUInt32BE(at));
    if (type === "IHDR") [width, height, depth] = [data.readUInt32BE(0), data.readUInt32BE(4), data[9] === 6 ? 4 : 3];
    if (type === "IDAT") chunks.push(data);
  }
  const raw = inflateSync(Buffer.concat(chunks)), row = width * depth, out = new Uint8Array(height * row);
  const paeth = (a, b, c) => { const [pa, pb, pc] = [Math.abs(b - c), Math.abs(a - c), Math.abs(a + b - 2 * c)]; return pa <= pb && pa <= pc ? a : pb <= pc ? b : c; };
  for (let y = 0; y < height; y++) {
    const filter = raw[y * (row + 1)];
    for (let x = 0; x < row; x++) {
      const a = x < depth ? 0 : out[y * row + x - depth], b = y ? out[(y - 1) * row + x] : 0, c = y && x >= depth ? out[(y - 1) * row + x - depth] : 0;
      out[y * row + x] = raw[y * (row + 1) + 1 + x] + [0, a, b, (a + b) >> 1, paeth(a, b, c)][filter];
    }
  }
  return { width, height, depth, out };
}

// The commonest colours, each at least so far from those before it, so that letters do not use the palette up.
function palette_of({ depth, out }) {
  const seen = new Map();
  for (let i = 0; i < out.length; i += depth) {
    const key = (out[i] << 16) | (out[i + 1] << 8) | out[i + 2];
    seen.set(key, (seen.get(key) ?? 0) + 1);
  }
  const common = [...seen].sort((a, b) => b[1] - a[1] || a[0] - b[0]).map(([key]) => key), palette = [];
  for (const apart of [20, 10, 0])
    for (const key of common) if (palette.length < colours && palette.every((each) => distance(each, key) > apart * apart)) palette.push(key);
  return palette;
}

const distance = (a, b) => ((a >> 16) - (b >> 16)) ** 2 + (((a >> 8) & 255) - ((b >> 8) & 255)) ** 2 + ((a & 255) - (b & 255)) ** 2;

// The check sum of a PNG's chunks; Node.js has one of its own only from version 20.15 on.
function crc32(bytes) {
  let sum = -1;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
  }
  return ~sum >>> 0;
}

// With a palette of the commonest colours a picture of letters and lines takes a third of the bytes.
function small(file) {
  const picture = pixels(file), palette = palette_of(picture), nearest = new Map();
  const { width, height, depth, out } = picture, rows = Buffer.alloc(height * (width + 1));
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i += depth) {
      const key = (out[i] << 16) | (out[i + 1] << 8) | out[i + 2];
      if (!nearest.has(key)) nearest.set(key, palette.reduce((best, each, index) => (distance(each, key) < distance(palette[best], key) ? index : best), 0));
      rows[y * (width + 1) + 1 + x] = nearest.get(key);
    }
  const chunk = (type, data) => {
    const body = Buffer.concat([Buffer.from(type, "latin1"), data]), size = Buffer.alloc(4), sum = Buffer.alloc(4);
    size.writeUInt32BE(data.length);
    sum.writeUInt32BE(crc32(body));
    return Buffer.concat([size, body, sum]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width);
  head.writeUInt32BE(height, 4);
  head.set([8, 3], 8);
  return Buffer.concat([file.subarray(0, 8), chunk("IHDR", head), chunk("PLTE", Buffer.from(palette.flatMap((key) => [key >> 16, (key >> 8) & 255, key & 255]))),
    chunk("IDAT", deflateSync(rows, { level: 9 })), chunk("IEND", Buffer.alloc(0))]);
}

async function page_picture() {
  const yard = await open_yard();
  try {
    const move = new URLSearchParams({ from: "Nettle Farm yard", to: "Long Forty", machine: "red", state: "mounted implement", air: 31, depart: "2026-07-14T13:00" });
    const page = await open_page({ ...yard, address: `${yard.address}#${move}` }, { viewport: { width: 1400, height: 1180 } });
    console.error(await planned(page));
    // The map has drawn the way when nothing has changed on it for a while.
    await page.waitForTimeout(5000);
    await page.locator("#verdict").evaluate((card) => scrollTo(0, card.offsetTop - 12));
    return await page.screenshot();
  } finally {
    await yard.close();
  }
}

const [folder, ...others] = process.argv.slice(2);
writeFileSync(join(folder, "page.png"), small(await page_picture()));
for (const file of others) writeFileSync(join(folder, basename(file)), small(readFileSync(file)));
