// SPDX-License-Identifier: Apache-2.0
// An option's line, cut by metres along it.

// From -180 up to 180.
export const wrapped = (lon) => ((lon + 180) % 360 + 360) % 360 - 180;

// Over the date line it goes on beyond 180 degrees instead of round the world.
export function unwrapped(line) {
  let turns = 0;
  return line.map((at, i) => {
    if (i) turns -= Math.round((at[0] - line[i - 1][0]) / 360);
    return turns ? [at[0] + 360 * turns, ...at.slice(1)] : at;
  });
}

const lines = new WeakMap();
export function line_of(option) {
  const line = option.geometry?.coordinates ?? [];
  if (!lines.has(line)) lines.set(line, unwrapped(line));
  return lines.get(line);
}

export function point_at(option, at_m) {
  const where = option.geometry_at_m ?? [], line = line_of(option);
  if (!line.length) return null;
  let i = where.findIndex((m) => m >= at_m);
  if (i < 0) i = line.length - 1;
  if (i === 0) return line[0];
  const span = where[i] - where[i - 1];
  const part = span > 0 ? (at_m - where[i - 1]) / span : 0;
  return [0, 1].map((k) => line[i - 1][k] + Math.min(1, part) * (line[i][k] - line[i - 1][k]));
}

export function slice(option, from_m, to_m) {
  const inner = line_of(option).filter((_, i) => option.geometry_at_m[i] > from_m && option.geometry_at_m[i] < to_m);
  return [point_at(option, from_m), ...inner, point_at(option, to_m)];
}

// Pieces of one surface each, driven or hauled: { from_m, to_m, surface, known, mode }.
export function pieces(option) {
  const all = [];
  let start = 0;
  for (const leg of option.legs ?? []) {
    const end = start + leg.length_m;
    const runs = leg.surface_runs ?? [];
    if (!runs.length) all.push({ from_m: start, to_m: end, surface: "hard", known: true, mode: leg.mode });
    for (const [from_m, to_m, surface, known] of runs) all.push({ from_m, to_m, surface, known, mode: leg.mode });
    start = end;
  }
  return all;
}

export const total_m = (option) => (option.legs ?? []).reduce((sum, leg) => sum + leg.length_m, 0) || (option.length_m ?? 0) + (option.hauled_m ?? 0);

export function bounds(line) {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [lon, lat] of line) {
    box[0] = Math.min(box[0], lon);
    box[1] = Math.min(box[1], lat);
    box[2] = Math.max(box[2], lon);
    box[3] = Math.max(box[3], lat);
  }
  return box;
}
