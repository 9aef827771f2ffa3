// The chart of a log. The desk sends at most two points a column and channel for the window that is looked at; moving and
// zooming stretch what is there at once and ask for the rest.

import { make, ticks } from "./drawing.js";
import { DASHES, FAILED, hoursWords, pieces, shorts as shortNames, spread, valueAt, within } from "./lines.js";
import { drawPanel, signed, widest } from "./panel.js";

const SHORTEST_H = 1 / 60;
const STEPS_H = [1 / 60, 2 / 60, 5 / 60, 10 / 60, 15 / 60, 0.5, 1, 2, 3, 6, 12, 24, 48, 96];
const [TOP, FOOT] = [22, 40];
// About how wide small words are.
const widthOf = (words) => 5.5 * words.length;
// Room between panels for the title of the next.
const BETWEEN = 24;

const node = (name, attributes = {}, ...children) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) if (value !== undefined) made.setAttribute(key, value);
  made.append(...children);
  return made;
};

export const createChart = (host, meta, load) => {
  const names = meta.channels.map((one) => one.name);
  const shorts = shortNames(names);
  const start = Date.parse(`${meta.start.slice(0, 19)}Z`);
  let [from, to] = [0, meta.end_h];
  let [front, mark, cursor, fit, data, asking] = [null, null, null, false, null, null];
  let besidePlan = meta.plan !== null;

  const tool = (words, does, attributes = {}) => {
    const made = node("button", { type: "button", class: "quiet", ...attributes }, words);
    made.addEventListener("click", does);
    return made;
  };
  const tools = node("div", { class: "tools", role: "group", "aria-label": "What the chart shows" },
    tool("Closer", () => zoom(0.5)), tool("Wider", () => zoom(2)), tool("Earlier", () => pan(-0.4)), tool("Later", () => pan(0.4)),
    tool("Whole log", () => whole()));
  const setFit = (is) => {
    fit = is;
    fitting.setAttribute("aria-pressed", fit);
  };
  const fitting = tool("Fit the heights", () => {
    setFit(!fit);
    render();
  }, { "aria-pressed": "false" });
  tools.append(fitting);
  if (meta.plan) {
    const laying = tool("Beside the plan", () => {
      besidePlan = !besidePlan;
      laying.setAttribute("aria-pressed", besidePlan);
      render();
      tell();
    }, { "aria-pressed": "true" });
    tools.append(laying);
  }
  const field = node("div", { class: "field-of-view", tabindex: "0", role: "group", "aria-label": "Chart: plus and minus zoom, arrows move, 0 shows the whole log, comma and period move the reading line" });
  const svg = make("svg", { class: "log", role: "img" });
  const says = node("output", { class: "now" });
  field.append(svg);
  host.replaceChildren(tools, field, says);

  const width = () => host.clientWidth;
  const narrow = () => width() < 600;
  const left = () => (narrow() ? 36 : 48);
  const wide = () => Math.max(50, width() - left() - (narrow() ? 34 : 56));
  // What stands below: a panel for the difference from the plan, then one for each unit that was logged beside.
  const below = () => (besidePlan && meta.plan ? 1 : 0) + meta.panels.length;
  const panelHeight = () => (narrow() ? 52 : 60);
  const height = () => Math.round(Math.min(330, Math.max(170, 0.36 * innerHeight - 0.4 * below() * panelHeight())));
  const bottom = () => TOP + height() + below() * (BETWEEN + panelHeight());
  const x = (h) => left() + (wide() * (h - from)) / (to - from);
  const clock = (h, seconds = false) => new Date(start + 3_600_000 * h).toISOString().slice(11, seconds ? 19 : 16);

  const range = () => {
    let [low, high] = [0, meta.highest];
    for (const limit of meta.limits) high = Math.max(high, limit.at);
    if (fit && data) {
      [low, high] = [Infinity, -Infinity];
      data.series.forEach((flat, index) => {
        if (front && names[index] !== front) return;
        for (const [, value] of within(data, flat, from, to)) [low, high] = [Math.min(low, value), Math.max(high, value)];
      });
      if (low > high) [low, high] = [0, meta.highest];
      const room = Math.max(4, 0.15 * (high - low));
      for (const { at, threshold } of meta.limits)
        if (!threshold && at > low - (high - low) - room && at < high + (high - low) + room) [low, high] = [Math.min(low, at), Math.max(high, at)];
      return [low - room, high + room];
    }
    return [Math.min(0, low), high * 1.08];
  };

  const drawAxes = (y, low, high) => {
    const group = make("g");
    const foot = bottom();
    for (const at of ticks(low, high, fit ? 5 : 6)) {
      group.append(make("path", { d: `M${left()},${y(at)}h${wide()}`, class: "hair" }));
      group.append(make("text", { x: left() - 6, y: y(at) + 4, "text-anchor": "end", class: "small" }, at));
    }
    group.append(make("text", { x: 2, y: TOP - 8, class: "small soft" }, meta.unit));
    const step = STEPS_H.find((one) => (wide() * one) / (to - from) >= (narrow() ? 62 : 76)) ?? 96;
    for (let n = Math.ceil(from / step - 1e-9); n * step <= to + 1e-9; n += 1) {
      const h = n * step;
      const words = step < 1 ? `${Math.floor(h + 1e-9)}:${String(Math.round(60 * h) % 60).padStart(2, "0")}` : `${Math.round(h)}`;
      group.append(make("path", { d: `M${x(h)},${foot}v4`, stroke: "currentColor" }));
      group.append(make("text", { x: x(h), y: foot + 17, "text-anchor": "middle", class: "small" }, words));
      group.append(make("text", { x: x(h), y: foot + 32, "text-anchor": "middle", class: "small soft" }, clock(h)));
    }
    const edge = left() + wide() + 6;
    group.append(make("text", { x: edge, y: foot + 17, class: "small" }, step < 1 ? "h:min" : "h"));
    if (!narrow()) group.append(make("text", { x: edge, y: foot + 32, class: "small soft" }, "clock"));
    group.append(make("path", { d: `M${left()},${TOP}V${TOP + height()}h${wide()}`, stroke: "currentColor", fill: "none" }));
    return group;
  };

  // Each limit begins with its name. Names that crowd each other give way, and are led to their lines.
  const drawLimits = (y) => {
    const inView = meta.limits.map((limit) => ({ ...limit, y: y(limit.at) })).filter((limit) => limit.y >= TOP && limit.y <= TOP + height());
    inView.sort((a, b) => a.y - b.y);
    const words = inView.map((limit) => `${Math.round(limit.at)} ${meta.unit} ${narrow() ? limit.words.split(",")[0] : limit.words}`);
    const places = spread(inView.map((limit) => limit.y), TOP + 2, TOP + height() - 8, 12);
    const led = inView.map((limit, i) => Math.abs(places[i] - limit.y) > 1);
    const beyond = left() + 24 + Math.max(0, ...words.filter((_, i) => led[i]).map(widthOf));
    const [lines, grounds, labels] = [make("g"), make("g"), make("g")];
    inView.forEach((limit, i) => {
      const end = left() + 8 + widthOf(words[i]);
      const begin = led[i] ? beyond : end;
      const kind = limit.threshold ? "threshold" : "limit";
      lines.append(make("path", { d: `M${left()},${limit.y}H${begin}`, class: `${kind} faint` }));
      lines.append(make("path", { d: `M${begin},${limit.y}H${left() + wide()}`, class: kind }));
      lines.append(make("path", { d: `M${end},${places[i]}L${begin},${limit.y}`, class: "leader" }));
      grounds.append(make("rect", { x: left() + 3, y: places[i] - 6, width: widthOf(words[i]) + 4, height: 12, class: "f-paper" }));
      labels.append(make("text", { x: left() + 5, y: places[i] + 4, class: "small rim limit-name" }, words[i]));
    });
    lines.append(grounds);
    return [lines, labels];
  };

  const drawHappenings = () => {
    const group = make("g");
    const foot = bottom();
    for (const [a, b] of meta.holds) {
      if (b < from || a > to) continue;
      const [xa, xb] = [x(Math.max(a, from)), x(Math.min(b, to))];
      group.append(make("rect", { x: xa, y: TOP, width: Math.max(1, xb - xa), height: foot - TOP, class: "hold" }));
      if (xb - xa > 40) group.append(make("text", { x: (xa + xb) / 2, y: TOP + height() - 6, "text-anchor": "middle", class: "small soft rim" }, "hold"));
    }
    let lastLabel = -Infinity;
    for (const event of meta.events) {
      if (event.h < from || event.h > to) continue;
      const line = make("g", {}, make("path", { d: `M${x(event.h)},${TOP - 4}V${foot}`, class: "event" }));
      line.append(make("title", {}, `${hoursWords(event.h)}: ${event.words}`));
      const words = event.words.slice(0, 24);
      if (x(event.h) > lastLabel && x(event.h) + 6 * words.length < left() + wide()) {
        line.append(make("text", { x: x(event.h) + 3, y: TOP - 8, class: "small rim" }, words));
        lastLabel = x(event.h) + 6.5 * words.length;
      }
      group.append(line);
    }
    if (mark !== null && mark >= from && mark <= to) group.append(make("path", { d: `M${x(mark)},${TOP}V${foot}`, class: "marked" }));
    if (cursor !== null && cursor >= from && cursor <= to) group.append(make("path", { d: `M${x(cursor)},${TOP}V${foot}`, class: "reading" }));
    return group;
  };

  // Names at the ends of lines.
  const placeEnds = (ends) => {
    ends.sort((a, b) => a.height - b.height);
    const leaders = make("g");
    const places = spread(ends.map((one) => one.height), TOP + 4, TOP + height() + 4, 11);
    // Names that had to give way are led to their lines, and then all stand in one column.
    const led = places.some((at, i) => Math.abs(at - ends[i].height) > 6);
    places.forEach((at, i) => {
      const { at: edge, height: own, label } = ends[i];
      if (led) leaders.append(make("path", { d: `M${edge - 4},${own - 4}L${edge + 5},${at - 4}`, class: "leader" }));
      label(led ? edge + 7 : edge, at, "start");
    });
    return leaders;
  };

  // What was planned is a pale track, on which the measured line runs or not.
  const drawTracks = (scale, ends, labels) => {
    const tracks = make("g");
    if (!besidePlan || !data.planned.length) return [tracks, 0];
    let [points, named] = [0, null];
    data.planned.forEach((flat, index) => {
      if (!flat.length || (front !== null && names[index] !== front)) return;
      const line = pieces(coarse(), flat, scale);
      points += line.points;
      if (line.good) tracks.append(make("path", { d: line.good, class: "track", "data-planned": names[index] }));
      if (line.last && (!named || meta.channels[index].role === "control")) named ??= line.last;
    });
    if (named) ends.push({ at: Math.min(x(named[0]), left() + wide()) + 5, height: scale.y(named[1]) + 4, label: (at, down) => labels.append(make("text", { x: at, y: down, class: "small rim soft" }, "plan")) });
    return [tracks, points];
  };
  const coarse = () => ({ from: data.from, to: data.to, columns: data.planned_columns });

  const drawCurves = (y) => {
    const [curves, labels, ends] = [make("g", { "clip-path": "url(#log-clip)" }), make("g"), []];
    const scale = { x, y, from, to };
    const [tracks, tracked] = drawTracks(scale, ends, labels);
    curves.append(tracks);
    let points = tracked;
    const back = (name) => front !== null && front !== name;
    data.beside.forEach((flat) => {
      const line = pieces(data, flat, scale);
      points += line.points;
      curves.append(make("path", { d: line.good || "M0,0", class: "set-point" }));
    });
    const order = names.map((_, index) => index).sort((a, b) => (names[a] === front) - (names[b] === front));
    for (const index of order) {
      const channel = meta.channels[index];
      const line = pieces(data, data.series[index], scale, channel.failed_h);
      points += line.points;
      const group = make("g", { class: back(channel.name) ? "curve back" : channel.name === front ? "curve front" : "curve", "data-channel": channel.name });
      if (line.good) group.append(make("path", { d: line.good, "stroke-dasharray": DASHES[index % DASHES.length] || undefined }));
      if (line.bad) group.append(make("path", { d: line.bad, class: "failed", "stroke-dasharray": FAILED }));
      curves.append(group);
      if (!line.last || y(line.last[1]) < TOP || y(line.last[1]) > TOP + height() + 1) continue;
      const words = shorts[index] + (line.bad ? "×" : "");
      const label = (at, down, anchor) => {
        const text = make("text", { x: at, y: down, "text-anchor": anchor, class: `small rim name${back(channel.name) ? " back" : ""}`, "data-channel": channel.name }, words);
        labels.append(text);
      };
      ends.push({ at: Math.min(x(line.last[0]), left() + wide()) + 5, height: y(line.last[1]) + 4, label });
      // The name again at intervals, each line at its own places.
      const every = Math.max(160, wide() / 3);
      if (names.length <= 12)
        for (let px = left() + 30 + ((index * 47) % every); px < left() + wide() - 40; px += every) {
          const c = valueAt(data, data.series[index], from + ((to - from) * (px - left())) / wide());
          if (c !== null && y(c) > TOP + 8 && y(c) < TOP + height()) label(px, y(c) + 4, "middle");
        }
    }
    labels.prepend(placeEnds(ends));
    host.dataset.points = points;
    return [curves, labels];
  };

  const differences = () => {
    const lines = data.gaps.map((flat, index) => ({ sent: coarse(), flat, dash: index, index, back: front !== null && names[index] !== front, front: names[index] === front }));
    return lines.filter((line) => line.flat.length);
  };
  const drawDifference = (top) => {
    const lines = differences();
    const most = widest(lines.filter((line) => !line.back), from, to);
    const reach = Math.max(5, 1.15 * Math.abs(most?.value ?? 0));
    const told = most && { h: most.h, value: most.value, words: `${shorts[most.line.index]} ${signed(most.value)} ${meta.plan.unit}` };
    return drawPanel({ ...ground(top), id: "difference", title: "Measured less planned", unit: meta.plan.unit, low: -reach, high: reach, lines, mark: told });
  };
  const drawBeside = (panel, index, top) => {
    const sent = data.panels[index];
    const lines = sent.series.map((flat, i) => ({ sent: data, flat, dash: i, name: panel.names.length > 1 ? shortNames(panel.names)[i] : undefined }));
    if (besidePlan && sent.planned?.length) lines.push({ sent: data, flat: sent.planned, track: true, name: "plan" });
    return drawPanel({ ...ground(top), id: `beside-${index}`, title: panel.title, unit: panel.unit, low: 0, high: 1.1 * panel.highest || 1, lines });
  };
  const ground = (top) => ({ scale: { x, from, to }, left: left(), wide: wide(), top, height: panelHeight() });
  const drawBelow = () => {
    const drawn = [];
    let top = TOP + height() + BETWEEN;
    const next = ([group, points]) => {
      drawn.push(group);
      host.dataset.points = Number(host.dataset.points) + points;
      top += panelHeight() + BETWEEN;
    };
    if (besidePlan && meta.plan) next(drawDifference(top));
    meta.panels.forEach((panel, index) => next(drawBeside(panel, index, top)));
    return drawn;
  };

  const render = () => {
    if (!width()) return;
    const total = bottom() + FOOT;
    const [low, high] = range();
    const y = (value) => TOP + height() - (height() * (value - low)) / (high - low);
    svg.setAttribute("viewBox", `0 0 ${width()} ${total}`);
    svg.setAttribute("width", width());
    svg.setAttribute("height", total);
    svg.setAttribute("aria-label", `Temperatures of ${names.length} channels from ${hoursWords(from)} to ${hoursWords(to)}`);
    const clip = make("clipPath", { id: "log-clip" }, make("rect", { x: left(), y: TOP, width: wide(), height: height() }));
    const [limits, limitNames] = drawLimits(y);
    const parts = [clip, drawHappenings(), drawAxes(y, low, high), limits];
    if (data) parts.push(...drawCurves(y), limitNames, ...drawBelow());
    svg.classList.toggle("many", names.length > 8);
    svg.replaceChildren(...parts);
    host.dataset.from = from.toFixed(4);
    host.dataset.to = to.toFixed(4);
  };

  // Where the reading line stands: under the finger, at what was shown, else in the middle of the hold.
  const reading = () => {
    const inside = (h) => h !== null && h >= from && h <= to;
    const hold = meta.holds.map(([a, b]) => (a + b) / 2).find(inside);
    return [cursor, mark].find(inside) ?? hold ?? (from + to) / 2;
  };
  const besideWords = (h) => {
    const at = (flat, sent, panel) => {
      const value = flat && valueAt(sent, flat, h);
      return value === null || value === undefined ? "–" : `${value.toFixed(panel.highest < 20 ? 1 : 0)} ${panel.unit}`;
    };
    return meta.panels.map((panel, index) => {
      const { series, planned } = data.panels[index];
      const several = panel.names.length > 1 ? shortNames(panel.names) : [""];
      const measured = series.map((flat, i) => `${several[i]} ${at(flat, data, panel)}`.trim()).join(", ");
      const plan = besidePlan && panel.planned ? `plan ${at(planned, data, panel)}` : "";
      return `${panel.title.replace(" as planned", "")} ${[measured, plan].filter(Boolean).join(", ")}`;
    });
  };
  const tell = () => {
    const parts = [`${hoursWords(from)} to ${hoursWords(to)}, ${clock(from)} to ${clock(to)}.`];
    if (cursor !== null && data) {
      parts[0] = `${hoursWords(cursor)}, ${clock(cursor, true)}:`;
      names.forEach((name, index) => {
        if (front !== null && front !== name) return;
        const value = valueAt(data, data.series[index], cursor);
        parts.push(`${shorts[index]} ${value === null ? "–" : `${value.toFixed(0)} ${meta.unit}`}`);
        const planned = front && besidePlan && data.planned[index] ? valueAt(coarse(), data.planned[index], cursor) : null;
        if (planned !== null && value !== null) parts.push(`planned ${planned.toFixed(0)} ${meta.unit}, ${signed(value - planned)} ${meta.plan.unit}`);
      });
      parts.push(...besideWords(cursor));
    } else if (front) {
      const channel = meta.channels[names.indexOf(front)];
      parts.push(`In front: ${front}${channel?.role ? `, ${channel.role}` : ""}${channel?.failed ? `, ${channel.failed} from ${hoursWords(channel.failed_h)}` : ""}.`);
    }
    says.textContent = parts.join("   ");
    tellReadings();
  };
  const tellReadings = () => {
    if (!data) return;
    const h = reading();
    const of = (sent, flats) => Object.fromEntries(names.map((name, index) => [name, flats[index]?.length ? valueAt(sent, flats[index], h) : null]));
    const detail = { h, words: hoursWords(h), values: of(data, data.series), planned: besidePlan ? of(coarse(), data.planned) : {} };
    host.dispatchEvent(new CustomEvent("readings", { detail }));
  };

  const ask = async () => {
    asking?.abort();
    const own = new AbortController();
    asking = own;
    host.setAttribute("aria-busy", "true");
    try {
      const points = await load(from, to, Math.round(wide()), own.signal);
      if (asking !== own) return;
      data = points;
      host.dataset.columns = points.columns;
      host.removeAttribute("aria-busy");
      render();
      tell();
    } catch (error) {
      if (error.name === "AbortError") return;
      host.removeAttribute("aria-busy");
      says.textContent = error.message;
    }
  };

  const set = (a, b) => {
    const span = Math.min(meta.end_h, Math.max(SHORTEST_H, b - a));
    from = Math.max(0, Math.min(meta.end_h - span, (a + b) / 2 - span / 2));
    to = from + span;
    render();
    tell();
    ask();
  };
  const whole = () => {
    setFit(false);
    set(0, meta.end_h);
  };
  const zoom = (by, around = (from + to) / 2) => set(around - (around - from) * by, around + (to - around) * by);
  const pan = (by) => set(from + by * (to - from), to + by * (to - from));
  const bringForward = (name) => {
    front = front === name ? null : name;
    render();
    tell();
    host.dispatchEvent(new CustomEvent("front", { detail: front }));
  };

  // ---- Keys, wheel, fingers

  const step = (by) => {
    cursor = Math.min(to, Math.max(from, (cursor ?? reading()) + (by * (to - from)) / 60));
    render();
    tell();
  };
  field.addEventListener("keydown", (event) => {
    const does = {
      "+": () => zoom(0.5), "=": () => zoom(0.5), "-": () => zoom(2), ArrowLeft: () => pan(-0.2), ArrowRight: () => pan(0.2),
      0: whole, Home: () => set(0, to - from), End: () => set(meta.end_h - (to - from), meta.end_h), Escape: () => front && bringForward(front), ",": () => step(-1), ".": () => step(1),
    }[event.key];
    if (!does || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    does();
  });
  const hourOf = (event) => from + ((to - from) * (event.clientX - svg.getBoundingClientRect().left - left())) / wide();
  field.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    zoom(event.deltaY > 0 ? 1.25 : 0.8, hourOf(event));
  }, { passive: false });
  field.addEventListener("dblclick", (event) => zoom(0.4, hourOf(event)));

  const fingers = new Map();
  svg.addEventListener("pointerdown", (event) => {
    fingers.set(event.pointerId, { at: event.clientX, began: event.clientX });
    svg.setPointerCapture(event.pointerId);
  });
  svg.addEventListener("pointermove", (event) => {
    const finger = fingers.get(event.pointerId);
    if (!finger) {
      cursor = hourOf(event);
      render();
      tell();
      return;
    }
    const others = [...fingers].filter(([id]) => id !== event.pointerId);
    if (others.length) {
      const other = others[0][1].at;
      const [before, now] = [Math.abs(finger.at - other), Math.abs(event.clientX - other)];
      if (before > 8 && now > 8) zoom(before / now, hourOf({ clientX: other }));
    } else if (to - from < meta.end_h) {
      const by = ((finger.at - event.clientX) / wide()) * (to - from);
      set(from + by, to + by);
    }
    finger.at = event.clientX;
  });
  const lift = (event) => {
    const finger = fingers.get(event.pointerId);
    fingers.delete(event.pointerId);
    if (finger && event.type === "pointerup" && Math.abs(finger.began - event.clientX) < 4) {
      cursor = hourOf(event);
      const name = document.elementFromPoint(event.clientX, event.clientY)?.closest?.("[data-channel]")?.dataset.channel;
      if (name) bringForward(name);
      render();
      tell();
    }
  };
  svg.addEventListener("pointerup", lift);
  svg.addEventListener("pointercancel", lift);
  svg.addEventListener("pointerleave", () => {
    cursor = null;
    render();
    tell();
  });

  let drawnAt = 0;
  const watcher = new ResizeObserver(() => {
    if (width() === drawnAt) return;
    drawnAt = width();
    render();
    ask();
  });
  watcher.observe(host);
  return {
    bringForward,
    end: () => {
      watcher.disconnect();
      asking?.abort();
    },
    show: (at, round, channel) => {
      mark = at;
      front = channel ?? null;
      setFit(true);
      host.dispatchEvent(new CustomEvent("front", { detail: front }));
      set(at - round, at + round);
    },
  };
};
