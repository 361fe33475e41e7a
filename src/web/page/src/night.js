// SPDX-License-Identifier: Apache-2.0
// Day or night: as the device says, until somebody chooses.
import { tell } from "./state.js";

const system = matchMedia("(prefers-color-scheme: dark)");
let chosen = null;
try { chosen = localStorage.getItem("loamway-night"); } catch { /* no storage here */ }

export const dark_now = () => (chosen === null ? system.matches : chosen === "1");
export function apply_night() { document.documentElement.dataset.night = dark_now() ? "1" : "0"; }
export function turn_night() {
  chosen = dark_now() ? "0" : "1";
  try { localStorage.setItem("loamway-night", chosen); } catch { /* no storage here */ }
  apply_night();
  tell("night", dark_now());
}
system.addEventListener("change", () => { apply_night(); tell("night", dark_now()); });
