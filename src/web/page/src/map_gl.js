// SPDX-License-Identifier: Apache-2.0
// The map with WebGL2: vector tiles of the region, drawn by MapLibre GL JS.
import { h } from "./dom.js";
import { t } from "./texts.js";
import { token } from "./api.js";
import { map_style } from "./map_style.js";
import { pieces, slice, bounds, line_of, unwrapped } from "./way.js";
import { length, is_imperial } from "./units.js";
import { add_signs } from "./map_signs.js";

const assets = LOAMWAY_ASSETS;
const calm = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
const collection = (features) => ({ type: "FeatureCollection", features });

export async function gl_map(holder, region, { on_tap, on_stop, dark }) {
  const lib = await import(assets.map);
  lib.setWorkerUrl(location.origin + assets.worker);
  const style = (night) => map_style(night, assets.fonts, location.origin);
  const map = new lib.Map({
    container: holder, style: style(dark), bounds: region.bounds, fitBoundsOptions: { padding: 20 }, attributionControl: false, maxZoom: 18,
    dragRotate: false, pitchWithRotate: false, touchPitch: false, fadeDuration: calm() ? 0 : 200,
    transformRequest: (url) => (token() && url.startsWith(`${location.origin}/api/`) ? { url, headers: { Authorization: `Bearer ${token()}` } } : { url }),
    locale: { "NavigationControl.ZoomIn": t("zoom_in"), "NavigationControl.ZoomOut": t("zoom_out"), "Map.Title": t("map") },
  });
  map.touchZoomRotate.disableRotation();
  map.addControl(new lib.NavigationControl({ showCompass: false }), "top-right");
  const scale = new lib.ScaleControl({ unit: is_imperial() ? "imperial" : "metric" });
  map.addControl(scale, "bottom-left");
  const plain = (point) => ({ lat: point.lat, lon: point.wrap().lng });
  map.on("click", (event) => on_tap(plain(event.lngLat)));
  let way = collection([]), asked = collection([]), markers = [], pointer = null;
  const ready = new Promise((resolve) => map.once("style.load", resolve));
  const put = () => {
    map.getSource("way")?.setData(way);
    map.getSource("asked")?.setData(asked);
  };
  map.on("style.load", () => { add_signs(map); put(); });
  // For whoever measures: when every tile of the first view was drawn.
  map.once("idle", () => performance.mark("map-complete"));

  function marker(element, point, more) {
    return new lib.Marker({ element, ...more }).setLngLat(point).addTo(map);
  }
  return {
    ready,
    idle: () => new Promise((resolve) => map.once("idle", resolve)),
    centre: () => plain(map.getCenter()),
    focus: () => map.getCanvas().focus(),
    keys: (on_enter) => map.getCanvas().addEventListener("keydown", (event) => { if (event.key === "Enter") on_enter(); }),
    show(plan, option) {
      for (const each of markers) each.remove();
      markers = [];
      way = collection(option ? pieces(option).map((piece) => ({ type: "Feature", properties: { surface: piece.surface, known: piece.known, mode: piece.mode, done: option.feasible }, geometry: { type: "LineString", coordinates: slice(option, piece.from_m, piece.to_m) } })) : []);
      put();
      if (!option) return;
      for (const [word, place] of [["start", plan.move.from], ["goal", plan.move.to]]) {
        markers.push(marker(h("span", { class: `pin ${word}`, role: "img", "aria-label": `${t(word)}: ${place.name}` }, t(`${word}_letter`)), [place.road_lon ?? place.lon, place.road_lat ?? place.lat]));
      }
      (option.stops ?? []).forEach((stop, i) => {
        // What is done before leaving is done where A stands.
        if (stop.kind === "start") return;
        const element = h("button", { type: "button", class: `pin ${stop.kind}`, "aria-label": t("stop_on_map", { n: i + 1, kind: t(`stop_${stop.kind}`), at: length(stop.at_m) }), onclick: (event) => { event.stopPropagation(); on_stop(i, true); }, onmouseenter: () => on_stop(i, false), onfocus: () => on_stop(i, false) }, String(i + 1));
        markers.push(marker(element, [stop.lon, stop.lat]));
      });
      const line = line_of(option);
      if (line.length) map.fitBounds(bounds(line), { padding: 50, animate: !calm(), maxZoom: 15 });
    },
    point(spot, move) {
      pointer?.remove();
      pointer = null;
      if (!spot) return;
      pointer = marker(h("span", { class: "spot", "aria-hidden": "true" }), spot);
      if (move && !map.getBounds().contains(spot)) map.easeTo({ center: spot, animate: !calm() });
    },
    go_to(spot, zoom) { map.easeTo({ center: spot, zoom: Math.max(map.getZoom(), zoom ?? 13), animate: !calm() }); },
    ask(geometry) {
      const shown = geometry?.type === "LineString" ? { ...geometry, coordinates: unwrapped(geometry.coordinates) } : geometry;
      asked = collection(geometry ? [{ type: "Feature", properties: {}, geometry: shown }] : []);
      put();
    },
    night(on) { map.setStyle(style(on)); },
    refresh() {
      const source = map.getSource("region");
      source?.setTiles([`${location.origin}/api/1/tiles/{z}/{x}/{y}.mvt?v=${Date.now()}`]);
    },
    units() { scale.setUnit(is_imperial() ? "imperial" : "metric"); },
    resize() { map.resize(); },
  };
}
