// SPDX-License-Identifier: Apache-2.0
// The map without WebGL2: the server draws it, buttons move it.
import { h } from "./dom.js";
import { t } from "./texts.js";
import { file, get } from "./api.js";
import { bounds, line_of, wrapped } from "./way.js";
import { stop_sign, loading_sign } from "./map_signs.js";

export async function picture_map(holder, region, { on_tap, on_stop, dark }) {
  let box = [...region.bounds], now = null, night = dark, wanted = 0, spot = null;
  const image = h("img", { alt: t("map_drawn"), class: "drawn" });
  const dot = h("span", { class: "spot", "aria-hidden": "true", hidden: true });
  const pins = h("div", { class: "pins" }), signs = h("div", { class: "signs", "aria-hidden": "true" });
  const button = (word, act) => h("button", { type: "button", class: "quiet", "aria-label": t(word), title: t(word), onclick: act }, t(`${word}_sign`));
  const frame = h("div", { class: "frame", tabindex: "0", role: "application", "aria-label": t("map") }, image, signs, pins, dot);
  holder.replaceChildren(frame, h("div", { class: "map-buttons" }, button("zoom_in", () => zoom(0.5)), button("zoom_out", () => zoom(2)), button("map_left", () => pan(-0.4, 0)),
    button("map_right", () => pan(0.4, 0)), button("map_up", () => pan(0, 0.4)), button("map_down", () => pan(0, -0.4))));

  const size = () => [Math.max(200, Math.round(frame.clientWidth)), Math.max(200, Math.round(frame.clientHeight))];
  // The box takes the shape of the frame: one degree of latitude is as long on the picture as it is on the ground.
  // It holds the world once at most; over the date line its east lies beyond 180 degrees.
  function shaped(from) {
    const [width, height] = size();
    const lat = Math.min(87, Math.max(-87, (from[1] + from[3]) / 2));
    const shrink = Math.cos(lat * Math.PI / 180);
    const per_pixel = Math.min(Math.max((from[2] - from[0]) * shrink / width, (from[3] - from[1]) / height), 359 * shrink / width, 170 / height);
    const half = [per_pixel * width / 2 / shrink, per_pixel * height / 2];
    const west = wrapped((from[0] + from[2]) / 2 - half[0]), middle = Math.min(90 - half[1], Math.max(half[1] - 90, lat));
    return [west, middle - half[1], west + 2 * half[0], middle + half[1]];
  }
  const place = (lon, lat) => [(wrapped(lon - box[0] - 180) + 180) / (box[2] - box[0]) * 100, (box[3] - lat) / (box[3] - box[1]) * 100];
  function put(element, lon, lat) {
    const [x, y] = place(lon, lat);
    element.hidden = x < 0 || x > 100 || y < 0 || y > 100;
    element.style.left = `${x}%`;
    element.style.top = `${y}%`;
  }
  function put_pins() {
    pins.replaceChildren(...(now?.option?.stops ?? []).map((stop, i) => {
      const pin = h("button", { type: "button", class: `pin ${stop.kind}`, "aria-label": t("stop_on_map", { n: i + 1, kind: t(`stop_${stop.kind}`), at: "" }), onclick: (event) => { event.stopPropagation(); on_stop(i, true); } }, String(i + 1));
      put(pin, stop.lon, stop.lat);
      return pin;
    }));
    if (spot) put(dot, spot[0], spot[1]);
    else dot.hidden = true;
  }
  // Where one can stop and where a low-bed can load, from as close as the other map shows them.
  async function put_signs(mine) {
    const wide = box[2] - box[0], found = [];
    if (wide < 0.12) {
      const { places } = await get(`stop-places?bbox=${box.map((each) => each.toFixed(6)).join(",")}`);
      for (const place of places) if (place.kind !== "side way" || wide < 0.04) found.push([place.loading ? loading_sign(false) : stop_sign(), place.lon, place.lat]);
    }
    const { features } = await get("corrections");
    for (const { properties, geometry } of features) if (properties.kind === "loading" && properties.in_force) found.push([loading_sign(true), ...geometry.coordinates]);
    if (mine !== wanted) return;
    signs.replaceChildren(...found.map(([sign, lon, lat]) => {
      const holder = h("span", { class: "on-map" }, sign);
      put(holder, lon, lat);
      return holder;
    }));
  }
  async function draw() {
    const mine = ++wanted;
    box = shaped(box);
    const [width, height] = size();
    const path = `map.png?bbox=${box.map((each) => each.toFixed(6)).join(",")}&width=${width}&height=${height}&night=${night ? 1 : 0}`;
    try {
      const { blob } = await file(path, now ? { plan: now.plan, option: now.option.id } : undefined);
      if (mine !== wanted) return;
      if (image.src) URL.revokeObjectURL(image.src);
      image.src = URL.createObjectURL(blob);
      put_pins();
      await put_signs(mine);
    } catch { image.alt = t("map_missing"); }
  }
  function zoom(factor) {
    const middle = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    const half = [(box[2] - box[0]) / 2 * factor, (box[3] - box[1]) / 2 * factor];
    box = [middle[0] - half[0], middle[1] - half[1], middle[0] + half[0], middle[1] + half[1]];
    draw();
  }
  function pan(x, y) {
    const by = [(box[2] - box[0]) * x, (box[3] - box[1]) * y];
    box = [box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]];
    draw();
  }
  frame.addEventListener("click", (event) => {
    const rect = frame.getBoundingClientRect();
    on_tap({ lon: wrapped(box[0] + (event.clientX - rect.left) / rect.width * (box[2] - box[0])), lat: box[3] - (event.clientY - rect.top) / rect.height * (box[3] - box[1]) });
  });
  frame.addEventListener("keydown", (event) => {
    const act = { ArrowLeft: () => pan(-0.2, 0), ArrowRight: () => pan(0.2, 0), ArrowUp: () => pan(0, 0.2), ArrowDown: () => pan(0, -0.2), "+": () => zoom(0.5), "-": () => zoom(2) }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
  draw();
  return {
    ready: Promise.resolve(),
    idle: () => Promise.resolve(),
    centre: () => ({ lon: wrapped((box[0] + box[2]) / 2), lat: (box[1] + box[3]) / 2 }),
    focus: () => frame.focus(),
    keys: (on_enter) => frame.addEventListener("keydown", (event) => { if (event.key === "Enter" && event.target === frame) on_enter(); }),
    show(plan, option) {
      now = option ? { plan, option } : null;
      const line = option ? line_of(option) : [];
      if (line.length) {
        const [west, south, east, north] = bounds(line);
        const grow = [(east - west) * 0.08 + 0.002, (north - south) * 0.08 + 0.002];
        box = [west - grow[0], south - grow[1], east + grow[0], north + grow[1]];
      }
      draw();
    },
    point(at) { spot = at; put_pins(); },
    go_to(at) {
      const half = [(box[2] - box[0]) / 4, (box[3] - box[1]) / 4];
      box = [at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1]];
      draw();
    },
    ask(geometry) { if (geometry) { spot = geometry.coordinates[Math.floor(geometry.coordinates.length / 2)]; put_pins(); } },
    night(on) { night = on; draw(); },
    units: draw,
    refresh: draw,
    resize: draw,
  };
}
