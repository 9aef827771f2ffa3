// The joint to scale with coil, blanket and thermocouples, and the temperature along it on the same scale below.
// Lengths in mm from the weld center (z) and from the axis (r) until they are drawn.

import { heatColor } from "./heat.js";

const NAMESPACE = "http://www.w3.org/2000/svg";
const MM_PER_INCH = 25.4;
// In a window that is lower than this, the drawing leaves room for what is read with it.
const LOW = 850;

export const make = (name, attributes = {}, ...children) => {
  const node = document.createElementNS(NAMESPACE, name);
  for (const [key, value] of Object.entries(attributes)) if (value !== undefined) node.setAttribute(key, value);
  node.append(...children);
  return node;
};

export const along = (line, z) => {
  if (!line.length) return NaN;
  if (z <= line[0][0]) return line[0][1];
  for (let i = 1; i < line.length; i += 1) {
    const [z0, v0] = line[i - 1];
    const [z1, v1] = line[i];
    if (z <= z1) return z1 === z0 ? v1 : v0 + ((v1 - v0) * (z - z0)) / (z1 - z0);
  }
  return line[line.length - 1][1];
};

export const ticks = (low, high, about) => {
  const rough = (high - low) / about;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= rough);
  const list = [];
  for (let at = Math.ceil(low / step) * step; at <= high + 1e-9; at += step) list.push(Math.round(at * 1e6) / 1e6);
  return list;
};

// Round numbers of the unit that is shown, with where they lie in °C.
export const degreeTicks = (hot, us, about) =>
  us ? ticks(0, hot * 1.8 + 32, about).map((f) => ({ c: (f - 32) / 1.8, words: f })).filter(({ c }) => c >= 0) : ticks(0, hot, about).map((c) => ({ c, words: c }));

export const shownTemperature = (c, us) => (us ? `${Math.round(c * 1.8 + 32)} °F` : `${Math.round(c)} °C`);
// As a tape shows it: whole millimeters, or inches to a sixteenth.
export const shownLength = (mm, us) => {
  if (!us) return `${Math.round(mm)} mm`.replace("-", "−");
  const parts = Math.round((16 * Math.abs(mm)) / MM_PER_INCH);
  const [whole, rest] = [Math.floor(parts / 16), parts % 16];
  const by = rest & -rest;
  const fraction = rest ? `${rest / by}/${16 / by}` : "";
  return `${mm < 0 && parts ? "−" : ""}${[whole || (!rest && "0"), fraction].filter(Boolean).join(" ")} in`;
};
// The step in which turns are moved, and places as exact as a job file keeps them, in mm.
export const stepOf = (us) => (us ? MM_PER_INCH / 16 : 1);
export const tidy = (mm, us) => Math.round((us ? 1000 : 10) * mm) / (us ? 1000 : 10);

const number = (name) => name.match(/\d+$/)?.[0] ?? name;

// Places that the job fits no wire at, in a sentence.
export const onlyPredicted = ({ thermocouples }) => {
  const names = thermocouples.filter((one) => !one.fitted).map((one) => number(one.name));
  return names.length ? `Dashed, predicted only: ${names.join(", ")}. ` : "";
};
// Their mark is dashed wherever a thermocouple is drawn.
export const dashOf = (all) => (all.some((one) => one.fitted) ? undefined : "2 2");

// `stations` is the module that reads thermocouples at the joint; without it, the joint is planned.
export const createStage = (host, { mayAct, onTurns, onStopped, onTaken, onChosen, onThermocouple, stations }) => {
  let drawing = null;
  let places = [];
  const shown = { front: null, values: {}, planned: {}, known: new Set(), failed: new Set(), words: "" };
  let lines = null;
  let when = "";
  let drag = null;
  // While a slider is in hand: what is in view, and how high it is drawn.
  let held = null;
  let chosen = null;
  let isStrip = false;
  const svg = make("svg", { class: "stage", role: "group", "aria-label": stations ? "The joint with its thermocouples" : "The joint with its turns" });
  host.append(svg);

  const frame = () => {
    const { outside, bore, turns, cable_diameter: cable, blanket, bands, ends } = drawing;
    const half = Math.max(...bands.slice(0, 2).map(([, width]) => width / 2));
    // What is read lies closer to the weld than what is wound.
    const farthest = (sign, side) =>
      stations && places.length
        ? 1.1 * Math.max(bands[0][1] / 2, ...places.map((place) => sign * place.axial + 2 * cable))
        : 1.06 * Math.max(half, blanket.reach[side], ...turns.map((turn) => sign * turn.axial + 2 * cable));
    const reach = (sign, side) => Math.min(ends[side], farthest(sign, side));
    // What is dragged stays under the finger: the frame waits until it is let go.
    const [from, to] = drag?.frame ?? held?.frame ?? [-reach(-1, 0), reach(1, 1)];
    const inside = (line) => line.filter(([z]) => z >= from && z <= to).map(([, r]) => r);
    const low = Math.min(...inside(bore), along(bore, from), along(bore, to));
    const top = Math.max(...inside(outside), along(outside, from), along(outside, to));
    const tallest = Math.max(blanket.thickness, ...turns.map((turn) => turn.standoff + cable));
    const width = host.clientWidth;
    const [left, right] = stations ? [40, 14] : width < 600 ? [34, 40] : [52, 58];
    const room = Math.min((stations ? 0.16 : isStrip ? 0.13 : window.innerHeight < LOW ? 0.22 : 0.26) * window.innerHeight, 260);
    const scale = Math.min((width - left - right) / (to - from), (held?.height ?? room) / (top + tallest - low));
    const x0 = left + ((width - left - right) - scale * (to - from)) / 2;
    const roof = 10 + (stations ? stations.roomOf(places)[0] : 0);
    const floor = roof + (held?.height ?? scale * (top + tallest - low));
    return {
      from, to, low, width, left, right, scale, roof, floor,
      x: (z) => x0 + scale * (z - from),
      z: (x) => from + (x - x0) / scale,
      y: (r) => floor - scale * (r - low),
      narrow: width < 600,
    };
  };

  const polygon = (points, view, attributes) =>
    make("path", { d: `M${points.map(([r, z]) => `${view.x(z).toFixed(1)},${view.y(r).toFixed(1)}`).join("L")}Z`, ...attributes });

  const paint = (view) => {
    const group = make("g", { "aria-hidden": "true", "shape-rendering": "crispEdges" });
    if (!lines) return group;
    const step = 3;
    const layers = 6;
    for (let x = view.x(view.from); x < view.x(view.to); x += step) {
      const z = view.z(x + step / 2);
      const [ro, rb] = [along(drawing.outside, z), along(drawing.bore, z)];
      const [to, tb] = [along(lines.outside, z), along(lines.bore, z)];
      for (let layer = 0; layer < layers; layer += 1) {
        const part = (layer + 0.5) / layers;
        const y = view.y(ro + ((rb - ro) * layer) / layers);
        const height = (view.scale * (ro - rb)) / layers + 0.4;
        group.append(make("rect", { x: x.toFixed(1), y: y.toFixed(1), width: step + 0.4, height: height.toFixed(1), fill: heatColor(to + (tb - to) * part, lines.hot) }));
      }
    }
    return group;
  };

  const surfaceOutline = (view, thickness) => {
    const [z0, z1] = [-drawing.blanket.reach[0], drawing.blanket.reach[1]];
    const stops = [z0, ...drawing.outside.map(([z]) => z).filter((z) => z > z0 && z < z1), z1];
    const lower = stops.map((z) => [along(drawing.outside, z), z]);
    const upper = stops.map((z) => [along(drawing.outside, z) + thickness, z]).reverse();
    return [...lower, ...upper];
  };

  // The middle of the cable, which lies on the highest point of the surface beneath its width.
  const middle = (turn, axial = turn.axial) => {
    const radius = drawing.cable_diameter / 2;
    const surface = Math.max(...[-radius, 0, radius].map((by) => along(drawing.outside, axial + by)));
    return surface + turn.standoff + radius;
  };
  const turnPlace = (turn, view) => [view.x(turn.axial), view.y(middle(turn))];

  const drawTurns = (view) => {
    const group = make("g");
    const radius = Math.max(2, (view.scale * drawing.cable_diameter) / 2);
    drawing.turns.forEach((turn, index) => {
      if (turn.axial < view.from || turn.axial > view.to) return;
      const [x, y] = turnPlace(turn, view);
      const words = `${shownLength(turn.axial, drawing.us_units)} from the weld center`;
      const one = make("g", {
        class: index === chosen ? "turn chosen" : "turn",
        ...(mayAct
          ? { tabindex: 0, role: "slider", "aria-orientation": "horizontal", "data-turn": index }
          : { role: "img" }),
        "aria-label": `Turn ${index + 1} of ${drawing.turns.length}`,
        "aria-valuenow": mayAct ? Math.round(turn.axial) : undefined,
        "aria-valuemin": mayAct ? Math.round(-drawing.ends[0]) : undefined,
        "aria-valuemax": mayAct ? Math.round(drawing.ends[1]) : undefined,
        "aria-valuetext": mayAct ? words : undefined,
      });
      one.append(make("circle", { cx: x, cy: y, r: radius, class: drawing.given ? "given" : "wound" }));
      group.append(one);
    });
    return group;
  };

  // As many names side by side as there is room up to the next place.
  const rowsOfNames = (all, places, view) => {
    const [{ axial, bore }] = all;
    const others = [...places.values()].map(([one]) => one).filter((one) => one.bore === bore && Math.round(one.axial) !== Math.round(axial));
    const room = Math.min(Infinity, ...others.map((one) => view.scale * Math.abs(one.axial - axial)));
    const rows = [];
    for (const name of all.map((one) => number(one.name))) {
      const last = rows[rows.length - 1];
      const fits = last && (last.length < 2 || 6 * [...last, name].join(" ").length < 2 * (room - 8));
      if (fits) last.push(name);
      else rows.push([name]);
    }
    return rows.map((row) => row.join(" "));
  };

  const drawThermocouples = (view) => {
    const group = make("g", { class: "thermocouples" });
    const byPlace = new Map();
    for (const one of drawing.thermocouples) {
      const key = `${one.bore} ${Math.round(one.axial)}`;
      byPlace.set(key, [...(byPlace.get(key) ?? []), one]);
    }
    for (const all of byPlace.values()) {
      const [{ axial, bore }] = all;
      if (axial < view.from || axial > view.to) continue;
      const x = view.x(axial);
      const y = view.y(along(bore ? drawing.bore : drawing.outside, axial));
      const size = view.narrow ? 4 : 5;
      const tip = bore ? 1 : -1;
      const filled = all.some((one) => one.control);
      const rows = rowsOfNames(all, byPlace, view);
      const one = make("g", { class: "thermocouple", "data-names": all.map((o) => o.name).join(" ") });
      one.append(make("title", {}, all.map((o) => `${o.name}, ${o.fitted ? "" : "predicted only, "}${o.clock} o’clock: ${o.reason}`).join("\n")));
      one.append(make("path", { d: `M${x},${y}l${-size},${tip * 1.7 * size}h${2 * size}Z`, class: filled ? "f-full" : "f-paper", stroke: "currentColor", "stroke-dasharray": dashOf(all) }));
      if (!view.narrow) rows.forEach((names, row) => one.append(make("text", { x, y: y + tip * (2.4 * size + 13 * row) + (bore ? 8 : -1), "text-anchor": "middle", class: "small rim" }, names)));
      one.addEventListener("click", () => onThermocouple?.(all.map((o) => o.name)));
      group.append(one);
    }
    return group;
  };

  const drawBands = (view, from) => {
    const group = make("g", { class: "bands" });
    let y = from;
    for (const [name, width] of stations ? drawing.bands.slice(0, 1) : drawing.bands) {
      y += 15;
      const [a, b] = [view.x(Math.max(-width / 2, view.from)), view.x(Math.min(width / 2, view.to))];
      const whole = width / 2 <= Math.min(-view.from, view.to);
      const words = `${name} ${shownLength(width, drawing.us_units)}`;
      const room = 6.2 * words.length;
      group.append(make("path", { d: `M${a},${y - 4}v8M${b},${y - 4}v8M${a},${y}H${b}`, stroke: "currentColor", "stroke-dasharray": whole ? undefined : "5 3", fill: "none" }));
      // A label that is wider than its band stands beside it.
      const beside = room > b - a - 8;
      const x = beside ? b + 6 : view.x(0);
      if (!beside) group.append(make("rect", { x: x - room / 2, y: y - 7, width: room, height: 14, class: "f-paper" }));
      group.append(make("text", { x, y: y + 4, "text-anchor": beside ? "start" : "middle", class: "small rim" }, words));
    }
    return [group, y + 10];
  };

  const drawPlot = (view, top) => {
    const group = make("g", { class: "plot" });
    const height = isStrip ? 56 : view.narrow || window.innerHeight < LOW ? 76 : 100;
    const hot = Math.max(lines?.hot ?? 0, drawing.hold_c[1] * 1.08);
    const y = (c) => top + height - (height * c) / hot;
    const us = drawing.us_units;
    const [x0, x1] = [view.x(view.from), view.x(view.to)];
    // A line of the scale does not run through the words below the lower limit.
    const wordsAt = y(drawing.hold_c[0]) + 8;
    for (const { c, words } of degreeTicks(hot, us, 3)) {
      group.append(make("path", { d: `M${x0 + (!view.narrow && Math.abs(y(c) - wordsAt) < 7 ? 96 : 0)},${y(c)}H${x1}`, class: "hair" }));
      group.append(make("text", { x: x0 - 12, y: y(c) + 4, "text-anchor": "end", class: "small" }, words));
    }
    group.append(make("text", { x: x0 - 12, y: top - 4, "text-anchor": "end", class: "small soft" }, us ? "°F" : "°C"));
    const bar = 24;
    for (let i = 0; i < bar; i += 1)
      group.append(make("rect", { x: x0 - 9, width: 6, y: top + (height * i) / bar, height: height / bar + 0.4, fill: heatColor(hot * (1 - (i + 0.5) / bar), hot) }));
    const [low, high] = drawing.hold_c;
    for (const [c, words, up] of [[low, `at least ${shownTemperature(low, us)}`, false], [high, `at most ${shownTemperature(high, us)}`, true]]) {
      group.append(make("path", { d: `M${x0},${y(c)}H${x1}`, stroke: "currentColor", "stroke-width": 1, "stroke-dasharray": "6 3", fill: "none" }));
      // Where there is little room the line runs through the left end, and the words stand below its middle.
      const isMiddle = view.narrow && !up;
      group.append(make("text", { x: isMiddle ? view.x(0) : x0 + 4, y: y(c) + (up ? -4 : isMiddle ? 15 : 12), "text-anchor": isMiddle ? "middle" : undefined, class: "small rim" }, words));
    }
    const half = drawing.bands[0][1] / 2;
    for (const z of [-half, half]) group.append(make("path", { d: `M${view.x(z)},${top}V${top + height}`, class: "hair" }));
    if (lines) {
      const inView = (line) => [[view.from, along(line, view.from)], ...line.filter(([z]) => z > view.from && z < view.to), [view.to, along(line, view.to)]];
      const path = (line) => inView(line).map(([z, c]) => `${view.x(z).toFixed(1)},${y(c).toFixed(1)}`).join("L");
      group.append(make("path", { d: `M${path(lines.outside)}`, class: "curve" }));
      group.append(make("path", { d: `M${path(lines.bore)}`, class: "curve", "stroke-dasharray": "4 3" }));
      const ends = [["outside", along(lines.outside, view.to)], ["bore", along(lines.bore, view.to)]];
      ends.sort((a, b) => b[1] - a[1]);
      const above = Math.min(y(ends[0][1]) + 3, y(ends[1][1]) - 9);
      group.append(make("text", { x: x1 + 5, y: above, class: "small" }, ends[0][0]));
      group.append(make("text", { x: x1 + 5, y: Math.max(y(ends[1][1]) + 6, above + 12), class: "small" }, ends[1][0]));
    }
    if (when) group.append(make("text", { x: x1, y: top - 4, "text-anchor": "end", class: "small" }, when));
    return [group, top + height];
  };

  const drawAxis = (view, y) => {
    const group = make("g");
    const us = drawing.us_units;
    const per = us ? MM_PER_INCH : 1;
    for (const at of ticks(view.from / per, view.to / per, view.narrow ? 4 : 9)) {
      group.append(make("path", { d: `M${view.x(at * per)},${y}v4`, stroke: "currentColor" }));
      group.append(make("text", { x: view.x(at * per), y: y + 16, "text-anchor": "middle", class: "small" }, `${at}`.replace("-", "−")));
    }
    group.append(make("path", { d: `M${view.x(view.from)},${y}H${view.x(view.to)}`, stroke: "currentColor" }));
    group.append(make("text", { x: view.width - 2, y: y + 16, "text-anchor": "end", class: "small soft" }, us ? "in" : "mm"));
    return group;
  };

  const render = () => {
    if (!drawing || !host.clientWidth) return;
    const { turn: focused, station } = svg.contains(document.activeElement) ? document.activeElement.dataset : {};
    const view = frame();
    const clip = make("clipPath", { id: "metal-clip" });
    drawing.metal.forEach((points) => clip.append(polygon(points, view, {})));
    const window_ = make("clipPath", { id: "view-clip" }, make("rect", { x: view.x(view.from), y: 0, width: view.scale * (view.to - view.from), height: view.floor + 8 }));
    const metal = make("g", { "clip-path": "url(#view-clip)" });
    metal.append(make("g", { "clip-path": "url(#metal-clip)" }, paint(view)));
    drawing.metal.forEach((points) => metal.append(polygon(points, view, { class: lines ? "metal" : "metal bare" })));
    const cap = drawing.cap_width / 2;
    const [yo, yb] = [view.y(along(drawing.outside, 0)), view.y(along(drawing.bore, 0))];
    metal.append(make("path", { d: `M${view.x(-cap)},${yo}L${view.x(-cap / 4)},${yb}H${view.x(cap / 4)}L${view.x(cap)},${yo}Z`, class: lines ? "weld painted" : "weld" }));
    metal.append(polygon(surfaceOutline(view, drawing.blanket.thickness), view, { class: "blanket" }));
    const center = make("path", { d: `M${view.x(0)},${stations ? view.roof - 4 : 2}V${view.floor + 4}`, class: "center" });
    const hasBore = !view.narrow && !isStrip && drawing.thermocouples.some((one) => one.bore);
    const below = stations ? stations.roomOf(places)[1] + 6 : hasBore ? 16 : 4;
    const [bands, afterBands] = isStrip ? [make("g"), view.floor + below] : drawBands(view, view.floor + below);
    const [plot, afterPlot] = isStrip && view.narrow ? [make("g"), afterBands] : stations ? stations.drawReadings(view, drawing, shown, places, afterBands + 20, window.innerWidth < 1152 ? 96 : 170) : drawPlot(view, afterBands + 14);
    const thermocouples = stations ? stations.drawStations(view, drawing, shown, places, (name) => onThermocouple([name])) : drawThermocouples(view);
    const neighbors = make("g");
    for (const [name, z] of drawing.neighbors) {
      if (z < view.from || z > view.to) continue;
      neighbors.append(make("path", { d: `M${view.x(z)},${view.roof}V${view.floor}`, class: "hair" }));
      neighbors.append(make("text", { x: view.x(z), y: view.floor - 4, "text-anchor": z < 0 ? "start" : "end", class: "small rim" }, name));
    }
    const height = afterPlot + 22;
    svg.setAttribute("viewBox", `0 0 ${view.width} ${height}`);
    svg.setAttribute("width", view.width);
    svg.setAttribute("height", height);
    svg.replaceChildren(clip, window_, metal, neighbors, center, ...(stations ? [drawTurns(view), thermocouples] : [thermocouples, drawTurns(view)]), bands, plot, drawAxis(view, afterPlot));
    svg._view = view;
    if (focused !== undefined) svg.querySelector(`[data-turn="${focused}"]`)?.focus({ preventScroll: true });
    if (station !== undefined) svg.querySelector(`[data-station="${CSS.escape(station)}"]`)?.focus({ preventScroll: true });
  };

  // How far the middles of two turns lie apart, were the one at `axial`; a job file counts standoffs alone, the coil
  // also the surface below, and both have to be satisfied.
  const apart = (turn, axial, other, otherAxial = other.axial) => {
    const out = Math.min(Math.abs(middle(turn, axial) - middle(other, otherAxial)), Math.abs(turn.standoff - other.standoff));
    return Math.hypot(axial - otherAxial, out);
  };
  // In inches the file keeps thousandths: two of them may round towards each other.
  const contact = () => drawing.cable_diameter + (drawing.us_units ? 0.03 : 0);
  const isBeyond = (turn, axial) => {
    const beyond = (z) => Math.max(contact() - drawing.ends[0] - z, z - (drawing.ends[1] - contact()), 0);
    return beyond(axial) > 0 && beyond(axial) >= beyond(turn.axial);
  };
  const isInto = (turn, axial, other, otherAxial) => {
    const next = apart(turn, axial, other, otherAxial);
    return next < contact() - 1e-6 && next < apart(turn, turn.axial, other);
  };

  // What a turn would run into: another turn by its index, or -1 for the end of the pipe; `undefined` where nothing.
  const against = (index, axial) => {
    const turn = drawing.turns[index];
    if (isBeyond(turn, axial)) return -1;
    const hit = drawing.turns.findIndex((other, i) => i !== index && isInto(turn, axial, other));
    return hit < 0 ? undefined : hit;
  };
  // The same where all of them move at once: the first turn that would be stopped, and by what.
  const againstAll = (axials) => {
    for (const [index, turn] of drawing.turns.entries()) {
      if (isBeyond(turn, axials[index])) return { index, by: -1 };
      const by = drawing.turns.findIndex((other, i) => i !== index && isInto(turn, axials[index], other, axials[i]));
      if (by >= 0) return { index, by };
    }
    return undefined;
  };

  // Whole steps as far as they go, then tenths of a mm up to the contact. Returns whether it moved, and what stopped it.
  const move = (index, axial) => {
    const turn = drawing.turns[index];
    const from = turn.axial;
    const grid = stepOf(drawing.us_units);
    const to = Math.round(axial / grid) * grid;
    const way = Math.sign(to - from);
    let stopped;
    for (const step of [grid, 0.1]) {
      while (way && (to - turn.axial) * way > 0.01) {
        const next = tidy(turn.axial + way * Math.min(step, (to - turn.axial) * way), drawing.us_units);
        stopped = against(index, next);
        if (stopped !== undefined) break;
        turn.axial = next;
      }
    }
    const moved = turn.axial !== from;
    if (moved) render();
    return { moved, stopped };
  };

  const nearest = (event) => {
    const box = svg.getBoundingClientRect();
    const [px, py] = [event.clientX - box.left, event.clientY - box.top];
    const far = drawing.turns.map((turn) => {
      const [x, y] = turnPlace(turn, svg._view);
      return Math.hypot(x - px, y - py);
    });
    const index = far.indexOf(Math.min(...far));
    return far[index] <= 22 ? index : -1;
  };

  // The turn in hand: the last that was pressed or came by the keys.
  const choose = (index) => {
    chosen = index;
    for (const one of svg.querySelectorAll("[data-turn]")) one.classList.toggle("chosen", Number(one.dataset.turn) === index);
    onChosen(index);
  };
  // No turn is in hand: what is pressed next must not meet another than the one that was meant.
  const release = () => {
    if (svg.contains(document.activeElement)) document.activeElement.blur();
    choose(null);
  };
  const nudge = (by) => {
    if (!drawing?.turns[chosen]) return;
    const { moved, stopped } = move(chosen, drawing.turns[chosen].axial + by);
    if (moved) onTurns(drawing.turns, true);
    onStopped(chosen, stopped);
  };
  const take = () => {
    if (!drawing?.turns[chosen] || drawing.turns.length < 2) return;
    const [taken] = drawing.turns.splice(chosen, 1);
    release();
    render();
    onTurns(drawing.turns, true);
    onTaken(taken);
  };

  if (mayAct) {
    svg.addEventListener("focusin", (event) => {
      const index = event.target.dataset?.turn;
      if (index !== undefined && Number(index) !== chosen) choose(Number(index));
    });
    svg.addEventListener("pointerdown", (event) => {
      if (!drawing?.turns.length) return;
      const index = nearest(event);
      if (index < 0) return;
      event.preventDefault();
      svg.setPointerCapture(event.pointerId);
      drag = { index, moved: false, stopped: undefined, frame: [svg._view.from, svg._view.to] };
      svg.querySelector(`[data-turn="${index}"]`)?.focus({ preventScroll: true });
    });
    svg.addEventListener("pointermove", (event) => {
      if (!drag) return;
      const box = svg.getBoundingClientRect();
      const [least, most] = drag.frame;
      const { moved, stopped } = move(drag.index, Math.max(least, Math.min(most, svg._view.z(event.clientX - box.left))));
      if (moved) {
        drag.moved = true;
        onTurns(drawing.turns, false);
      }
      if (stopped !== drag.stopped) onStopped(drag.index, stopped);
      drag.stopped = stopped;
    });
    const drop = () => {
      const isMoved = drag?.moved;
      drag = null;
      if (!isMoved) return;
      render();
      onTurns(drawing.turns, true);
    };
    svg.addEventListener("pointerup", drop);
    svg.addEventListener("pointercancel", drop);
    svg.addEventListener("keydown", (event) => {
      if (event.target.dataset?.turn === undefined) return;
      const step = (event.shiftKey ? 10 : 1) * stepOf(drawing.us_units);
      const by = { ArrowLeft: -step, ArrowDown: -step, ArrowRight: step, ArrowUp: step }[event.key];
      if (by) {
        event.preventDefault();
        nudge(by);
      } else if (event.key === "Delete") {
        event.preventDefault();
        take();
      }
    });
  }
  new ResizeObserver(render).observe(host);
  return {
    set: (next) => {
      // A number of another row of turns would name another turn.
      if (chosen !== null && drawing && next.turns.length !== drawing.turns.length) release();
      drawing = next;
      if (stations) places = stations.placesOf(next);
      render();
    },
    // What the stations show: { front, values, planned, known, failed, words }, temperatures in °C.
    read: (next) => {
      Object.assign(shown, next);
      render();
    },
    // A strip takes little room: what lies along the pipe without bands, on a phone without temperatures.
    fold: (is) => {
      isStrip = is;
      render();
    },
    show: (next, words = "") => {
      lines = next;
      when = words;
      render();
    },
    get drawing() {
      return drawing;
    },
    isDragging: () => drag !== null || held !== null,
    // Held, the drawing keeps what is in view and its height, whatever is set.
    hold: (is) => {
      const view = svg._view;
      if (is === (held !== null) || !view) return;
      held = is ? { frame: [view.from, view.to], height: view.floor - view.roof } : null;
      render();
    },
    againstAll,
    nudge,
    take,
    release,
    get chosen() {
      return chosen;
    },
  };
};
