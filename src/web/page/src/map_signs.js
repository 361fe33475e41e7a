// SPDX-License-Identifier: Apache-2.0
// Signs of the map, told apart by their form: a stop place is a ring, a loading place a square with a ramp up to a deck.
import { s } from "./dom.js";
import { palette } from "./map_style.js";

const ramp = "M3 19 L10 9 H21";
const wheels = [[13, 14], [18, 14]];
const side = 24;

const sign = (...shapes) => s("svg", { class: "map-sign", viewBox: `0 0 ${side} ${side}`, "aria-hidden": "true" }, shapes);
export const stop_sign = () => sign(s("circle", { cx: 12, cy: 12, r: 6, fill: "var(--card)", stroke: "var(--ink)", "stroke-width": 3 }));
export const correction_sign = () => sign(s("circle", { cx: 12, cy: 12, r: 8, fill: "var(--card)", stroke: "var(--warn)", "stroke-width": 4 }));
export const loading_sign = (named) => sign(
  s("rect", { x: 1.5, y: 1.5, width: 21, height: 21, rx: 3, fill: "var(--haul)", stroke: named ? "var(--warn)" : "var(--card)", "stroke-width": named ? 3 : 1 }),
  s("path", { d: ramp, fill: "none", stroke: "var(--card)", "stroke-width": 2.6 }), wheels.map(([cx, cy]) => s("circle", { cx, cy, r: 2, fill: "var(--card)" })));

// The pictures a style names: "loading-day", "loading-night-named" ...
export function add_signs(map) {
  for (const time of ["day", "night"]) for (const end of ["", "-named"]) add_sign(map, `loading-${time}${end}`);
}

function add_sign(map, id) {
  if (map.hasImage(id)) return;
  const colours = palette(id.includes("night")), named = id.endsWith("-named"), scale = 2;
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = side * scale;
  const c = canvas.getContext("2d");
  c.scale(scale, scale);
  c.beginPath();
  c.roundRect(1.5, 1.5, 21, 21, 3);
  c.fillStyle = colours.hauled;
  c.fill();
  c.lineWidth = named ? 3 : 1.5;
  c.strokeStyle = named ? colours.correction : colours.halo;
  c.stroke();
  c.lineWidth = 2.6;
  c.strokeStyle = c.fillStyle = colours.halo;
  c.stroke(new Path2D(ramp));
  for (const [x, y] of wheels) {
    c.beginPath();
    c.arc(x, y, 2, 0, 2 * Math.PI);
    c.fill();
  }
  map.addImage(id, c.getImageData(0, 0, side * scale, side * scale), { pixelRatio: scale });
}
