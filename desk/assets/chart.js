// The chart of a log. The desk sends at most two points a column and channel for the window that is looked at; moving and
// zooming stretch what is there at once and ask for the rest.

import { make, ticks } from "./drawing.js";

const DASHES = ["", "8 3", "3 3", "10 3 2 3", "14 4", "5 2 1.5 2", "4 6", "14 3 2 3 2 3"];
const FAILED = "1 4";
const SHORTEST_H = 1 / 60;
const STEPS_H = [1 / 60, 2 / 60, 5 / 60, 10 / 60, 15 / 60, 0.5, 1, 2, 3, 6, 12, 24, 48, 96];
const [TOP, FOOT] = [22, 40];

const node = (name, attributes = {}, ...children) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) if (value !== undefined) made.setAttribute(key, value);
  made.append(...children);
  return made;
};

export const hoursWords = (h) => {
  const minutes = Math.round(60 * h);
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
};

const short = (name, all) => {
  const digits = (one) => one.match(/\d+/g)?.join("") ?? one.slice(0, 4);
  const own = digits(name);
  return all.filter((other) => digits(other) === own).length > 1 ? name.slice(0, 8) : own;
};

export const createChart = (host, meta, load) => {
  const names = meta.channels.map((one) => one.name);
  const shorts = names.map((name) => short(name, names));
  const start = Date.parse(`${meta.start.slice(0, 19)}Z`);
  let [from, to] = [0, meta.end_h];
  let [front, mark, cursor, fit, data, asking] = [null, null, null, false, null, null];

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
  const field = node("div", { class: "field-of-view", tabindex: "0", role: "group", "aria-label": "Chart: plus and minus zoom, arrows move, 0 shows the whole log" });
  const svg = make("svg", { class: "log", role: "img" });
  const says = node("output", { class: "now" });
  field.append(svg);
  host.replaceChildren(tools, field, says);

  const width = () => host.clientWidth;
  const narrow = () => width() < 600;
  const left = () => (narrow() ? 36 : 48);
  const wide = () => Math.max(50, width() - left() - (narrow() ? 26 : 52));
  const height = () => Math.round(Math.min(330, Math.max(190, 0.36 * innerHeight)));
  const x = (h) => left() + (wide() * (h - from)) / (to - from);
  const clock = (h, seconds = false) => new Date(start + 3_600_000 * h).toISOString().slice(11, seconds ? 19 : 16);

  const range = () => {
    let [low, high] = [0, meta.highest];
    for (const limit of meta.limits) high = Math.max(high, limit.at);
    if (fit && data) {
      [low, high] = [Infinity, -Infinity];
      data.series.forEach((flat, index) => {
        if (front && names[index] !== front) return;
        for (let i = 0; i < flat.length; i += 2) {
          const h = data.from + ((data.to - data.from) * flat[i]) / (10 * data.columns);
          if (flat[i + 1] === null || h < from || h > to) continue;
          low = Math.min(low, flat[i + 1] / 10);
          high = Math.max(high, flat[i + 1] / 10);
        }
      });
      if (low > high) [low, high] = [0, meta.highest];
      const room = Math.max(4, 0.15 * (high - low));
      for (const { at, threshold } of meta.limits)
        if (!threshold && at > low - (high - low) - room && at < high + (high - low) + room) [low, high] = [Math.min(low, at), Math.max(high, at)];
      return [low - room, high + room];
    }
    return [Math.min(0, low), high * 1.08];
  };

  // One channel as pieces between gaps; what comes after its failure apart.
  const pieces = (flat, failed_h, y) => {
    const [good, bad] = [[], []];
    let [path, pathIsBad, points, last] = ["", false, 0, null];
    const end = () => {
      if (path) (pathIsBad ? bad : good).push(path);
      path = "";
    };
    for (let i = 0; i < flat.length; i += 2) {
      if (flat[i + 1] === null) {
        end();
        continue;
      }
      const h = data.from + ((data.to - data.from) * flat[i]) / (10 * data.columns);
      const isBad = failed_h !== null && h >= failed_h;
      const at = `${x(h).toFixed(1)},${y(flat[i + 1] / 10).toFixed(1)}`;
      if (isBad !== pathIsBad && path) {
        path += `L${at}`;
        end();
      }
      pathIsBad = isBad;
      path += path ? `L${at}` : `M${at}`;
      points += 1;
      if (h >= from && h <= to) last = [h, flat[i + 1] / 10];
    }
    end();
    return { good: good.join(""), bad: bad.join(""), points, last };
  };

  const valueAt = (flat, h) => {
    let [best, distance] = [null, Infinity];
    for (let i = 0; i < flat.length; i += 2) {
      if (flat[i + 1] === null) continue;
      const away = Math.abs(data.from + ((data.to - data.from) * flat[i]) / (10 * data.columns) - h);
      if (away < distance) [best, distance] = [flat[i + 1] / 10, away];
    }
    return distance < (3 * (to - from)) / data.columns + 0.02 ? best : null;
  };

  const drawAxes = (y, low, high) => {
    const group = make("g");
    const bottom = TOP + height();
    for (const at of ticks(low, high, fit ? 5 : 6)) {
      group.append(make("path", { d: `M${left()},${y(at)}h${wide()}`, class: "hair" }));
      group.append(make("text", { x: left() - 6, y: y(at) + 4, "text-anchor": "end", class: "small" }, at));
    }
    group.append(make("text", { x: 2, y: TOP - 8, class: "small soft" }, meta.unit));
    const step = STEPS_H.find((one) => (wide() * one) / (to - from) >= (narrow() ? 62 : 76)) ?? 96;
    for (let n = Math.ceil(from / step - 1e-9); n * step <= to + 1e-9; n += 1) {
      const h = n * step;
      const words = step < 1 ? `${Math.floor(h + 1e-9)}:${String(Math.round(60 * h) % 60).padStart(2, "0")}` : `${Math.round(h)}`;
      group.append(make("path", { d: `M${x(h)},${bottom}v4`, stroke: "currentColor" }));
      group.append(make("text", { x: x(h), y: bottom + 17, "text-anchor": "middle", class: "small" }, words));
      group.append(make("text", { x: x(h), y: bottom + 32, "text-anchor": "middle", class: "small soft" }, clock(h)));
    }
    const edge = left() + wide() + 6;
    group.append(make("text", { x: edge, y: bottom + 17, class: "small" }, step < 1 ? "h:min" : "h"));
    if (!narrow()) group.append(make("text", { x: edge, y: bottom + 32, class: "small soft" }, "clock"));
    group.append(make("path", { d: `M${left()},${TOP}V${bottom}h${wide()}`, stroke: "currentColor", fill: "none" }));
    return group;
  };

  const drawLimits = (y) => {
    const group = make("g");
    const [taken, named] = [[], []];
    for (const limit of meta.limits) {
      const at = y(limit.at);
      if (at < TOP || at > TOP + height()) continue;
      group.append(make("path", { d: `M${left()},${at}h${wide()}`, class: limit.threshold ? "threshold" : "limit" }));
      const kind = limit.words.split(",")[0];
      // Two of a kind on one line: the first name stands for both, the page lists each.
      if (named.some((other) => other.kind === kind && Math.abs(other.at - at) < 6)) continue;
      named.push({ kind, at });
      const words = narrow() ? kind : limit.words;
      let label = at + (limit.words.startsWith("at most") ? -4 : 12);
      while (taken.some((other) => Math.abs(other - label) < 12)) label += 12;
      taken.push(label);
      group.append(make("text", { x: left() + 5, y: label, class: "small rim" }, `${Math.round(limit.at)} ${meta.unit} ${words}`));
    }
    return group;
  };

  const drawHappenings = () => {
    const group = make("g");
    const bottom = TOP + height();
    for (const [a, b] of meta.holds) {
      if (b < from || a > to) continue;
      const [xa, xb] = [x(Math.max(a, from)), x(Math.min(b, to))];
      group.append(make("rect", { x: xa, y: TOP, width: Math.max(1, xb - xa), height: height(), class: "hold" }));
      if (xb - xa > 40) group.append(make("text", { x: (xa + xb) / 2, y: bottom - 6, "text-anchor": "middle", class: "small soft rim" }, "hold"));
    }
    let lastLabel = -Infinity;
    for (const event of meta.events) {
      if (event.h < from || event.h > to) continue;
      const line = make("g", {}, make("path", { d: `M${x(event.h)},${TOP - 4}V${bottom}`, class: "event" }));
      line.append(make("title", {}, `${hoursWords(event.h)}: ${event.words}`));
      const words = event.words.slice(0, 24);
      if (x(event.h) > lastLabel && x(event.h) + 6 * words.length < left() + wide()) {
        line.append(make("text", { x: x(event.h) + 3, y: TOP - 8, class: "small rim" }, words));
        lastLabel = x(event.h) + 6.5 * words.length;
      }
      group.append(line);
    }
    if (mark !== null && mark >= from && mark <= to) group.append(make("path", { d: `M${x(mark)},${TOP}V${bottom}`, class: "marked" }));
    if (cursor !== null && cursor >= from && cursor <= to) group.append(make("path", { d: `M${x(cursor)},${TOP}V${bottom}`, class: "hair" }));
    return group;
  };

  // Names at the ends of lines, each as near to its own as the others leave room.
  const placeEnds = (ends) => {
    const [lowest, step] = [TOP + height() + 4, Math.min(11, (height() + 8) / ends.length)];
    ends.sort((a, b) => a.height - b.height);
    ends.forEach((one, index) => {
      one.height = Math.max(TOP + 4, one.height, index ? ends[index - 1].height + step : 0);
    });
    for (let index = ends.length - 1; index >= 0; index -= 1)
      ends[index].height = Math.min(ends[index].height, index + 1 < ends.length ? ends[index + 1].height - step : lowest);
    for (const one of ends) one.label(one.at, one.height, "start");
  };

  const drawCurves = (y) => {
    const [curves, labels, ends] = [make("g", { "clip-path": "url(#log-clip)" }), make("g"), []];
    let points = 0;
    const back = (name) => front !== null && front !== name;
    data.beside.forEach((flat) => {
      const line = pieces(flat, null, y);
      points += line.points;
      curves.append(make("path", { d: line.good || "M0,0", class: "set-point" }));
    });
    const order = names.map((_, index) => index).sort((a, b) => (names[a] === front) - (names[b] === front));
    for (const index of order) {
      const channel = meta.channels[index];
      const line = pieces(data.series[index], channel.failed_h, y);
      points += line.points;
      const group = make("g", { class: back(channel.name) ? "curve back" : channel.name === front ? "curve front" : "curve", "data-channel": channel.name });
      if (line.good) group.append(make("path", { d: line.good, "stroke-dasharray": DASHES[index % DASHES.length] || undefined }));
      if (line.bad) group.append(make("path", { d: line.bad, class: "failed", "stroke-dasharray": FAILED }));
      curves.append(group);
      if (!line.last || y(line.last[1]) < TOP || y(line.last[1]) > TOP + height() + 1) continue;
      const words = shorts[index] + (line.bad ? "×" : "");
      const label = (at, height_, anchor) => {
        const text = make("text", { x: at, y: height_, "text-anchor": anchor, class: `small rim name${back(channel.name) ? " back" : ""}`, "data-channel": channel.name }, words);
        labels.append(text);
      };
      ends.push({ at: Math.min(x(line.last[0]), left() + wide()) + 5, height: y(line.last[1]) + 4, label });
      // The name again at intervals, each line at its own places.
      const every = Math.max(160, wide() / 3);
      if (names.length <= 12)
        for (let px = left() + 30 + ((index * 47) % every); px < left() + wide() - 40; px += every) {
          const c = valueAt(data.series[index], from + ((to - from) * (px - left())) / wide());
          if (c !== null && y(c) > TOP + 8 && y(c) < TOP + height()) label(px, y(c) + 4, "middle");
        }
    }
    placeEnds(ends);
    host.dataset.points = points;
    return [curves, labels];
  };

  const render = () => {
    if (!width()) return;
    const total = TOP + height() + FOOT;
    const [low, high] = range();
    const y = (value) => TOP + height() - (height() * (value - low)) / (high - low);
    svg.setAttribute("viewBox", `0 0 ${width()} ${total}`);
    svg.setAttribute("width", width());
    svg.setAttribute("height", total);
    svg.setAttribute("aria-label", `Temperatures of ${names.length} channels from ${hoursWords(from)} to ${hoursWords(to)}`);
    const clip = make("clipPath", { id: "log-clip" }, make("rect", { x: left(), y: TOP, width: wide(), height: height() }));
    const parts = [clip, drawHappenings(), drawAxes(y, low, high), drawLimits(y)];
    if (data) parts.push(...drawCurves(y));
    svg.replaceChildren(...parts);
    host.dataset.from = from.toFixed(4);
    host.dataset.to = to.toFixed(4);
  };

  const tell = () => {
    const parts = [`${hoursWords(from)} to ${hoursWords(to)}, ${clock(from)} to ${clock(to)}.`];
    if (cursor !== null && data) {
      parts[0] = `${hoursWords(cursor)}, ${clock(cursor, true)}:`;
      names.forEach((name, index) => {
        if (front !== null && front !== name) return;
        const value = valueAt(data.series[index], cursor);
        parts.push(`${shorts[index]} ${value === null ? "–" : `${value.toFixed(0)} ${meta.unit}`}`);
      });
    } else if (front) {
      const channel = meta.channels[names.indexOf(front)];
      parts.push(`In front: ${front}${channel.role ? `, ${channel.role}` : ""}${channel.failed ? `, ${channel.failed} from ${hoursWords(channel.failed_h)}` : ""}.`);
    }
    says.textContent = parts.join("   ");
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

  field.addEventListener("keydown", (event) => {
    const does = {
      "+": () => zoom(0.5), "=": () => zoom(0.5), "-": () => zoom(2), ArrowLeft: () => pan(-0.2), ArrowRight: () => pan(0.2),
      0: whole, Home: () => set(0, to - from), End: () => set(meta.end_h - (to - from), meta.end_h), Escape: () => front && bringForward(front),
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
