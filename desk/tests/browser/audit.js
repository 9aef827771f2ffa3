// What a page owes to people who use a keyboard, a screen reader, a small screen or little light. Returns what is wrong.
const wrong = [];
const shown = (node) => {
  const box = node.getBoundingClientRect();
  const style = getComputedStyle(node);
  return box.width > 0 && box.height > 0 && style.visibility !== "hidden" && style.display !== "none";
};
const where = (node) => `${node.tagName.toLowerCase()}${node.id ? `#${node.id}` : ""}${node.className?.baseVal ?? node.className ? `.${String(node.className?.baseVal ?? node.className).split(" ")[0]}` : ""} ${JSON.stringify((node.textContent ?? "").trim().slice(0, 30))}`;

// Language, title, landmarks, headings.
if (!document.documentElement.lang) wrong.push("no language");
if (!document.title.trim()) wrong.push("no title");
if (document.querySelectorAll("main").length !== 1) wrong.push("not exactly one main");
if (document.querySelectorAll("h1").length !== 1) wrong.push(`${document.querySelectorAll("h1").length} h1`);
let level = 0;
for (const heading of document.querySelectorAll("h1,h2,h3,h4,h5,h6")) {
  const next = Number(heading.tagName[1]);
  if (next > level + 1) wrong.push(`heading jumps from ${level} to ${next}: ${where(heading)}`);
  level = next;
}

// Ids and what refers to them.
const ids = new Set();
for (const node of document.querySelectorAll("[id]")) {
  if (ids.has(node.id)) wrong.push(`id twice: ${node.id}`);
  ids.add(node.id);
}
for (const name of ["aria-describedby", "aria-labelledby", "aria-controls"])
  for (const node of document.querySelectorAll(`[${name}]`))
    for (const id of node.getAttribute(name).split(" "))
      if (!document.getElementById(id)) wrong.push(`${name} to nothing: ${id}`);

// Names.
const nameOf = (node) => {
  const by = node.getAttribute("aria-labelledby");
  if (by) return by.split(" ").map((id) => document.getElementById(id)?.textContent ?? "").join(" ");
  return node.getAttribute("aria-label") ?? [...(node.labels ?? [])].map((label) => label.textContent).join(" ") + (/^(BUTTON|A|SUMMARY)$/.test(node.tagName) ? node.textContent : "");
};
const interactive = "a[href],button,input,select,textarea,summary,[tabindex='0'],[role=slider]";
for (const node of document.querySelectorAll(interactive)) if (!nameOf(node).trim() && shown(node)) wrong.push(`no name: ${where(node)}`);
for (const node of document.querySelectorAll("img,svg[role=img]"))
  if (!(node.getAttribute("alt") ?? node.getAttribute("aria-label") ?? node.querySelector("title")?.textContent)) wrong.push(`picture without words: ${where(node)}`);
for (const node of document.querySelectorAll("th")) if (!node.getAttribute("scope")) wrong.push(`th without scope: ${where(node)}`);

// Order and size of what is touched.
for (const node of document.querySelectorAll("[tabindex]")) if (Number(node.getAttribute("tabindex")) > 0) wrong.push(`own order of focus: ${where(node)}`);
for (const node of document.querySelectorAll("button,input:not([type=checkbox]),select,summary")) {
  if (!shown(node)) continue;
  const box = node.getBoundingClientRect();
  if (box.height < 43.5 || box.width < 43.5) wrong.push(`too small to touch, ${Math.round(box.width)} x ${Math.round(box.height)}: ${where(node)}`);
}

// Nothing wider than the screen.
if (document.documentElement.scrollWidth > innerWidth + 1) {
  const wide = [...document.querySelectorAll("main *")].filter((node) => node.getBoundingClientRect().right > innerWidth + 1 && !node.closest(".wide,table,svg,textarea"));
  wrong.push(`wider than the screen: ${document.documentElement.scrollWidth} > ${innerWidth}; ${wide.slice(0, 3).map(where).join(", ")}`);
}

// Contrast, by the formula of WCAG 2.2.
const canvas = Object.assign(document.createElement("canvas"), { width: 1, height: 1 }).getContext("2d", { willReadFrequently: true });
const rgba = (color) => {
  canvas.clearRect(0, 0, 1, 1);
  canvas.fillStyle = color;
  canvas.fillRect(0, 0, 1, 1);
  const [r, g, b, a] = canvas.getImageData(0, 0, 1, 1).data;
  return [r, g, b, a / 255];
};
const over = (top, below) => [0, 1, 2].map((i) => top[i] * top[3] + below[i] * (1 - top[3]));
const ground = (node) => {
  const layers = [];
  for (let at = node; at; at = at.parentElement) layers.push(rgba(getComputedStyle(at).backgroundColor));
  return layers.reverse().reduce((below, layer) => over(layer, below), [255, 255, 255]);
};
const luminance = (color) => {
  const [r, g, b] = color.map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
const told = new Set();
while (walker.nextNode()) {
  const node = walker.currentNode.parentElement;
  if (!walker.currentNode.data.trim() || !shown(node) || node.closest(":disabled,[aria-busy=true],script,title,desc")) continue;
  const style = getComputedStyle(node);
  const behind = ground(node);
  const ink = over(rgba(node.namespaceURI.endsWith("svg") ? style.fill : style.color), behind);
  const [light, dark] = [luminance(ink), luminance(behind)].sort((a, b) => b - a);
  const size = parseFloat(style.fontSize);
  const needed = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 600) ? 3 : 4.5;
  const contrast = (light + 0.05) / (dark + 0.05);
  const key = where(node);
  if (contrast < needed && !told.has(key)) {
    told.add(key);
    wrong.push(`contrast ${contrast.toFixed(2)}: ${key}`);
  }
}
return wrong;
