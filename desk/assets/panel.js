// A low panel under the chart, on the same times: what was measured less what was planned, power, current.

import { make, ticks } from "./drawing.js";
import { DASHES, pieces, spread, within } from "./lines.js";

// `lines`: { sent, flat, name, dash, back, front, track }. `mark`: { h, value, words }.
export const drawPanel = ({ scale, left, wide, top, height, title, unit, low, high, lines, mark, id }) => {
  const y = (value) => top + height - (height * (value - low)) / (high - low);
  const own = { ...scale, y };
  const group = make("g", { class: "panel", "data-panel": id });
  for (const at of ticks(low, high, 3)) {
    group.append(make("path", { d: `M${left},${y(at)}h${wide}`, class: "hair" }));
    group.append(make("text", { x: left - 6, y: y(at) + 4, "text-anchor": "end", class: "small" }, `${at}`.replace("-", "−")));
  }
  const clip = make("clipPath", { id: `clip-${id}` }, make("rect", { x: left, y: top - 1, width: wide, height: height + 2 }));
  const inside = make("g", { "clip-path": `url(#clip-${id})` });
  const ends = [];
  let points = 0;
  for (const line of [...lines].sort((a, b) => Number(b.track ?? false) - Number(a.track ?? false) || Number(a.front ?? false) - Number(b.front ?? false))) {
    const { good, last, points: drawn } = pieces(line.sent, line.flat, own);
    points += drawn;
    const kind = line.track ? "track" : `curve${line.back ? " back" : line.front ? " front" : ""}`;
    if (good) inside.append(make("g", { class: kind }, make("path", { d: good, "stroke-dasharray": (!line.track && DASHES[line.dash % DASHES.length]) || undefined })));
    if (last && line.name) ends.push({ x: left + wide + 5, y: y(last[1]) + 4, name: line.name, soft: line.track });
  }
  group.append(clip, inside);
  ends.sort((a, b) => a.y - b.y);
  spread(ends.map((one) => one.y), top + 4, top + height + 4, 11).forEach((at, i) =>
    group.append(make("text", { x: ends[i].x, y: at, class: `small rim${ends[i].soft ? " soft" : ""}` }, ends[i].name)));
  if (low < 0 && high > 0) group.append(make("path", { d: `M${left},${y(0)}h${wide}`, class: "zero" }));
  group.append(make("path", { d: `M${left},${top}V${top + height}h${wide}`, stroke: "currentColor", fill: "none" }));
  group.append(make("text", { x: left, y: top - 6, class: "small soft rim" }, unit ? `${title}, ${unit}` : title));
  if (mark) {
    const x = own.x(mark.h);
    const [anchor, by] = x > left + wide - 90 ? ["end", -6] : ["start", 6];
    group.append(make("circle", { cx: x, cy: y(mark.value), r: 2.5, class: "f-full" }));
    group.append(make("text", { x: x + by, y: mark.value > 0 ? Math.max(top + 10, y(mark.value) + 4) : Math.min(top + height - 3, y(mark.value) + 4), "text-anchor": anchor, class: "small rim" }, mark.words));
  }
  return [group, points];
};

export const signed = (value) => `${value < 0 ? "−" : "+"}${Math.abs(Math.round(value))}`;

// The widest of some lines in a window.
export const widest = (lines, from, to) => {
  let best = null;
  for (const line of lines)
    for (const [h, value] of within(line.sent, line.flat, from, to)) if (!best || Math.abs(value) > Math.abs(best.value)) best = { h, value, line };
  return best;
};
