// SPDX-License-Identifier: Apache-2.0
#include "html_assets.h"

namespace loamway {

std::string_view sheet_style() {
    // Day: black on white. Night: dim amber on black, so that eyes stay used to the dark.
    return R"css(
:root { --ink: #121217; --paper: #ffffff; --soft: #55555c; --rule: #b4b4b8; --panel: #f1efe9; --mark: #121217; --on-mark: #ffffff; }
.night { --ink: #e0a35a; --paper: #000000; --soft: #a87c46; --rule: #4d3a22; --panel: #140f08; --mark: #3a2a14; --on-mark: #e0a35a; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 17px/1.4 system-ui, "DejaVu Sans", sans-serif; -webkit-text-size-adjust: 100%; }
main { max-width: 46rem; margin: 0 auto; padding: 0 .8rem 3rem; }
header.bar { position: sticky; top: 0; z-index: 2; background: var(--mark); color: var(--on-mark); padding: .5rem .8rem; display: flex; gap: .6rem; align-items: center; flex-wrap: wrap; }
header.bar output { flex: 1 1 12rem; font-size: 1.15rem; font-weight: 700; }
button { font: inherit; font-weight: 700; min-height: 44px; padding: 0 .9rem; border: 2px solid currentColor; border-radius: .5rem; background: transparent; color: inherit; }
h1 { font-size: 2.4rem; line-height: 1.1; margin: 1rem 0 .4rem; padding: .5rem .8rem; border: 4px solid var(--ink); border-radius: .6rem; }
h1.no { background: var(--mark); color: var(--on-mark); }
h2 { font-size: 1.1rem; margin: 1.6rem 0 .5rem; border-top: 2px solid var(--ink); padding-top: .4rem; }
section.move + section.move { border-top: 8px double var(--ink); margin-top: 2.5rem; }
.caps { display: flex; gap: .5rem; flex-wrap: wrap; margin: .6rem 0; padding: 0; list-style: none; }
.caps li { flex: 1 1 6.5rem; border: 2px solid var(--ink); border-radius: .5rem; padding: .2rem .6rem; }
.caps b { font-size: 2.1rem; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .1rem .9rem; margin: .8rem 0; }
dt { font-weight: 700; } dd { margin: 0; }
.hindrance { font-weight: 700; }
.pictures { display: flex; flex-wrap: wrap; gap: .6rem; align-items: flex-start; }
.pictures img { max-width: 100%; height: auto; background: #fff; }
.pictures img.map { flex: 1 1 20rem; min-width: 0; width: 60%; }
.night .pictures img { filter: invert(1) hue-rotate(180deg) brightness(.75); }
.stop { border: 2px solid var(--rule); border-radius: .6rem; padding: .6rem .8rem; margin: .7rem 0; }
.stop.next { border-color: var(--ink); border-width: 4px; }
.stop.done { opacity: .55; }
.stop h3 { margin: 0 0 .3rem; font-size: 1.15rem; }
.stop .figures { display: flex; gap: 1.2rem; flex-wrap: wrap; align-items: baseline; }
.stop .figures b { font-size: 1.9rem; }
.caution { font-weight: 700; }
.small { color: var(--soft); font-size: .88rem; }
label.tick { display: flex; gap: .7rem; align-items: flex-start; padding: .35rem 0; min-height: 44px; }
input[type=checkbox] { width: 1.6rem; height: 1.6rem; flex: none; accent-color: var(--ink); }
summary { min-height: 44px; display: flex; align-items: center; font-weight: 700; cursor: pointer; }
table { border-collapse: collapse; width: 100%; }
td { padding: .3rem .5rem .3rem 0; vertical-align: top; border-bottom: 1px solid var(--rule); }
td:first-child { text-align: right; font-weight: 700; white-space: nowrap; font-variant-numeric: tabular-nums; }
a { color: inherit; }
@media print { header.bar { display: none; } }
)css";
}

std::string_view sheet_script() {
    return R"js(
'use strict';
const data = JSON.parse(document.getElementById('data').textContent);
const next = document.getElementById('next');
const keep = {
  get(key) { try { return localStorage.getItem(key); } catch { return null; } },
  set(key, value) { try { localStorage.setItem(key, value); } catch { /* private mode: ticks live as long as the page */ } },
};
const root = document.documentElement;
function night(on) { root.classList.toggle('night', on); keep.set('loamway-night', on ? '1' : '0'); }
const wanted = keep.get('loamway-night');
night(wanted === null ? matchMedia('(prefers-color-scheme: dark)').matches : wanted === '1');
document.getElementById('night').addEventListener('click', () => night(!root.classList.contains('night')));

for (const box of document.querySelectorAll('input[type=checkbox]')) {
  const key = 'loamway-' + data.id + '-' + box.id;
  const show = () => { const stop = box.closest('.stop'); if (stop) stop.classList.toggle('done', box.checked); };
  box.checked = keep.get(key) === '1';
  box.addEventListener('change', () => { keep.set(key, box.checked ? '1' : '0'); show(); });
  show();
}

// The way as [lat, lon, metres so far]. The nearest point of it is where we are; where it comes past twice, the one
// nearest to where we were.
function along(move, lat, lon, before) {
  const east = 111320 * Math.cos(lat * Math.PI / 180), north = 111200;
  let best = null;
  for (let i = 0; i + 1 < move.way.length; ++i) {
    const [aLat, aLon, aAt] = move.way[i], [bLat, bLon, bAt] = move.way[i + 1];
    const ax = (aLon - lon) * east, ay = (aLat - lat) * north;
    const dx = (bLon - aLon) * east, dy = (bLat - aLat) * north;
    const square = dx * dx + dy * dy;
    const f = square > 0 ? Math.min(1, Math.max(0, -(ax * dx + ay * dy) / square)) : 0;
    const off = Math.hypot(ax + f * dx, ay + f * dy);
    const at = aAt + f * (bAt - aAt);
    const doubt = off + (before === null ? 0 : Math.min(200, Math.abs(at - before) / 50));
    if (best === null || doubt < best.doubt) best = { off, at, doubt };
  }
  return best;
}
function length(metres) {
  return (metres / data.unit_m).toFixed(1) + ' ' + data.unit;
}
const before = data.moves.map(() => null);
function show(position) {
  const { latitude, longitude, accuracy } = position.coords;
  let here = null;
  data.moves.forEach((move, i) => {
    const found = along(move, latitude, longitude, before[i]);
    if (found && (here === null || found.off < here.off)) here = { ...found, move, i };
  });
  if (here === null) return;
  if (here.off > Math.max(150, 2 * accuracy)) {
    next.textContent = length(here.off) + ' off the way';
    return;
  }
  before[here.i] = here.at;
  for (const card of document.querySelectorAll('.stop.next')) card.classList.remove('next');
  const stop = here.move.stops.find((s) => s.at > here.at + 20);
  if (stop) {
    next.textContent = length(stop.at - here.at) + ' to ' + stop.name;
    const card = document.getElementById(stop.card);
    if (card) card.classList.add('next');
  } else {
    next.textContent = length(Math.max(0, here.move.end - here.at)) + ' to the end';
  }
}
document.getElementById('where').addEventListener('click', () => {
  if (!('geolocation' in navigator)) { next.textContent = 'This browser gives no position'; return; }
  next.textContent = 'Waiting for a position';
  navigator.geolocation.watchPosition(show, (e) => { next.textContent = 'No position: ' + e.message; },
    { enableHighAccuracy: true, maximumAge: 5000 });
});
)js";
}

}  // namespace loamway
