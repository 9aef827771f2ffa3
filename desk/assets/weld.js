// The page of a weld: form, file and drawing of one job; the file is the truth and is saved only when asked.

import { mayAct, Refused, talk } from "./talk.js";
import { oneAtATime } from "./ask.js";
import { createStage, shownLength } from "./drawing.js";
import { createWalk } from "./walk.js";
import { tour } from "./tour.js";

const $ = (selector, within = document) => within.querySelector(selector);
const weld = $("#weld");
const address = weld.dataset.address;
const [form, file] = [$("#view-form"), $("#file")];

const state = { text: file.value, saved: file.value, tag: weld.dataset.tag, readsWell: false, isUnasked: false, anchor: null };
let walk = null;

const node = (name, attributes = {}, ...children) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
};

// ---- Saying what is wrong

const idOf = (place) => `f-${place.replace(/[.[\]]/g, "-")}`;

const showFaults = (looked) => {
  for (const at of form.querySelectorAll(".fault")) {
    at.hidden = true;
    at.textContent = "";
  }
  for (const input of form.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  const loose = [];
  for (const fault of looked.faults) {
    const input = fault.field && document.getElementById(idOf(fault.field));
    const at = input && document.getElementById(`${idOf(fault.field)}-fault`);
    if (at) {
      at.hidden = false;
      at.append(node("span", { "aria-hidden": "true" }, "■ "), fault.words, " ");
      input.setAttribute("aria-invalid", "true");
      input.closest("details")?.setAttribute("open", "");
    } else {
      loose.push(fault);
    }
  }
  const list = $("#faults");
  list.replaceChildren();
  const say = (words, ...more) => list.append(node("p", { class: "passed" }, node("span", { "aria-hidden": "true" }, "■ "), words, ...more));
  if (looked.refused) say(looked.refused);
  if (looked.stopped) say(looked.stopped);
  const count = looked.faults.length;
  if (count) say(count === 1 ? "One thing in the job file is to be put right." : `${count} things in the job file are to be put right.`);
  for (const fault of loose) say(`Line ${fault.line}${fault.place ? `, ${fault.place}` : ""}: ${fault.words}`);
};

const showTaken = (taken) => {
  for (const at of form.querySelectorAll(".taken")) at.hidden = true;
  for (const [place, value] of Object.entries(taken)) {
    const at = document.getElementById(`${idOf(place)}-taken`);
    if (!at) continue;
    at.hidden = false;
    at.textContent = `Left open; taken: ${value}`;
  }
};

// ---- Form, file and drawing in step

const structure = (markup) => [...markup.matchAll(/data-place="([^"]*)"/g)].map((match) => match[1]).join(" ");
let shape = "";

const showForm = (looked) => {
  const next = structure(looked.form);
  const isNew = next !== shape;
  if (isNew) {
    const open = new Map([...form.querySelectorAll("details")].map((one) => [one.id, one.open]));
    const { id: focus, value: typed } = document.activeElement ?? {};
    const isTyped = form.contains(document.activeElement) && typed !== undefined;
    form.innerHTML = looked.form;
    for (const one of form.querySelectorAll("details")) if (open.has(one.id)) one.open ||= open.get(one.id);
    const again = document.getElementById(focus ?? "");
    if (again && isTyped) again.value = typed;
    again?.focus();
    shape = next;
    return;
  }
  // What was typed meanwhile is still to be asked.
  if (look.isWaiting()) return;
  for (const [place, value] of Object.entries(looked.values)) {
    const input = document.getElementById(idOf(place));
    if (input && input !== document.activeElement && input.value !== value) input.value = value;
  }
};

const isDirty = () => state.text !== state.saved || state.isUnasked;

const showDirty = () => {
  const dirty = isDirty();
  for (const button of [$("#save"), $("#back")]) if (button) button.disabled = !dirty;
  if (dirty) $("#saved").textContent = "Not saved yet.";
};

const showLooked = (looked) => {
  state.text = looked.text;
  state.readsWell = looked.drawing !== null;
  if (file.value !== looked.text && document.activeElement !== file) file.value = looked.text;
  showForm(looked);
  showFaults(looked);
  showTaken(looked.taken);
  if (looked.needs) $("#needs").innerHTML = looked.needs;
  if (looked.drawing && !stage.isDragging() && !look.isWaiting()) {
    // Until they are computed again, turns that the file leaves open stand where they stood.
    if (!looked.drawing.given && stage.drawing && !stage.drawing.given) looked.drawing.turns = stage.drawing.turns;
    stage.set(looked.drawing);
    showStandoff();
  }
  showDirty();
};

const refusedWords = (error) => {
  if (!(error instanceof Refused)) throw error;
  $("#saved").textContent = error.message;
};

const aboutChange = (change) => {
  if (!change) return "text";
  return { field: change.place, turns: "turns", propose: "turns" }[change.kind] ?? Symbol(change.kind);
};

const look = oneAtATime(async (change) => {
  try {
    for (;;) {
      const text = state.text;
      const response = mayAct
        ? await talk("POST", `${address}/look`, { body: { text, change } })
        : await talk("GET", `${address}/look`);
      const looked = await response.json();
      if (state.text !== text) continue; // somebody typed into the file meanwhile
      state.isUnasked = false;
      showLooked(looked);
      if (state.readsWell) rest();
      return true;
    }
  } catch (error) {
    state.isUnasked = error.status === 0;
    showDirty();
    refusedWords(error);
    return !state.isUnasked;
  }
}, aboutChange);

// ---- The quick answer

const format = (value, digits) => value.toFixed(digits);

const changed = (number, before) => {
  if (!before) return "";
  const by = number.value - before.value;
  const shown = format(Math.abs(by), number.digits);
  if (Number(shown) === 0) return "as before";
  return `${by > 0 ? "+" : "−"}${shown}`;
};

const showAnswer = (answer, text) => {
  const table = node("table", { class: "answer" });
  const head = node("tr", {}, ...["", "Now", "Since you began", ""].map((words) => node("th", { scope: "col" }, words)));
  table.append(node("thead", {}, head));
  const body = node("tbody");
  const first = state.anchor ?? answer.numbers;
  state.anchor ??= answer.numbers;
  answer.numbers.forEach((number, index) => {
    const beside = node("td", { class: "beside" });
    if (number.look) beside.append(node("span", { class: "look" }, node("span", { "aria-hidden": "true" }, "▲ "), number.look), number.beside ? "; " : "");
    beside.append(node("span", { class: "soft" }, number.beside));
    body.append(
      node("tr", {},
        node("th", { scope: "row" }, number.name),
        node("td", { class: "end" }, `${format(number.value, number.digits)} ${number.unit}`),
        node("td", { class: "end soft" }, changed(number, first[index])),
        beside),
    );
  });
  table.append(body);
  const at = `At ${answer.frequency_khz.toFixed(1)} kHz`;
  const words = answer.drawing?.given ? `${at}, with the turns as drawn.` : `${at}. The file leaves the turns to the plan; here they are wound by the habit of the trade.`;
  $("#rest").replaceChildren(table, node("p", { class: "soft" }, words));
  const hot = Math.max(...answer.outside.map(([, c]) => c), ...answer.bore.map(([, c]) => c));
  if (answer.drawing && !stage.isDragging() && !look.isAsking() && text === state.text) {
    stage.set(answer.drawing);
    showStandoff();
  }
  stage.show({ outside: answer.outside, bore: answer.bore, hot }, "at rest at the set point");
  const captions = ["Temperature at rest. Broken line: lower end of the hold range.", "Where the heat arises, the darker the more, with field lines round the turns."];
  $("#pictures").replaceChildren(
    ...answer.pictures.map((picture, index) => {
      const figure = node("figure");
      const wide = node("div", { class: "wide" });
      wide.innerHTML = picture;
      figure.append(wide, node("figcaption", {}, captions[index]));
      return figure;
    }),
  );
};

const rest = oneAtATime(async () => {
  const box = $("#rest");
  const text = state.text;
  box.setAttribute("aria-busy", "true");
  try {
    const response = mayAct
      ? await talk("POST", `${address}/rest`, { body: { text } })
      : await talk("GET", `${address}/rest`);
    showAnswer(await response.json(), text);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    box.replaceChildren(node("p", { class: "passed" }, node("span", { "aria-hidden": "true" }, "■ "), error.message));
  } finally {
    box.removeAttribute("aria-busy");
  }
});

// ---- Turns

const stage = createStage($("#drawing"), {
  mayAct,
  onTurns: (turns, isDone) => {
    stage.drawing.given = true;
    if (isDone) look({ kind: "turns", turns: turns.map((turn) => [turn.axial, turn.standoff]) });
  },
  onThermocouple: (names) => walk?.bringForward(names),
});

const showStandoff = () => {
  const slider = $("#standoff");
  const turns = stage.drawing?.turns ?? [];
  if (!slider || !turns.length || document.activeElement === slider) return;
  const standoffs = turns.map((turn) => turn.standoff);
  slider.value = Math.round(standoffs.reduce((sum, one) => sum + one, 0) / standoffs.length);
  $("#standoff-says").textContent = shownLength(Number(slider.value), stage.drawing.us_units);
};

const sendTurns = () => look({ kind: "turns", turns: stage.drawing.turns.map((turn) => [turn.axial, turn.standoff]) });

$("#standoff")?.addEventListener("input", (event) => {
  if (!stage.drawing) return;
  const standoff = Number(event.target.value);
  $("#standoff-says").textContent = shownLength(standoff, stage.drawing.us_units);
  stage.drawing.turns.forEach((turn) => (turn.standoff = standoff));
  stage.set(stage.drawing);
});
$("#standoff")?.addEventListener("change", () => stage.drawing && sendTurns());

// Turns keep their span; one more or fewer is spread evenly over it.
const spread = (by) => {
  const turns = stage.drawing?.turns;
  if (!turns?.length || turns.length + by < 1) return;
  const places = turns.map((turn) => turn.axial);
  const [low, high] = [Math.min(...places), Math.max(...places)];
  const count = turns.length + by;
  const step = count > 1 ? (high - low) / (count - 1) : 0;
  if (count > 1 && step < stage.drawing.cable_diameter) {
    $("#saved").textContent = "There is no room for one more turn over this span.";
    return;
  }
  const standoff = turns[0].standoff;
  stage.drawing.turns = Array.from({ length: count }, (_, i) => ({ axial: count > 1 ? Math.round(10 * (low + step * i)) / 10 : (low + high) / 2, standoff }));
  stage.set(stage.drawing);
  sendTurns();
};
$("#more")?.addEventListener("click", () => spread(1));
$("#fewer")?.addEventListener("click", () => spread(-1));
$("#propose")?.addEventListener("click", () => look({ kind: "propose" }));

// ---- Form and file

form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("change", (event) => {
  if (event.target.name) look({ kind: "field", place: event.target.name, value: event.target.value });
});
form.addEventListener("click", (event) => {
  const { add, drop } = event.target.dataset ?? {};
  if (add) look({ kind: "add", path: add });
  if (drop) look({ kind: "drop", place: drop });
});

let pause;
file.addEventListener("input", () => {
  state.text = file.value;
  showDirty();
  clearTimeout(pause);
  pause = setTimeout(() => look(undefined), 400);
});

const tabs = [...document.querySelectorAll("[role=tab]")];
const choose = (chosen) => {
  for (const tab of tabs) {
    const is = tab === chosen;
    tab.setAttribute("aria-selected", is);
    tab.tabIndex = is ? 0 : -1;
    document.getElementById(tab.getAttribute("aria-controls")).hidden = !is;
  }
  if (chosen.id === "tab-file") file.value = state.text;
};
tabs.forEach((tab, index) => {
  tab.addEventListener("click", () => choose(tab));
  tab.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (!by) return;
    const next = tabs[(index + by + tabs.length) % tabs.length];
    choose(next);
    next.focus();
  });
});

// ---- Saving

const conflict = async () => {
  const theirs = await talk("GET", `${address}/job.toml`);
  const [text, tag] = [await theirs.text(), theirs.headers.get("etag")];
  const says = $("#saved");
  const over = node("button", { type: "button", class: "quiet" }, "Save mine over it");
  const take = node("button", { type: "button", class: "quiet" }, "Take theirs, keep mine below");
  over.addEventListener("click", async () => {
    state.tag = tag;
    await save();
  });
  take.addEventListener("click", () => {
    const mine = node("textarea", { readonly: "", rows: "12", "aria-label": "Your version" });
    mine.value = state.text;
    $("#faults").after(node("div", { class: "mine" }, node("p", {}, "Your version, to copy from:"), mine));
    Object.assign(state, { text, saved: text, tag });
    file.value = text;
    says.textContent = "";
    look(undefined);
  });
  says.replaceChildren("Somebody else has saved this job meanwhile. Nothing of yours is lost. ", take, over);
};

const save = async () => {
  await look.answered();
  if (look.isWaiting()) return false;
  const text = state.text;
  try {
    const response = await talk("PUT", `${address}/job.toml`, {
      body: new Blob([text], { type: "text/plain" }),
      headers: { "if-match": state.tag },
    });
    Object.assign(state, { saved: text, tag: response.headers.get("etag") });
    showDirty();
    $("#saved").textContent = "Saved.";
    return true;
  } catch (error) {
    if (error.status === 412) await conflict();
    else refusedWords(error);
    return false;
  }
};
$("#save")?.addEventListener("click", save);
$("#back")?.addEventListener("click", () => {
  look.forget();
  state.text = state.saved;
  file.value = state.saved;
  $("#saved").textContent = "";
  look(undefined);
});
addEventListener("beforeunload", (event) => {
  if (isDirty()) event.preventDefault();
});
addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key === "s" && mayAct) {
    event.preventDefault();
    document.activeElement?.dispatchEvent(new Event("change", { bubbles: true })); // of a field that is still being typed in
    save();
  }
});

// ---- The cycle

const [run, stop, part, runSays] = [$("#run"), $("#stop"), $("#part"), $("#run-says")];
let events = null;

const showStanding = (standing) => {
  const busy = standing.is === "waiting" || standing.is === "running";
  if (run) run.disabled = busy;
  if (stop) stop.hidden = !busy;
  part.hidden = !busy;
  const words = {
    idle: () => "",
    waiting: () => "Another cycle is being computed; this one is next.",
    running: () => {
      part.value = standing.part;
      return standing.time_h > 0 ? `${standing.stage}, ${standing.time_h.toFixed(1)} h, ${Math.round(standing.control_c)} °C` : "Looking for turns and frequency";
    },
    done: () => "Done.",
    stopped: () => "Stopped; what was planned before stands.",
    failed: () => standing.says,
  };
  runSays.textContent = words[standing.is]();
};

const follow = () => {
  events?.close();
  events = new EventSource(`${address}/cycle/events`);
  let wasBusy = false;
  events.onmessage = (event) => {
    const standing = JSON.parse(event.data);
    showStanding(standing);
    const busy = standing.is === "waiting" || standing.is === "running";
    if (wasBusy && standing.is === "done") {
      location.hash = "course-heading";
      location.reload();
    }
    wasBusy = busy;
    if (!busy) events.close();
  };
  events.onerror = () => {
    if (wasBusy) runSays.textContent = "The desk does not answer; trying again.";
  };
};
run?.addEventListener("click", async () => {
  if (isDirty() && !(await save())) return;
  try {
    showStanding({ is: "waiting" });
    await talk("POST", `${address}/cycle`);
    follow();
  } catch (error) {
    showStanding({ is: "failed", says: error.message });
  }
});
stop?.addEventListener("click", () => talk("DELETE", `${address}/cycle`));

// ---- Begin

tour();
await look(undefined);
follow();
const walkBox = $("#walk");
if (walkBox) walk = await createWalk(walkBox, address, stage, stage.drawing?.us_units ?? false);
