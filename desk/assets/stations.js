// The joint where it is read: each thermocouple by name over its place, to press; below, their readings along the pipe.

import { along, dashOf, degreeTicks, make, shownLength, shownTemperature } from "./drawing.js";
import { heatColor } from "./heat.js";
import { shorts, spread } from "./lines.js";

const [ROW, COLUMN, MOST_ROWS] = [15, 22, 3];
// Readings closer together than this fill no panel, in K.
const SMALLEST_SPAN = 24;

// Thermocouples by place, those of the outside and those of the bore.
export const placesOf = (drawing) => {
  const places = new Map();
  const named = shorts(drawing.thermocouples.map((one) => one.name));
  drawing.thermocouples.forEach((one, index) => {
    const key = `${one.bore} ${Math.round(one.axial)}`;
    if (!places.has(key)) places.set(key, { axial: one.axial, bore: one.bore, all: [] });
    places.get(key).all.push({ ...one, short: named[index] });
  });
  return [...places.values()].sort((a, b) => a.axial - b.axial);
};

const rowsOf = (places, bore) => Math.min(MOST_ROWS, Math.max(0, ...places.filter((one) => one.bore === bore).map((one) => one.all.length)));

// The names of a place in columns of a few.
const columnsOf = (place) => {
  const count = Math.ceil(place.all.length / MOST_ROWS);
  const rows = Math.ceil(place.all.length / count);
  return Array.from({ length: count }, (_, i) => ({ place, all: place.all.slice(i * rows, (i + 1) * rows), by: i - (count - 1) / 2 }));
};

// Room for names above and below.
export const roomOf = (places) => [false, true].map((bore) => rowsOf(places, bore) && ROW * rowsOf(places, bore) + (bore ? 16 : 10));

const wordsOf = (one, us) => {
  const side = Math.round(one.axial) === 0 ? "at the weld center" : `${shownLength(one.axial, us)} from the weld center`;
  return `${one.name}, ${one.told_as}, ${one.bore ? "in the bore" : "outside"}, ${side.replace("-", "−")}, ${one.clock} o’clock${one.fitted ? "" : ", predicted only"}`;
};

// `shown`: { front, values, known }. The pressed name is told to `press`.
export const drawStations = (view, drawing, shown, places, press) => {
  const group = make("g", { class: "stations", role: "toolbar", "aria-label": "Thermocouples on the joint: the arrow keys go from one to the next, Enter brings its line forward" });
  for (const bore of [false, true]) {
    const rows = rowsOf(places, bore);
    if (rows) group.append(make("rect", { x: 0, y: bore ? view.floor : view.roof - 10 - rows * ROW, width: view.width, height: rows * ROW + 16, class: "touched" }));
    const here = places.filter((one) => one.bore === bore && one.axial >= view.from && one.axial <= view.to);
    const columns = here.flatMap(columnsOf);
    const middles = spread(columns.map(({ place, by }) => view.x(place.axial) + by * COLUMN), 10, view.width - 10, COLUMN);
    for (const place of here) group.append(drawMark(view, drawing, shown, place));
    columns.forEach((column, index) => group.append(...drawColumn(view, drawing, shown, column, middles[index])));
  }
  const buttons = [...group.querySelectorAll("[role=button]")];
  const first = buttons.find((one) => one.getAttribute("aria-pressed") === "true") ?? buttons[0];
  first?.setAttribute("tabindex", "0");
  // A finger is broader than a name: the nearest one is meant.
  group.addEventListener("click", (event) => {
    const own = event.target.closest("[data-station]");
    const far = (one) => {
      const box = one.getBoundingClientRect();
      return Math.hypot((box.left + box.right) / 2 - event.clientX, (box.top + box.bottom) / 2 - event.clientY);
    };
    const nearest = own ?? buttons.reduce((best, one) => (far(one) < far(best) ? one : best));
    press(nearest.dataset.station);
  });
  group.addEventListener("keydown", (event) => {
    const now = buttons.indexOf(document.activeElement);
    const by = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
    if (by) {
      const next = buttons[(now + by + buttons.length) % buttons.length];
      for (const one of buttons) one.setAttribute("tabindex", one === next ? "0" : "-1");
      next.focus({ preventScroll: true });
    } else if (event.key === "Enter" || event.key === " ") press(buttons[now].dataset.station);
    else return;
    event.preventDefault();
  });
  return group;
};

const SIZE = 5;
const surface = (view, drawing, { axial, bore }) => [view.x(axial), view.y(along(bore ? drawing.bore : drawing.outside, axial)), bore ? 1 : -1];

const drawMark = (view, drawing, shown, place) => {
  const [x, y, tip] = surface(view, drawing, place);
  const isFront = place.all.some((one) => one.name === shown.front);
  const isControl = place.all.some((one) => one.control);
  return make("path", { d: `M${x},${y}l${-SIZE},${tip * 1.7 * SIZE}h${2 * SIZE}Z`, class: isControl ? "f-full" : "f-paper", stroke: "currentColor", "stroke-width": isFront ? 2.4 : 1, "stroke-dasharray": dashOf(place.all) });
};

// Names stand above the coil, or below the bore, in a column of their own.
const drawColumn = (view, drawing, shown, { place, all }, middle) => {
  const [x, y, tip] = surface(view, drawing, place);
  const edge = place.bore ? Math.max(view.floor, y + 1.7 * SIZE) + 8 : view.roof - 6;
  const isFront = all.some((one) => one.name === shown.front);
  const leader = make("path", { d: `M${x},${y + tip * 1.7 * SIZE}L${middle},${edge}`, class: isFront ? "leader front" : "leader" });
  const names = all.map((one, row) => {
    const at = place.bore ? edge + 12 + row * ROW : edge - 4 - row * ROW;
    const known = shown.known.has(one.name);
    const is = one.name === shown.front;
    const button = make("g", { class: is ? "station front" : known ? "station" : "station unknown", role: "button", tabindex: "-1", "data-station": one.name, "aria-pressed": is, "aria-label": `${wordsOf(one, drawing.us_units)}${known ? "" : ", not in this log"}` });
    button.append(
      make("rect", { x: middle - COLUMN / 2 + 1, y: at - 11, width: COLUMN - 2, height: ROW - 1 }),
      make("text", { x: middle, y: at, "text-anchor": "middle", class: "small" }, shown.failed.has(one.name) ? `${one.short}×` : one.short),
      make("title", {}, `${wordsOf(one, drawing.us_units)}: ${one.reason}`),
    );
    return button;
  });
  return [leader, ...names];
};

const spanOf = (values, [low, high]) => {
  let [from, to] = [Math.min(...values), Math.max(...values)];
  const room = Math.max(SMALLEST_SPAN, to - from);
  // The range of the hold comes into view when readings are near it.
  if (Math.abs(from - low) < room) from = Math.min(from, low);
  if (Math.abs(to - high) < room) to = Math.max(to, high);
  const more = Math.max(0.24 * (to - from), (SMALLEST_SPAN - (to - from)) / 2);
  return [from - more, to + more];
};

// Readings along the pipe at one time; a pale dash is what was planned.
export const drawReadings = (view, drawing, shown, places, top, height) => {
  const group = make("g", { class: "readings" });
  const us = drawing.us_units;
  const read = places.flatMap((place) => place.all.filter((one) => shown.values[one.name] != null).map((one) => ({ ...one, c: shown.values[one.name], planned: shown.planned[one.name] })));
  const [x0, x1] = [view.x(view.from), view.x(view.to)];
  group.append(make("text", { x: x0, y: top - 6, class: "small soft rim" }, shown.words ? `Readings at ${shown.words}` : "Readings"));
  group.append(make("path", { d: `M${x0},${top}V${top + height}`, stroke: "currentColor", fill: "none" }));
  if (!read.length) return [group, top + height];
  const [low, high] = spanOf([...read.map((one) => one.c), ...read.map((one) => one.planned).filter((c) => c != null)], drawing.hold_c);
  const y = (c) => top + height - (height * (c - low)) / (high - low);
  for (const { c, words } of degreeTicks(high, us, (7 * high) / (high - low)).filter(({ c }) => c >= low)) {
    group.append(make("path", { d: `M${x0},${y(c)}H${x1}`, class: "hair" }));
    group.append(make("text", { x: x0 - 5, y: y(c) + 4, "text-anchor": "end", class: "small" }, words));
  }
  group.append(make("text", { x: x0 - 5, y: top - 6, "text-anchor": "end", class: "small soft" }, us ? "°F" : "°C"));
  for (const [c, words, above] of [[drawing.hold_c[0], "at least", false], [drawing.hold_c[1], "at most", true]]) {
    if (c < low || c > high) continue;
    const by = above && y(c) > top + 14 ? -4 : 12;
    group.append(make("path", { d: `M${x0},${y(c)}H${x1}`, class: "limit" }));
    group.append(make("text", { x: x0 + 4, y: y(c) + by, class: "small rim" }, `${words} ${shownTemperature(c, us)}`));
  }
  for (const one of read) if (one.planned != null) group.append(make("path", { d: `M${view.x(one.axial) - 8},${y(one.planned)}h16`, class: "track" }));
  const hot = Math.max(drawing.hold_c[1] * 1.08, ...read.map((one) => one.c));
  for (const one of [...read].sort((a, b) => (a.name === shown.front) - (b.name === shown.front))) {
    const [x, at] = [view.x(one.axial), y(one.c)];
    const is = one.name === shown.front;
    const size = is ? 6 : 4;
    const shape = one.bore ? `M${x},${at - size}L${x + size},${at}L${x},${at + size}L${x - size},${at}Z` : `M${x - size},${at}a${size},${size} 0 1 0 ${2 * size},0a${size},${size} 0 1 0 ${-2 * size},0Z`;
    group.append(make("path", { d: shape, fill: heatColor(one.c, hot), class: is ? "dot front" : "dot" }));
  }
  group.append(...labels(view, shown, read, y, us, [x0, x1], drawing.hold_c));
  return [group, top + height];
};

// The one in front by name, else the hottest and the coldest.
const labels = (view, shown, read, y, us, [x0, x1], limits) => {
  const sorted = [...read].sort((a, b) => a.c - b.c);
  const named = read.filter((one) => one.name === shown.front);
  const told = named.length ? named : sorted.length > 1 ? [sorted[0], sorted[sorted.length - 1]] : sorted;
  return told.map((one) => {
    const [x, words] = [view.x(one.axial), `${one.name.length < 7 ? one.name : one.short} ${shownTemperature(one.c, us)}`];
    const half = 3.4 * words.length;
    const isLow = one === sorted[0] && told.length > 1;
    const at = y(one.c) + (isLow ? 17 : -9);
    // Where a limit would run through the words, they stand beside the reading.
    const isStruck = limits.some((limit) => Math.abs(y(limit) - (at - 4)) < 7);
    if (isStruck) {
      const isRight = x + 9 + 2 * half <= x1;
      return make("text", { x: x + (isRight ? 9 : -9), y: y(one.c) + 4, "text-anchor": isRight ? "start" : "end", class: "small rim strong" }, words);
    }
    return make("text", { x: Math.min(x1 - half, Math.max(x0 + half, x)), y: at, "text-anchor": "middle", class: "small rim strong" }, words);
  });
};
