// SPDX-License-Identifier: Apache-2.0
import { t } from "./texts.js";

// The map's look. Surfaces differ by line as well as by colour: paved is drawn through, gravel dashed, earth dotted; what is
// only assumed has a pale casing, what is known a dark one.
const day = {
  land: "#f1ece0", wood: "#d3dcc0", field: "#efe7d0", built: "#ddd3c6", water: "#a9c7d3", line_water: "#7fa9ba", rail: "#6f675e", text: "#241f19", halo: "#fbf8f1",
  hard: "#35312c", gravel: "#9a5b12", earth: "#6e4a2c", casing_known: "#a59a8a", casing_assumed: "#fffdf8", way: "#0b6e8a", way_under: "#ffffff", hauled: "#6b3fa0",
  stop: "#2b2620", correction: "#b3261e",
};
const night = {
  land: "#16140f", wood: "#1d2518", field: "#1c1912", built: "#28231c", water: "#17303a", line_water: "#2b5566", rail: "#8d8478", text: "#efe8da", halo: "#16140f",
  hard: "#d8d0c2", gravel: "#e2a04e", earth: "#c99468", casing_known: "#4d463c", casing_assumed: "#25211a", way: "#59c2e0", way_under: "#06222b", hauled: "#c9a5f2",
  stop: "#efe8da", correction: "#ff8a7e",
};
export const palette = (dark) => (dark ? night : day);

const stop_kinds = ["rest area", "services", "parking", "lay-by", "yard", "passing place"];
const dashes = { hard: null, gravel: [2.2, 1.2], earth: [0.5, 1.1] };
const widths = (scale) => ["interpolate", ["exponential", 1.5], ["zoom"],
  7, ["*", scale, ["match", ["get", "rank"], 0, 1.3, 1, 1.1, 2, 0.8, 0.5]],
  12, ["*", scale, ["match", ["get", "rank"], 0, 3, 1, 2.6, 2, 2.2, 3, 1.8, 1.4]],
  17, ["*", scale, ["match", ["get", "rank"], 0, 14, 1, 12, 2, 10, 3, 8, 6]]];

function road_layers(colours) {
  const layers = [];
  for (const known of [false, true]) {
    layers.push({ id: `roads-casing-${known}`, type: "line", source: "region", "source-layer": "roads", filter: ["==", ["get", "known"], known], minzoom: 9,
      layout: { "line-cap": "butt", "line-join": "round" }, paint: { "line-color": known ? colours.casing_known : colours.casing_assumed, "line-width": widths(1.7) } });
  }
  for (const surface of ["earth", "gravel", "hard"]) {
    layers.push({ id: `roads-${surface}`, type: "line", source: "region", "source-layer": "roads", filter: ["==", ["get", "class"], surface],
      layout: { "line-cap": "butt", "line-join": "round", "line-sort-key": ["-", 5, ["get", "rank"]] },
      paint: { "line-color": colours[surface], "line-width": widths(1), ...(dashes[surface] ? { "line-dasharray": dashes[surface] } : {}) } });
  }
  return layers;
}

function way_layers(colours) {
  const line = (id, filter, paint) => ({ id, type: "line", source: "way", filter, layout: { "line-cap": "butt", "line-join": "round" }, paint });
  const layers = [
    line("way-under", true, { "line-color": colours.way_under, "line-width": 12 }),
    line("way-driven", ["==", ["get", "mode"], "drive"], { "line-color": ["case", ["get", "done"], colours.way, colours.correction], "line-width": 9 }),
    line("way-hauled", ["==", ["get", "mode"], "haul"], { "line-color": ["case", ["get", "done"], colours.hauled, colours.correction], "line-width": 9 }),
  ];
  for (const surface of ["hard", "gravel", "earth"]) {
    layers.push(line(`way-${surface}`, ["all", ["==", ["get", "mode"], "drive"], ["==", ["get", "surface"], surface]],
      { "line-color": colours.way_under, "line-width": 3, ...(dashes[surface] ? { "line-dasharray": dashes[surface] } : {}) }));
  }
  return layers;
}

const words = (id, layer, text, more) => ({ id, type: "symbol", source: "region", "source-layer": layer, ...more,
  layout: { "text-field": text, "text-font": ["Page Regular"], ...more.layout }, paint: more.paint });

export function map_style(dark, fonts, origin) {
  const c = palette(dark);
  const faces = (weight) => fonts.filter((font) => font.weight === weight).map((font) => ({ url: origin + font.url, "unicode-range": font.ranges.split(", ") }));
  const fill = (id, kinds, colour) => ({ id, type: "fill", source: "region", "source-layer": "ground", filter: ["in", ["get", "kind"], ["literal", kinds]], paint: { "fill-color": colour } });
  const ink = { "text-color": c.text, "text-halo-color": c.halo, "text-halo-width": 1.8 };
  return {
    version: 8,
    "font-faces": { "Page Regular": faces("400"), "Page Bold": faces("700") },
    sources: {
      region: { type: "vector", tiles: [`${origin}/api/1/tiles/{z}/{x}/{y}.mvt`], minzoom: 0, maxzoom: 15 },
      way: { type: "geojson", data: { type: "FeatureCollection", features: [] } },
      asked: { type: "geojson", data: { type: "FeatureCollection", features: [] } },
    },
    layers: [
      { id: "land", type: "background", paint: { "background-color": c.land } },
      fill("fields", ["field", "farmland", "meadow", "grass"], c.field), fill("woods", ["wood", "forest"], c.wood), fill("built", ["built_up", "residential", "industrial"], c.built), fill("water", ["water"], c.water),
      { id: "water-lines", type: "line", source: "region", "source-layer": "water_lines", paint: { "line-color": c.line_water, "line-width": ["interpolate", ["linear"], ["zoom"], 8, 0.6, 14, 2.5] } },
      ...road_layers(c),
      { id: "rails", type: "line", source: "region", "source-layer": "railways", minzoom: 9, paint: { "line-color": c.rail, "line-width": 1.4 } },
      { id: "rail-ties", type: "line", source: "region", "source-layer": "railways", minzoom: 11, paint: { "line-color": c.rail, "line-width": 6, "line-dasharray": [0.2, 2] } },
      ...way_layers(c),
      { id: "asked-under", type: "line", source: "asked", paint: { "line-color": c.halo, "line-width": 13 } },
      { id: "asked", type: "line", source: "asked", paint: { "line-color": c.correction, "line-width": 7 } },
      { id: "correction-lines", type: "line", source: "region", "source-layer": "corrections", filter: ["==", ["geometry-type"], "LineString"], paint: { "line-color": c.correction, "line-width": 3, "line-dasharray": [1, 1], "line-offset": 7 } },
      { id: "correction-points", type: "circle", source: "region", "source-layer": "corrections", filter: ["all", ["==", ["geometry-type"], "Point"], ["!=", ["get", "kind"], "loading"]], paint: { "circle-radius": 7, "circle-color": c.halo, "circle-stroke-color": c.correction, "circle-stroke-width": 4 } },
      { id: "stop-places", type: "circle", source: "region", "source-layer": "stops", minzoom: 12, paint: { "circle-radius": 5, "circle-color": c.halo, "circle-stroke-color": c.stop, "circle-stroke-width": 2.5 } },
      words("loading-names", "corrections", ["get", "value"], { minzoom: 11, filter: ["==", ["get", "kind"], "loading"], layout: { "text-size": 14, "text-offset": [0, 1.3], "text-anchor": "top" }, paint: ink }),
      words("stop-names", "stops", ["coalesce", ["get", "name"], ["match", ["get", "kind"], ...stop_kinds.flatMap((kind) => [kind, t(`ground_for_${kind}`)]), ""]], { minzoom: 13, layout: { "text-size": 14, "text-offset": [0, 1.1], "text-anchor": "top" }, paint: ink }),
      words("road-names", "roads", ["get", "name"], { minzoom: 12, layout: { "symbol-placement": "line", "text-size": 14, "symbol-spacing": 320 }, paint: ink }),
      { id: "loading-places", type: "symbol", source: "region", "source-layer": "stops", minzoom: 12, filter: ["all", ["get", "loading"], ["any", ["!=", ["get", "kind"], "side way"], [">=", ["zoom"], 14]]],
        layout: { "icon-image": dark ? "loading-night" : "loading-day", "icon-offset": [0, -20], "icon-padding": 0 } },
      { id: "loading-corrections", type: "symbol", source: "region", "source-layer": "corrections", filter: ["all", ["==", ["get", "kind"], "loading"], ["==", ["geometry-type"], "Point"]],
        layout: { "icon-image": dark ? "loading-night-named" : "loading-day-named", "icon-allow-overlap": true } },
      words("place-names", "places", ["get", "name"], { layout: { "text-font": ["Page Bold"], "text-size": ["interpolate", ["linear"], ["zoom"], 7, 13, 13, 18], "symbol-sort-key": ["coalesce", ["get", "rank"], 9], "text-max-width": 8 }, paint: ink }),
    ],
  };
}
