// SPDX-License-Identifier: Apache-2.0
// The server's API. The token comes in the address after "#", is kept for this tab alone and leaves the address at once.
import { t } from "./texts.js";

const store = "loamway-key";

export function take_token() {
  const parts = new URLSearchParams(location.hash.slice(1));
  const key = parts.get("key");
  if (!key) return;
  parts.delete("key");
  try { sessionStorage.setItem(store, key); } catch { kept = key; }
  kept = key;
  history.replaceState(null, "", parts.size ? `#${parts}` : location.pathname);
}

let kept = null;
export function token() {
  if (kept) return kept;
  try { kept = sessionStorage.getItem(store); } catch { /* no storage here */ }
  return kept;
}

export function set_token(word) {
  kept = word;
  try { sessionStorage.setItem(store, word); } catch { /* no storage here */ }
}

export class ApiError extends Error {
  constructor(status, error) {
    super([error.message, error.what_to_do ? `(${error.what_to_do})` : ""].filter(Boolean).join(" "));
    this.status = status;
    this.kind = error.kind;
    this.item = error.item ?? null;
    this.retry = error.retry ?? null;
  }
}

const headers = (more) => ({ ...(token() ? { Authorization: `Bearer ${token()}` } : {}), ...more });

async function refuse(reply) {
  const text = await reply.text();
  try { return new ApiError(reply.status, JSON.parse(text).error); } catch { return new ApiError(reply.status, { kind: "io", message: t("server_said", { status: reply.status }) }); }
}

async function ask(path, options) {
  let reply;
  try {
    reply = await fetch(`/api/1/${path}`, { ...options, cache: "no-store", credentials: "omit" });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new ApiError(0, { kind: "away", message: t("server_away") });
  }
  if (!reply.ok) throw await refuse(reply);
  return reply;
}

export const get = async (path, signal) => (await ask(path, { headers: headers({}), signal })).json();
const post_raw = (path, body, more, signal) =>
  ask(path, { method: "POST", headers: headers({ "Content-Type": "application/json", ...more }), body: JSON.stringify(body), signal });
export const post = async (path, body, signal) => (await post_raw(path, body, {}, signal)).json();
export const remove = async (path) => (await ask(path, { method: "DELETE", headers: headers({}) })).json();

export async function file(path, body) {
  const reply = body === undefined ? await ask(path, { headers: headers({}) }) : await post_raw(path, body, {});
  const name = /filename="?([^";]+)"?/.exec(reply.headers.get("Content-Disposition") ?? "")?.[1];
  return { blob: await reply.blob(), name: name ?? null };
}

// The plan comes as lines: progress, then the plan or what is wrong. Aborting closes the connection, which ends the work there.
export async function plan(move, on_progress, signal) {
  const reply = await post_raw("plan", move, { Accept: "application/x-ndjson" }, signal);
  const reader = reply.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { value, done } = await reader.read();
    rest += value ?? "";
    const lines = rest.split("\n");
    rest = done ? "" : lines.pop();
    for (const line of lines.filter((each) => each.trim())) {
      const said = JSON.parse(line);
      if (said.error) throw new ApiError(reply.status, said.error);
      if (said.plan) return said.plan;
      if (said.progress) on_progress(said.progress);
    }
    if (done) throw new ApiError(reply.status, { kind: "away", message: t("server_cut") });
  }
}
