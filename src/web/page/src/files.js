// SPDX-License-Identifier: Apache-2.0
// Sheets and files, a button each, and the loading plan.
import { h, list, section, say, hand_over } from "./dom.js";
import { t } from "./texts.js";
import { state, shown_option } from "./state.js";
import { file, post } from "./api.js";
import { size, mass, number } from "./units.js";
import { move_body } from "./form.js";

const sheets = [["sheet?format=pdf&for=cab", "file_cab", "stops.pdf"], ["sheet?format=html&for=cab", "file_phone", "stops.html"], ["sheet?format=pdf&for=low-bed", "file_low_bed", "low-bed.pdf"], ["sheet?format=pdf&for=escort", "file_escort", "escort.pdf"]];
const tracks = ["gpx", "geojson", "gpkg", "kml", "csv"].map((format) => [`export?format=${format}`, `file_${format}`, `move.${format}`]);

// A button that fetches a file, says so, and shows beside itself what went wrong.
export function file_button(path_of, text, name, body_of) {
  const note = h("span", { class: "fault", role: "alert" });
  const button = h("button", { type: "button", onclick: async () => {
    note.textContent = "";
    button.setAttribute("aria-busy", "true");
    try {
      const got = await file(path_of(), body_of());
      hand_over(got.blob, got.name ?? name);
      say(t("file_ready", { name: got.name ?? name }));
    } catch (error) { note.textContent = error.message; }
    button.removeAttribute("aria-busy");
  } }, text);
  return h("div", { class: "file" }, button, note);
}

export function files_card() {
  const one = ([path, text, name]) => file_button(() => `${path}&option=${encodeURIComponent(state.option)}`, t(text), name, () => ({ plan: state.plan, ...(path.includes("low-bed") ? { move: state.body } : {}) }));
  const hauled = ["haul", "mixed"].includes(shown_option()?.mode);
  return section("files", t("files"), shown_option()?.feasible === false ? h("p", { class: "fault" }, t("file_not_done")) : h("p", { class: "hint" }, t("files_hint")), h("div", { class: "buttons" }, sheets.filter(([path]) => hauled || !path.includes("low-bed")).map(one)), h("h3", {}, t("tracks")), h("div", { class: "buttons" }, tracks.map(one)),
    h("div", { class: "buttons" }, copy_button()));
}

function copy_button() {
  const button = h("button", { type: "button", class: "quiet", onclick: async () => {
    try {
      await navigator.clipboard.writeText(location.href);
      say(t("address_copied"));
      button.textContent = t("address_copied");
    } catch { say(t("address_not_copied")); button.textContent = t("address_not_copied"); }
  } }, t("copy_address"));
  return button;
}

export function loading_card() {
  const body = () => {
    const { machine, state: working, trailer, conditions, units } = move_body();
    return { machine, units, ...(working ? { state: working } : {}), ...(trailer ? { trailer } : {}), ...(conditions.ground ? { conditions: { ground: conditions.ground } } : {}) };
  };
  const place = h("div", {});
  const button = h("button", { type: "button", onclick: async () => {
    button.disabled = true;
    try {
      const [plan, picture] = await Promise.all([post("load", body()), file("load?format=svg", body())]);
      place.replaceChildren(...loading(plan, picture.blob));
      button.remove();
      say(t("loading_ready"));
    } catch (error) {
      place.replaceChildren(h("p", { class: "fault", role: "alert" }, error.message));
      button.disabled = false;
    }
  } }, t("loading_show"));
  return section("loading", t("loading"), h("p", { class: "hint" }, t("loading_intro")), button, place, h("div", { class: "buttons" }, file_button(() => "load?format=pdf", t("loading_pdf"), "loading.pdf", body)));
}

function loading(plan, picture) {
  const pair = (name, value) => h("div", {}, h("dt", {}, t(name)), h("dd", {}, value));
  const loaded = plan.loaded ?? {};
  return [
    h("p", { class: "sentence small" }, t(plan.can_be_done ? (plan.findings?.length ? "loading_look" : "loading_can") : "loading_cannot", { n: plan.findings?.length ?? 0 })),
    plan.findings?.length ? h("ul", { class: "flags" }, plan.findings.map((each) => h("li", { class: each.severity }, h("b", {}, t(`severity_${each.severity}`)), h("span", {}, each.text)))) : null,
    h("img", { class: "drawing", alt: t("loading_drawing", { machine: plan.machine, low_bed: plan.low_bed }), src: URL.createObjectURL(picture) }),
    h("dl", { class: "figures" }, pair("loaded_height", size(loaded.height_m)), pair("loaded_width", size(loaded.width_m)), pair("loaded_length", size(loaded.length_m)), pair("loaded_mass", mass(loaded.mass_kg)), plan.ramp ? pair("ramp_slope", `${number(plan.ramp.slope_deg, 1)}°`) : null),
    plan.steps?.length ? [h("h3", {}, t("in_this_order")), h("ol", {}, plan.steps.map((step) => h("li", {}, step)))] : null,
    plan.edges?.length ? [h("h3", {}, t("round_or_cover")), list(plan.edges)] : null,
    plan.assumed?.length ? [h("h3", {}, t("assumed")), list(plan.assumed)] : null,
    plan.cautions?.length ? h("div", { class: "caution" }, list(plan.cautions)) : null,
  ].flat(3).filter(Boolean);
}
