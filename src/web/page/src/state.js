// SPDX-License-Identifier: Apache-2.0
// What the page knows, and who wants to hear when it changes: "plan", "option", "ask", "units", "corrections".
const listeners = new Map();
export const state = { region: null, machines: [], trailers: [], belts: null, plan: null, before: null, option: null, body: null };

export function on(word, listener) {
  if (!listeners.has(word)) listeners.set(word, []);
  listeners.get(word).push(listener);
}
export function tell(word, value) {
  for (const listener of listeners.get(word) ?? []) listener(value);
}
export const shown_option = () => state.plan?.options.find((option) => option.id === state.option) ?? null;
