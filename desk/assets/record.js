// The record page: logs in, how they were understood, chart and findings, decisions, revisions.

import { mayAct, Refused, talk } from "./talk.js";
import { createChart } from "./chart.js";
import { createStage, onlyPredicted } from "./drawing.js";
import * as stations from "./stations.js";
import { tour } from "./tour.js";

const $ = (selector, within = document) => within.querySelector(selector);
const record = $("#record");
const address = record.dataset.address;
const state = { tag: record.dataset.tag, chart: null, asking: null };

const says = (form, words) => {
  const at = $(".says", form);
  at.textContent = words;
  // What is said is seen, whatever lies at the lower edge.
  if (words) at.scrollIntoView({ block: "nearest" });
};
const attempt = async (form, does) => {
  says(form, "");
  try {
    await does();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    says(form, error.message);
  }
};

// ---- Logs and what they say

const chosen = () => {
  const boxes = [...document.querySelectorAll("#logs input")];
  return boxes.every((box) => box.checked) ? "" : `logs=${encodeURIComponent(boxes.filter((box) => box.checked).map((box) => box.value).join("/"))}`;
};

const judge = async () => {
  state.asking?.abort();
  const own = new AbortController();
  state.asking = own;
  const findings = $("#findings");
  findings.setAttribute("aria-busy", "true");
  try {
    const shown = await (await talk("GET", `${address}/record/judged?${chosen()}`, { signal: own.signal })).json();
    if (state.asking !== own) return;
    show(shown);
  } catch (error) {
    if (error.name === "AbortError") return;
    if (!(error instanceof Refused)) throw error;
    $("#chart-section").hidden = true;
    const lines = error.message.split("\n").map((line) => Object.assign(document.createElement("p"), { textContent: `■ ${line}`, className: "passed" }));
    findings.replaceChildren(...lines);
  }
  findings.removeAttribute("aria-busy");
};

// What can be chosen changes with what is judged; what was chosen stays, where it still can be.
const offer = (name, options) => {
  const list = $(`#answer-for [name=${name}],#decide [name=${name}]`);
  if (!list) return;
  const chosen = list.value;
  list.innerHTML = options;
  list.value = [...list.options].some((one) => one.value === chosen) ? chosen : "";
};

let landed = false;
const show = (shown) => {
  state.tag = shown.tag;
  $("#understood").innerHTML = shown.understood;
  $("#findings").innerHTML = shown.findings;
  $("#decided").innerHTML = shown.decided;
  for (const [name, options] of Object.entries(shown.choices)) offer(name, options);
  // Before anything is judged there is nothing to decide.
  for (const box of ["#answer-box", "#decide-box"]) if ($(box)) $(box).hidden = shown.chart === null;
  if ($("#stays-open")) $("#stays-open").innerHTML = shown.stays_open;
  if (!mayAct) for (const button of document.querySelectorAll("[data-take-back],[data-decide],[data-deviation],[data-answers-all],#understood button")) button.remove();
  const make = $("#make button");
  if (make) make.disabled = shown.chart === null;
  $("#chart-section").hidden = shown.chart === null;
  state.chart?.end();
  state.chart = null;
  $("#joint").hidden = !shown.chart || !shown.joint;
  if (shown.chart) drawChart(shown.chart, shown.joint);
  wireForms();
  // What the address leads to moved down while logs and findings came in above it.
  if (!landed && location.hash.length > 1) document.getElementById(location.hash.slice(1))?.scrollIntoView({ block: "center" });
  landed = true;
};

// ---- The chart and the joint beside it answer each other

const chartBox = $("#chart");
const stage = createStage($("#drawing"), { mayAct: false, stations, onThermocouple: ([name]) => state.chart?.bringForward(name) });

const drawChart = (meta, joint) => {
  const load = async (from, to, columns, signal) => (await talk("GET", `${address}/record/chart?from=${from}&to=${to}&columns=${columns}&${chosen()}`, { signal })).json();
  state.isUs = meta.unit === "°F";
  if (joint) {
    stage.set(joint);
    $("#only-predicted").textContent = onlyPredicted(joint);
    stage.read({ front: null, known: new Set(meta.channels.map((one) => one.name)), failed: new Set(meta.channels.filter((one) => one.failed_h !== null).map((one) => one.name)) });
  }
  state.chart = createChart(chartBox, meta, load);
};
// It stays in view while it leaves room for what it is read with.
const section = $("#chart-section");
const fitChart = () => {
  const below = $("#tour")?.offsetHeight ?? 0;
  section.classList.toggle("tall", section.offsetHeight > 0.68 * innerHeight - below);
  // What is scrolled to comes to lie below it, not under it; it itself goes to the top.
  const stuck = getComputedStyle(section).position === "sticky";
  const room = stuck ? section.offsetHeight + 16 : 0;
  document.documentElement.style.scrollPaddingTop = stuck ? `${room}px` : "";
  for (const one of [section, chartBox]) one.style.scrollMarginTop = `${-room}px`;
};
new ResizeObserver(fitChart).observe(section);
addEventListener("tour", fitChart);
addEventListener("resize", fitChart);
const inCelsius = (values) => Object.fromEntries(Object.entries(values).map(([name, t]) => [name, t === null || !state.isUs ? t : (t - 32) / 1.8]));
chartBox.addEventListener("readings", ({ detail: { words, values, planned } }) => {
  if (stage.drawing) stage.read({ words, values: inCelsius(values), planned: inCelsius(planned) });
});
chartBox.addEventListener("front", (event) => {
  for (const button of document.querySelectorAll("button[aria-pressed][data-channel]")) button.setAttribute("aria-pressed", button.dataset.channel === event.detail);
  if (stage.drawing) stage.read({ front: event.detail });
});

const answer = (form, answers) => attempt(form, async () => {
  await talk("POST", `${address}/record/answers`, { body: { answers, tag: state.tag } });
  await judge();
});

// Key and value of each field that holds; several values of one key are one answer.
const pairsOf = (form) => {
  const given = new Map();
  const give = (key, value) => given.set(key, (given.get(key) ?? new Set()).add(value));
  const { column, is } = form.elements;
  if (column) give(`column.${column.value}`, is.value);
  for (const field of form.elements) {
    const isOff = field.matches(":disabled") || (field.type === "checkbox" && !field.checked) || field.closest("[hidden]");
    const isClock = field.matches("[data-or-clock]") && field.value === "clock";
    if (!field.name || field === column || field === is || isOff || isClock) continue;
    for (const key of keysOf(field)) give(key, field.value);
  }
  return [...given].map(([key, values]) => [key, [...values].join(",")]);
};
// An answer may be one for all files of which the same is asked.
const keysOf = (field) => {
  const key = field.selectedOptions?.[0]?.dataset.key ?? field.name;
  const box = field.closest("[data-alike]");
  const isForAll = box && isSame(box) && key.startsWith("file.");
  return isForAll ? JSON.parse(box.dataset.alike).map((file) => `file.${file}${key.slice(key.lastIndexOf("."))}`) : [key];
};
const isSame = (box) => box.querySelector("[data-same]").checked;

// One answer for files of which the same is asked: what is asked of the others goes out of the way.
const wireAlike = (box) => {
  const others = box.querySelector(":scope > div:last-child");
  box.querySelector("[data-same]").addEventListener("change", () => {
    others.hidden = isSame(box);
    for (const field of others.querySelectorAll("[name],fieldset")) field.disabled = others.hidden;
  });
};

const wireForms = () => {
  const answers = $("#answers");
  answers?.addEventListener("submit", (event) => {
    event.preventDefault();
    if ([...answers.querySelectorAll("fieldset.field:not([disabled])")].some((one) => !one.querySelector(":checked"))) {
      says(answers, "Tick at least one.");
      return;
    }
    answer(answers, pairsOf(answers));
  });
  for (const box of answers?.querySelectorAll("[data-alike]") ?? []) wireAlike(box);
  answers?.querySelector("[data-or-clock]")?.addEventListener("change", ({ target }) => {
    const box = $("#clock-was-wrong");
    box.hidden = target.value !== "clock";
    $("input", box).required = !box.hidden;
  });
  const given = $("#given");
  given?.addEventListener("submit", (event) => {
    event.preventDefault();
    const was = (one) => (one.options ? [...one.options].find((option) => option.defaultSelected)?.value ?? "" : one.defaultValue);
    const { column, is, of } = given.elements;
    const changed = [...given.elements].filter((one) => one.name && ![column, is, of].includes(one) && one.value.trim() !== was(one));
    const isNew = (one) => of && of.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING;
    const keyOf = (one) => (of?.value && isNew(one) ? `file.${of.value}.${one.name}` : one.name);
    const pairs = changed.map((one) => [keyOf(one), one.value.trim()]);
    if (column.value) pairs.push([`column.${column.value}`, is.value]);
    if (pairs.length) answer(given, pairs);
    else says(given, "Nothing was changed.");
  });
  const names = $("#names");
  names?.addEventListener("submit", (event) => {
    event.preventDefault();
    const changed = [...names.elements].filter((one) => one.name && one.value !== [...one.options].find((option) => option.defaultSelected)?.value);
    answer(names, changed.map((one) => [`name.${one.name}`, one.value]));
  });
};

$("#logs")?.addEventListener("change", judge);

// ---- From a finding to its place, from a name to its line

// The chart stays in view above, so a form is brought to the lower edge, alone and whole.
const bringForm = (box, other, behavior) => {
  $(other).open = false;
  $(box).open = true;
  $(`${box} [name="reason"]`).focus({ preventScroll: true });
  $(box).scrollIntoView({ block: "end", behavior });
};

// A time as the page tells it, just before, so that the first bad reading leaves, too.
const justBefore = (hours) => {
  const seconds = Math.max(0, Math.ceil(3600 * hours - 0.001) - 1);
  const parts = [[Math.floor(seconds / 3600), "h"], [Math.floor(seconds / 60) % 60, "min"], [seconds % 60, "s"]];
  return parts.filter(([number], place) => number || place === 0).map(([number, unit]) => `${number} ${unit}`).join(" ");
};

record.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  const { show: at, round, channel, decide, from, deviation, cause, answersAll, takeBack, list, aside } = button.dataset;
  const smooth = matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth";
  if (at !== undefined) {
    state.chart?.show(Number(at), Number(round), channel);
    $("#chart-section").scrollIntoView({ block: "start", behavior: smooth });
  } else if (decide) {
    const form = $("#decide");
    form.elements.channel.value = decide;
    form.elements.from.value = justBefore(Number(from));
    bringForm("#decide-box", "#answer-box", smooth);
  } else if (deviation || answersAll) {
    const first = answersAll ? waiting(answersAll)[0] : deviation;
    $("#answer-for").elements.deviation.value = first;
    tellChosen();
    offerAlso(first, answersAll ?? cause, answersAll !== undefined);
    bringForm("#answer-box", "#decide-box", smooth);
  } else if (aside) {
    talk("DELETE", `${address}/logs/${encodeURIComponent(aside)}`).then(() => reload("logs-heading"), (error) => {
      button.after(Object.assign(document.createElement("p"), { textContent: `■ ${error.message}`, className: "passed" }));
    });
  } else if (takeBack && !button.dataset.sure) {
    button.dataset.sure = "yes";
    button.textContent = "Take it back: press once more. It leaves the job file, and records made before keep it";
  } else if (takeBack) {
    const form = $("#decide");
    attempt(form, async () => {
      await talk("DELETE", `${address}/record/decisions`, { body: { list, number: Number(takeBack), tag: state.tag } });
      await judge();
    });
  } else if (channel) state.chart?.bringForward(channel);
});

// Of a field of several lines a browser shows only the line that is written in.
record.addEventListener("focusin", ({ target }) => target.matches("textarea.words") && target.scrollIntoView({ block: "nearest" }));

// ---- One answer for what comes from one cause

const waiting = (cause) => [...document.querySelectorAll("[data-deviation]")].filter((one) => one.dataset.cause === cause).map((one) => one.dataset.deviation);

const offerAlso = (deviation, cause, isTicked) => {
  const others = cause ? waiting(cause).filter((one) => one !== deviation) : [];
  const box = $("#also");
  box.hidden = others.length === 0;
  $("legend", box).textContent = others.length ? `From the same cause (${cause}). What is ticked gets the same answer.` : "";
  $("div", box).replaceChildren(
    ...others.map((one) => {
      const line = Object.assign(document.createElement("label"), { className: "tick-line" });
      line.append(Object.assign(document.createElement("input"), { type: "checkbox", name: "also", value: one, checked: isTicked }), Object.assign(document.createElement("span"), { textContent: one }));
      return line;
    }),
  );
};
// A list shows the beginning of a deviation; below it stands the whole.
const tellChosen = () => {
  const list = $("#answer-for").elements.deviation;
  const at = $("#chosen");
  at.hidden = list.value.length < 40;
  at.textContent = list.value;
  offerAlso(list.value, list.selectedOptions[0]?.dataset.cause, false);
};
$("#answer-for")?.elements.deviation.addEventListener("change", tellChosen);

// The next that waits is offered where the last was answered for.
const offerNext = (form) => {
  const waits = [...document.querySelectorAll("[data-deviation]")].map((one) => one.dataset.deviation);
  form.elements.deviation.value = waits[0] ?? "";
  tellChosen();
  const more = waits.length === 1 ? "1 deviation still waits; it is chosen above." : `${waits.length} deviations still wait; the next is chosen above.`;
  return waits.length ? more : "No deviation waits any more.";
};

// What is pressed stays under the eye while the page above it changes.
const inPlace = async (form, does) => {
  const button = $("button[type=submit]", form);
  const before = button.getBoundingClientRect().top;
  await does();
  scrollBy({ top: button.getBoundingClientRect().top - before, behavior: "instant" });
};

for (const [selector, place] of [["#decide", "decisions"], ["#answer-for", "answers-for"]]) {
  const form = $(selector);
  form?.addEventListener("submit", (event) => {
    event.preventDefault();
    attempt(form, async () => {
      await talk("POST", `${address}/record/${place}`, { body: { ...Object.fromEntries(new FormData(form)), ...(form.id === "answer-for" ? { also: new FormData(form).getAll("also") } : {}), tag: state.tag } });
      const { by } = form.elements;
      by.defaultValue = by.value;
      form.reset();
      await inPlace(form, judge);
      const next = form.id === "answer-for" ? offerNext(form) : "";
      says(form, `Kept in the job file; a record made from now on carries it. ${next}`);
    });
  });
}

// ---- Who is here: a name typed into one form stands in the next; who accepts says so anew

const NAME = "name of who is here";
const named = ["#answer-for [name=by]", "#decide [name=by]", "#make [name=looked_at_by]"].map((selector) => $(selector)).filter(Boolean);
const fillNames = () => {
  const name = sessionStorage.getItem(NAME) ?? "";
  for (const field of named) if (field.value === field.defaultValue) field.value = field.defaultValue = name;
};
for (const field of named)
  field.addEventListener("change", () => {
    sessionStorage.setItem(NAME, field.value);
    fillNames();
  });
fillNames();

// ---- Revisions

let leaving = false;
const reload = (place) => {
  leaving = true;
  location.hash = place;
  location.reload();
};
const make = $("#make");
make?.addEventListener("submit", (event) => {
  event.preventDefault();
  attempt(make, async () => {
    says(make, "Making the record …");
    await talk("POST", `${address}/record?${chosen()}`, { body: { looked_at_by: make.elements.looked_at_by.value } });
    reload("proven-heading");
  });
});
const accept = $("#accept");
accept?.addEventListener("submit", (event) => {
  event.preventDefault();
  attempt(accept, async () => {
    await talk("POST", `${address}/record/accepted`, { body: Object.fromEntries(new FormData(accept)) });
    reload("proven-heading");
  });
});

// ---- Dropping

const dropSays = $("#drop-says");
const part = $("#drop-part");

// `fetch` does not tell how far an upload is; the older way does.
const send = (log) => new Promise((done, refused) => {
  const request = new XMLHttpRequest();
  request.open("PUT", `${address}/logs/${encodeURIComponent(log.name)}`);
  request.setRequestHeader("x-desk-token", $('meta[name="desk-token"]').content);
  request.upload.addEventListener("progress", (event) => (part.value = event.loaded / Math.max(1, event.total)));
  request.addEventListener("load", () => {
    if (request.status < 300) return done();
    const page = new DOMParser().parseFromString(request.responseText, "text/html");
    refused(new Refused($("#says", page)?.textContent ?? `The desk answered with ${request.status}.`, request.status));
  });
  request.addEventListener("error", () => refused(new Refused(`The desk does not answer; ${log.name} was not kept. Drop it again when it does.`, 0)));
  request.send(log);
});

const takeLogs = async (files) => {
  part.hidden = false;
  try {
    for (const log of files) {
      dropSays.textContent = `Taking ${log.name} …`;
      await send(log);
    }
    reload("logs-heading");
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    dropSays.textContent = error.message;
  }
  part.hidden = true;
};
$("#log")?.addEventListener("change", (event) => takeLogs(event.target.files));
const drop = $("#drop");
drop?.addEventListener("dragover", (event) => event.preventDefault());
drop?.addEventListener("drop", (event) => {
  event.preventDefault();
  takeLogs(event.dataTransfer.files);
});

// ---- The card

// Words that were typed into a form and not sent are not lost without a question.
addEventListener("beforeunload", (event) => {
  if (leaving) return;
  const said = [...document.querySelectorAll("[name=reason],[name=by],[name=looked_at_by],[name=role],[name=remark],#file")];
  const typed = said.some((field) => field.value !== field.defaultValue);
  if (typed) event.preventDefault();
});

$("#save")?.addEventListener("click", async () => {
  const saved = $("#saved");
  try {
    await talk("PUT", `${address}/job.toml`, { body: new Blob([$("#file").value]), headers: { "if-match": `"${state.tag}"` } });
    $("#file").defaultValue = $("#file").value;
    saved.textContent = "Saved.";
    const now = await talk("GET", `${address}/job.toml`);
    state.tag = now.headers.get("etag").replaceAll('"', "");
    await judge();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    saved.textContent = error.message;
  }
});

await judge();
tour();
