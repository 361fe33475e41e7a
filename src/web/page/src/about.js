// SPDX-License-Identifier: Apache-2.0
// What this is, what it stands on, and its licences.
import { h, section } from "./dom.js";
import { t } from "./texts.js";
import { state } from "./state.js";
import { number } from "./units.js";

export function build_about() {
  const { region } = state;
  const known = ["hard", "gravel", "earth"].map((word) => region.km?.[word]).filter(Boolean);
  const sum = (key) => known.reduce((all, each) => all + (each[key] ?? 0), 0);
  const pair = (name, value) => (value ? h("div", {}, h("dt", {}, t(name)), h("dd", {}, value)) : null);
  const licences = h("pre", { tabindex: "0", hidden: true });
  const button = h("button", { type: "button", class: "quiet", onclick: async () => {
    licences.textContent = await (await fetch(LOAMWAY_ASSETS.licences)).text();
    licences.hidden = false;
    button.remove();
    licences.focus();
  } }, t("licences"));
  return section("about", t("about"), h("p", {}, t("about_text")), h("dl", { class: "pairs" }, pair("about_region", region.name), pair("about_date", region.map_date?.slice(0, 10)), pair("about_zone", region.time_zone), pair("about_roads", t("about_km", { known: number(sum("known")), assumed: number(sum("assumed")) })),
    pair("about_heights", t(region.elevation ? "yes" : "no_flat")), pair("about_map", region.attribution), pair("about_version", region.loamway_version)), h("p", {}, t("about_licence")), button, licences);
}
