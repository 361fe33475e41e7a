// SPDX-License-Identifier: Apache-2.0
// Figures as people read them: metric or imperial, written as the browser's language writes numbers.
let imperial = false;
let zone = "UTC";
let currency = "CU";
export const use_units = (word) => { imperial = word === "imperial"; };
export const use_zone = (name) => { zone = name; };
export const use_currency = (word) => { currency = word; };
export const is_imperial = () => imperial;

const formats = new Map();
// As the program rounds what it prints: to nearest, and what lies exactly between goes to the even neighbour.
export function rounded(value, digits) {
  const between = Number.isInteger(value * 2 ** (digits + 1)) && Math.abs(value * 2 * 10 ** digits) % 2 === 1;
  if (!between) return Number(value.toFixed(digits)) + 0;
  const below = Math.floor(value * 10 ** digits);
  return (below % 2 === 0 ? below : below + 1) / 10 ** digits + 0;
}
export function number(value, digits = 0) {
  if (value === null || value === undefined || Number.isNaN(value)) return "–";
  if (!formats.has(digits)) formats.set(digits, new Intl.NumberFormat(undefined, { minimumFractionDigits: digits, maximumFractionDigits: digits }));
  return formats.get(digits).format(rounded(value, digits));
}
const absent = (value) => value === null || value === undefined;
const with_unit = (value, unit, digits) => (absent(value) ? "–" : `${number(value, digits)}\u00a0${unit}`);

export const miles = 1609.344;
export const long_unit = () => (imperial ? "mi" : "km");
export const to_long = (m) => (absent(m) ? null : m / (imperial ? miles : 1000));
export const long_unit_m = () => (imperial ? miles : 1000);
export const from_long = (value) => value * (imperial ? miles : 1000);
export const length = (m, digits = 1) => with_unit(to_long(m), long_unit(), digits);
export const short_length = (m) => (imperial ? with_unit(m / 0.3048, "ft", 0) : with_unit(m, "m", 0));
export const size = (m) => (imperial ? with_unit(m / 0.3048, "ft", 1) : with_unit(m, "m", 2));
export const mass = (kg) => (absent(kg) ? "–" : imperial ? with_unit(kg / 0.45359237, "lb", 0) : with_unit(kg / 1000, "t", 1));
export const heat_unit = () => (imperial ? "°F" : "°C");
export const to_heat = (c) => (absent(c) ? null : imperial ? c * 1.8 + 32 : c);
export const from_heat = (value) => (imperial ? (value - 32) / 1.8 : value);
export const heat = (c) => with_unit(to_heat(c), heat_unit(), 0);
// A cap is never rounded up.
export const speed = (kmh) => (absent(kmh) ? "–" : imperial ? with_unit(Math.floor(kmh / 1.609344 + 1e-9), "mph", 0) : with_unit(Math.floor(kmh), "km/h", 0));
export const volume_unit = () => (imperial ? "US gal" : "l");
export const from_volume = (value) => value * (imperial ? 3.785411784 : 1);
export const area_unit = () => (imperial ? "ac" : "ha");
export const from_area = (value) => value * (imperial ? 0.40468564224 : 1);
export const volume = (l) => (absent(l) ? "–" : imperial ? with_unit(l / 3.785411784, "US gal", 0) : with_unit(l, "l", 0));
export const currency_word = () => currency;
export const money = (value, unit) => with_unit(value, unit ?? currency, 0);
export const share = (value, digits = 0) => (absent(value) ? "–" : `${number(value * 100, digits)}\u00a0%`);

export function duration(seconds) {
  if (absent(seconds)) return "–";
  const minutes = Math.round(seconds / 60);
  return minutes < 60 ? `${number(minutes)}\u00a0min` : `${number(Math.floor(minutes / 60))}\u00a0h\u00a0${String(minutes % 60).padStart(2, "0")}`;
}

// The plan's times carry the region's offset: they are read as written, whatever zone the browser is in.
// Rounded to the minute, so that beginning and duration add up to the end.
export function clock(time) {
  if (!time) return "–";
  const [, hours, minutes, seconds] = time.match(/T(\d\d):(\d\d)(?::(\d\d))?/).map(Number);
  const at = (hours * 60 + minutes + (seconds >= 30 ? 1 : 0)) % 1440;
  return `${String(Math.floor(at / 60)).padStart(2, "0")}:${String(at % 60).padStart(2, "0")}`;
}
export function day(time) {
  if (!time) return "–";
  const [year, month, date] = time.slice(0, 10).split("-").map(Number);
  return new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeZone: "UTC" }).format(Date.UTC(year, month - 1, date));
}
// The hour it is now in the region, as a move writes it.
export function now_there() {
  const parts = Object.fromEntries(new Intl.DateTimeFormat("en-GB", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).formatToParts(new Date()).map((part) => [part.type, part.value]));
  return `${parts.year}-${parts.month}-${parts.day}T${parts.hour}:${parts.minute}`;
}
