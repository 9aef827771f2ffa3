// The predicted chart with a slider over time: under the slider, the drawing shows how heat walks through wall and pipe.

import { degreeTicks, make, shownTemperature, ticks } from "./drawing.js";
import { DASHES, hoursWords, shorts, spread } from "./lines.js";

// From the coldest to the hottest reading of the hold, with its limits where they lie near.
const rangeOf = (inView, held, hold) => {
  const ofHold = inView.filter((scan) => scan.time_s >= 3600 * hold.from_h && scan.time_s <= 3600 * hold.to_h);
  const all = ofHold.flatMap((scan) => scan.readings_c.filter((c) => c !== null));
  const near = all.filter((c) => c > held[0] - 60);
  const values = [...(near.length ? near : all), ...held];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = 0.12 * (high - low) + 1;
  return [low - room, high + room];
};

// The stages in words; below the threshold no limit holds the rate.
const STAGES = { free_heating: "heating, rate not limited", leveling: "waiting" };

export const createWalk = async (host, address, stage, us, isOfThis) => {
  const [plan, film] = await Promise.all(
    ["plan.json", "frames.json"].map(async (file) => {
      const response = await fetch(`${address}/plan/${file}`);
      return response.ok ? response.json() : null;
    }),
  );
  if (!plan?.course?.scans?.length) return null;
  const { scans, channels, stages } = plan.course;
  const end = scans[scans.length - 1].time_s;
  const hottest = Math.max(...scans.flatMap((scan) => scan.readings_c.filter((c) => c !== null)));
  const svg = make("svg", { class: "walk", role: "img", "aria-label": `Predicted temperatures of ${channels.length} thermocouples over ${hoursWords(end / 3600)}` });
  const slider = Object.assign(document.createElement("input"), { type: "range", min: 0, max: Math.round(end), step: 60, value: 0 });
  slider.setAttribute("aria-label", "Time of the cycle");
  const says = document.createElement("output");
  says.className = "now";
  const older = document.createElement("p");
  older.className = "look";
  older.textContent = "▲ The job was changed after this plan was made: what is predicted here is of the older file.";
  // All lines lie close together in the hold; alone, it takes the whole width and height.
  const hold = stages.find((one) => one.stage === "hold");
  let [from, to] = [0, end];
  const alone = Object.assign(document.createElement("button"), { type: "button", className: "quiet", textContent: "The hold alone" });
  alone.setAttribute("aria-pressed", "false");
  alone.hidden = !hold;
  alone.addEventListener("click", () => {
    const is = alone.getAttribute("aria-pressed") === "false";
    alone.setAttribute("aria-pressed", is);
    const beside = is ? 0.15 * 3600 * (hold.to_h - hold.from_h) : 0;
    [from, to] = is ? [Math.max(0, 3600 * hold.from_h - beside), Math.min(end, 3600 * hold.to_h + beside)] : [0, end];
    const now = Number(slider.value);
    Object.assign(slider, { min: Math.round(from), max: Math.round(to), value: Math.min(to, Math.max(from, now)) });
    walk();
  });
  const tools = document.createElement("div");
  tools.className = "tools";
  tools.append(alone);
  host.replaceChildren(older, tools, svg, slider, says);
  let front = [];
  const [left, right, top, height] = [52, 34, 24, 250];
  const named = shorts(channels);

  const render = () => {
    const width = host.clientWidth;
    older.hidden = isOfThis();
    if (!width) return;
    const wide = width - left - right;
    const held = stage.drawing?.hold_c ?? [];
    const isAlone = to - from < end;
    const inView = scans.filter((scan) => scan.time_s >= from && scan.time_s <= to);
    const [low, high] = isAlone ? rangeOf(inView, held, hold) : [0, Math.max(hottest, ...held) * 1.06];
    const x = (s) => left + (wide * (s - from)) / (to - from);
    const y = (c) => top + height - (height * (c - low)) / (high - low);
    const inside = (c) => c >= low && c <= high;
    svg.setAttribute("viewBox", `0 0 ${width} ${height + 34}`);
    svg.setAttribute("width", width);
    svg.setAttribute("height", height + 34);
    svg.replaceChildren();
    for (const { c, words } of degreeTicks(high, us, ((isAlone ? 7 : 6) * high) / (high - low)).filter((tick) => inside(tick.c))) {
      svg.append(make("path", { d: `M${left},${y(c)}H${left + wide}`, class: "hair" }));
      svg.append(make("text", { x: left - 6, y: y(c) + 4, "text-anchor": "end", class: "small" }, words));
    }
    svg.append(make("text", { x: 2, y: top - 8, class: "small soft" }, us ? "°F" : "°C"));
    for (const h of ticks(from / 3600, to / 3600, width < 600 ? 4 : 10)) {
      svg.append(make("path", { d: `M${x(h * 3600)},${top + height}v4`, stroke: "currentColor" }));
      svg.append(make("text", { x: x(h * 3600), y: top + height + 17, "text-anchor": "middle", class: "small" }, h));
    }
    svg.append(make("text", { x: left + wide + 4, y: top + height + 17, class: "small soft" }, "h"));
    svg.append(make("path", { d: `M${left},${top}V${top + height}H${left + wide}`, stroke: "currentColor", fill: "none" }));
    for (const c of held.filter(inside))
      svg.append(make("path", { d: `M${left},${y(c)}H${left + wide}`, stroke: "currentColor", "stroke-dasharray": "6 3", fill: "none" }));
    for (const one of stages) {
      const [begin, over] = [Math.max(from, one.from_h * 3600), Math.min(to, one.to_h * 3600)];
      if (over <= begin) continue;
      svg.append(make("path", { d: `M${x(begin)},${top}V${top + height}`, class: "hair" }));
      const room = x(over) - x(begin);
      const name = STAGES[one.stage] ?? one.stage;
      if (room > 20 + 7 * name.length) svg.append(make("text", { x: x(begin) + 4, y: top - 8, class: "small soft rim" }, name));
    }
    const curves = make("g", { "clip-path": "url(#walk-clip)" });
    svg.append(make("clipPath", { id: "walk-clip" }, make("rect", { x: left, y: top, width: wide, height })), curves);
    const ends = [];
    channels.forEach((name, index) => {
      const points = inView.filter((scan) => scan.readings_c[index] !== null).map((scan) => [x(scan.time_s), y(scan.readings_c[index])]);
      if (!points.length) return;
      const back = front.length && !front.includes(name);
      const d = `M${points.map((at) => at.map((one) => one.toFixed(1)).join()).join("L")}`;
      curves.append(make("path", { d, class: "curve", "stroke-dasharray": DASHES[index % DASHES.length] || undefined, opacity: back ? 0.25 : 1, "stroke-width": front.includes(name) ? 2.2 : undefined }));
      const at = points[points.length - 1];
      if (at[1] >= top && at[1] <= top + height) ends.push({ words: named[index], at, is: front.includes(name) });
    });
    // Names at the ends of lines; one that had to give way is led to its line.
    ends.sort((a, b) => a.at[1] - b.at[1]);
    spread(ends.map((one) => one.at[1]), top + 4, top + height - 4, 11).forEach((at, i) => {
      const [px, py] = ends[i].at;
      svg.append(make("path", { d: `M${px + 1},${py}L${px + 10},${at}`, class: "leader" }));
      svg.append(make("text", { x: px + 12, y: at + 4, class: `small${ends[i].is ? " strong" : ""}` }, ends[i].words));
    });
    const now = Number(slider.value);
    svg.classList.toggle("many", channels.length > 8);
    svg.append(make("path", { d: `M${x(now)},${top}V${top + height}`, stroke: "currentColor", "stroke-width": 2 }));
  };

  const nearestBy = (list, s) => list.reduce((best, one) => (Math.abs(one.time_s - s) < Math.abs(best.time_s - s) ? one : best), list[0]);

  const walk = () => {
    const now = Number(slider.value);
    const scan = nearestBy(scans, now);
    const readings = channels.map((name, index) => `${named[index]} ${scan.readings_c[index] === null ? "–" : shownTemperature(scan.readings_c[index], us)}`);
    says.textContent = `${hoursWords(now / 3600)}.  ${readings.join("   ")}`;
    slider.setAttribute("aria-valuetext", hoursWords(now / 3600));
    if (film?.frames?.length) {
      const frame = nearestBy(film.frames, now);
      const line = (values) => film.places_mm.map((z, i) => [z, values[i]]);
      stage.show({ outside: line(frame.outside_c), bore: line(frame.bore_c), hot: hottest }, `predicted at ${hoursWords(now / 3600)}${isOfThis() ? "" : ", by the plan of an older file"}`);
    }
    render();
  };
  slider.addEventListener("input", walk);
  new ResizeObserver(render).observe(host);
  render();
  return {
    bringForward: (names) => {
      front = front.join() === names.join() ? [] : names;
      render();
    },
    redraw: render,
  };
};
