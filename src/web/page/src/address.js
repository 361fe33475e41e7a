// SPDX-License-Identifier: Apache-2.0
// The address holds the move (after "#": it never reaches the server), so that it can be loaded again or handed on.
const keys = ["from", "to", "machine", "state", "belts", "air", "trailer", "depart", "when", "ground", "cloud", "since", "hours", "basis", "detour", "return", "modes", "haul_from", "loading", "units", "front"];

export function read_address() {
  const parts = new URLSearchParams(location.hash.slice(1));
  return Object.fromEntries(keys.filter((key) => parts.has(key)).map((key) => [key, parts.get(key)]));
}

export function write_address(answers) {
  const parts = new URLSearchParams();
  for (const key of keys) {
    const value = answers[key];
    if (value !== undefined && value !== null && value !== "" && value !== false) parts.set(key, String(value));
  }
  history.replaceState(null, "", parts.size ? `#${parts}` : location.pathname);
}
