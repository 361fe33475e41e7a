// SPDX-License-Identifier: Apache-2.0
// An option's line over the date line goes on beyond 180 degrees: it was drawn right across the map, and the
// map showed the whole world.
import { test } from "node:test";
import assert from "node:assert/strict";
import { bounds, line_of, point_at, slice, unwrapped, wrapped } from "../../src/web/page/src/way.js";

const option = { geometry_at_m: [0, 100, 200, 300], geometry: { coordinates: [[179.9, -16], [179.98, -16], [-179.98, -16.1], [-179.9, -16]] } };

test("over the date line and back", () => {
  const near = (a, b) => a.forEach((each, i) => each.forEach((lon, k) => assert.ok(Math.abs(lon - b[i][k]) < 1e-9, `${a} is not ${b}`)));
  near(line_of(option), [[179.9, -16], [179.98, -16], [180.02, -16.1], [180.1, -16]]);
  near(unwrapped([[-179.9, 1], [179.9, 1], [-179.8, 1], [-170, 1]]), [[-179.9, 1], [-180.1, 1], [-179.8, 1], [-170, 1]]);
  near(unwrapped([[13, 53], [14, 53]]), [[13, 53], [14, 53]]);
  near([point_at(option, 150)], [[180, -16.05]]);
  near(slice(option, 150, 250), [[180, -16.05], [180.02, -16.1], [180.06, -16.05]]);
  near([bounds(line_of(option))], [[179.9, -16.1, 180.1, -16]]);
  assert.deepEqual(line_of({}), []);
});

test("longitudes from -180 up to 180", () => {
  for (const [lon, is] of [[0, 0], [180, -180], [-180, -180], [190, -170], [-190, 170], [539, 179], [-541, 179]]) assert.equal(wrapped(lon), is);
});
