// The page of a weld: form, file and drawing of one job; the file is the truth and is saved only when asked.

import { mayAct, Refused, talk } from "./talk.js";
import { answerTable, node, shortAnswer } from "./answer.js";
import { oneAtATime } from "./ask.js";
import { foldParts, isPhone, openParts } from "./fold.js";
import { shownTemperature } from "./drawing.js";
import { hoursWords } from "./lines.js";
import { createWalk } from "./walk.js";
import { createStrip } from "./strip.js";
import { tour } from "./tour.js";
import { createTurns } from "./turns.js";

const $ = (selector, within = document) => within.querySelector(selector);
const weld = $("#weld");
const address = weld.dataset.address;
const [form, file] = [$("#view-form"), $("#file")];

const state = { text: file.value, saved: file.value, tag: weld.dataset.tag, readsWell: false, isUnasked: false, anchor: null, plan: "none" };
let walk = null;

// ---- Saying what is wrong

const idOf = (place) => `f-${place.replace(/[.[\]]/g, "-")}`;

const told = (shape, mark, words) => node("p", { class: shape }, node("span", { "aria-hidden": "true" }, mark), words);

// What is wrong stands at its field, and above the form in one account with what is only missing.
const showFaults = (looked) => {
  for (const at of form.querySelectorAll(".fault")) {
    at.hidden = true;
    at.textContent = "";
  }
  for (const input of form.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  for (const fault of looked.faults) {
    const input = fault.field && document.getElementById(idOf(fault.field));
    const at = input && document.getElementById(`${idOf(fault.field)}-fault`);
    if (!at) continue;
    at.hidden = false;
    at.append(node("span", { "aria-hidden": "true" }, fault.is_missing ? "▲ " : "■ "), fault.words, " ");
    at.classList.toggle("lacks", fault.is_missing);
    if (!fault.is_missing) input.setAttribute("aria-invalid", "true");
    input.closest("details")?.setAttribute("open", "");
  }
  const refused = looked.refused_at && document.getElementById(idOf(looked.refused_at));
  if (refused) {
    const at = document.getElementById(`${refused.id}-fault`);
    at.hidden = false;
    at.classList.remove("lacks");
    at.replaceChildren(node("span", { "aria-hidden": "true" }, "■ "), looked.refused);
    refused.setAttribute("aria-invalid", "true");
  }
  const list = $("#faults");
  list.replaceChildren();
  for (const words of [looked.refused, looked.stopped]) if (words) list.append(told("passed", "■ ", words));
  if (looked.wrong) list.append(told("passed", "■ ", looked.wrong), wrongList(looked.faults.filter((fault) => !fault.is_missing)));
  if (looked.missing) list.append(told("look", "▲ ", looked.missing), neededList(looked.faults.filter((fault) => fault.is_missing)));
  showNext(looked.next);
};

// What is missing before the next step, in the head of the page.
const showNext = (missing) => {
  const state = $(".head .state");
  const says = $(".soft", state) ?? state.appendChild(node("span", { class: "soft" }));
  says.textContent = missing && `; missing: ${missing}`;
};

const toField = (place, words) => node("a", { href: `#${idOf(place)}` }, words);

// What is wrong, each with the way to its field; what no field shows is told with its line in the file.
const wrongList = (faults) =>
  node(
    "ul",
    { class: "wrong" },
    ...faults.map(({ field, place, line, words }) => {
      const at = field ? toField(field, place) : node("a", { href: "#file", "data-line": line }, place ? `${place}, line ${line} of the file` : `Line ${line} of the file`);
      return node("li", {}, at, words);
    }),
  );

// What is only missing, by the group in which it stands, each with the way to its field.
const neededList = (faults) => {
  const groups = new Map();
  for (const { field, place } of faults) {
    const [group, name] = place.includes(": ") ? place.split(": ") : ["", place];
    groups.set(group, [...(groups.get(group) ?? []), field ? toField(field, name) : name]);
  }
  const lines = [...groups].map(([group, ways]) =>
    node("li", {}, ...(group ? [node("span", { class: "soft" }, group), " "] : []), ...ways.flatMap((way, index) => (index ? [" ", way] : [way]))),
  );
  return node("ul", { class: "needed" }, ...lines);
};

$("#faults").addEventListener("click", (event) => {
  const id = event.target.getAttribute?.("href")?.slice(1);
  const input = id && document.getElementById(id);
  if (!input) return;
  event.preventDefault();
  const { line } = event.target.dataset;
  choose($(line ? "#tab-file" : "#tab-form"));
  if (line) {
    const before = file.value.split("\n").slice(0, line - 1).join("\n").length + (line > 1);
    input.setSelectionRange(before, (file.value + "\n").indexOf("\n", before));
  }
  input.closest("details")?.setAttribute("open", "");
  input.focus();
});

const showRemarks = (remarks) => {
  for (const at of form.querySelectorAll(".remark")) at.hidden = true;
  for (const [place, words] of Object.entries(remarks)) {
    const at = document.getElementById(`${idOf(place)}-remark`);
    if (!at) continue;
    at.hidden = false;
    at.replaceChildren(node("span", { "aria-hidden": "true" }, "▲ "), words);
  }
};

const showTaken = (taken) => {
  for (const at of form.querySelectorAll(".taken")) at.hidden = true;
  for (const [place, value] of Object.entries(taken)) {
    const at = document.getElementById(`${idOf(place)}-taken`);
    if (!at) continue;
    at.hidden = false;
    // A name that is written otherwise is not left open.
    const meant = value.match(/^(.*), as ".*" is understood$/);
    at.textContent = meant ? `Taken for ${meant[1]}` : `Left open; taken: ${value}`;
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
    const { id: focus, value: typed, dataset } = document.activeElement ?? {};
    const isTyped = form.contains(document.activeElement) && typed !== undefined && typed !== dataset.asked;
    form.innerHTML = looked.form;
    // A phone begins with the first group; the others are opened by whoever wants them, and by what is wrong in them.
    for (const one of form.querySelectorAll("details"))
      one.open = isPhone() ? (open.get(one.id) ?? one.id === "group-") : one.open || (open.get(one.id) ?? false);
    const again = document.getElementById(focus ?? "");
    if (again && isTyped) again.value = typed;
    again?.focus();
    shape = next;
    return;
  }
  // The most telling values of a group stand in its heading.
  const fresh = new DOMParser().parseFromString(looked.form, "text/html");
  for (const brief of fresh.querySelectorAll("details > summary > .soft")) {
    const own = document.getElementById(brief.closest("details").id)?.querySelector("summary > .soft");
    if (own) own.textContent = brief.textContent;
  }
  const editions = /<datalist id="known-editions">.*?<\/datalist>/.exec(looked.form)?.[0];
  if (editions) $("#known-editions", form).outerHTML = editions;
  // What was typed meanwhile is still to be asked.
  if (look.isWaiting()) return;
  for (const [place, value] of Object.entries(looked.values)) {
    const input = document.getElementById(idOf(place));
    if (!input || input.value === value || place === looked.refused_at) continue;
    // A field that is still being typed in is left alone; one that was sent as it stands shows what was understood.
    if (input === document.activeElement && input.value !== input.dataset.asked) continue;
    input.value = value;
    if (input === document.activeElement) input.dataset.shown = value;
  }
};

// What is being typed into a field that has not been left yet.
const isTyping = () => {
  const at = document.activeElement;
  return form.contains(at) && at.matches("input:not([type=range])") && at.value !== at.dataset.shown && at.dataset.shown !== undefined;
};
const isDirty = () => state.text !== state.saved || state.isUnasked || isTyping();

const showDirty = () => {
  const dirty = isDirty();
  for (const button of [$("#save"), $("#back")]) if (button) button.disabled = !dirty;
  if ($("#save-here")) $("#save-here").hidden = !dirty;
  if (dirty) $("#saved").textContent = "Not saved yet.";
  const compute = $("#run");
  if (compute) compute.textContent = dirty ? "Save and compute the cycle" : "Compute the cycle";
};

// Saved or not: the plan on the page is of the text only where the desk says so.
const showPlanAge = () => {
  for (const at of document.querySelectorAll(".plan-before")) at.hidden = state.plan === "of_this_text" && !state.isNewerPlan;
};

// What could not be read takes nothing down, but what still stands is of an older text and says so.
const showAge = (isOld) => {
  weld.classList.toggle("stale", isOld);
  $("#stale").hidden = !isOld;
};

const showLooked = (looked) => {
  state.text = looked.text;
  state.readsWell = looked.drawing !== null;
  state.plan = looked.plan;
  showPlanAge();
  showAge(!state.readsWell && stage.drawing !== null);
  $("#stage").hidden = !looked.drawing && !stage.drawing; // an empty weld has nothing to draw yet
  if (file.value !== looked.text && document.activeElement !== file) file.value = looked.text;
  showForm(looked);
  showFaults(looked);
  showTaken(looked.taken);
  showRemarks(looked.remarks);
  if (looked.said !== null) $("#same-says").textContent = looked.said;
  if (looked.needs) {
    const open = openParts($("#needs"));
    $("#needs").innerHTML = looked.needs;
    foldParts($("#needs"), (heading) => open.has(heading));
  }
  if (looked.drawing && !stage.isDragging() && !look.isWaiting()) {
    // Until they are computed again, turns that file and plan leave open stand where they stood.
    if (!looked.drawing.given && stage.drawing && !stage.drawing.given) looked.drawing.turns = stage.drawing.turns;
    stage.set(looked.drawing);
    turns.show();
  }
  walk?.redraw();
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
      else if (waiting) sayLast();
      return true;
    }
  } catch (error) {
    state.isUnasked = error.status === 0;
    if (waiting) sayLast();
    showDirty();
    refusedWords(error);
    return !state.isUnasked;
  }
}, aboutChange);

// ---- The quick answer

const captions = ["Temperature at rest. Broken line: lower end of the hold range.", "Where the heat arises: the darker the wall, the more, all depths together (the skin itself is too thin to be seen), with field lines round the turns."];

const showPictures = (pictures) => {
  $("#pictures").replaceChildren(
    ...pictures.map((picture, index) => {
      const figure = node("figure");
      const wide = node("div", { class: "wide" });
      wide.innerHTML = picture;
      figure.append(wide, node("figcaption", {}, captions[index]));
      return figure;
    }),
  );
  // Where there is room for a part only, the weld in the middle is seen first.
  for (const wide of document.querySelectorAll("#pictures .wide")) wide.scrollLeft = (wide.scrollWidth - wide.clientWidth) / 2;
};

const sayShort = (...lines) => {
  clearTimeout(waiting);
  waiting = null;
  holdHeight(false);
  $("#short").removeAttribute("aria-busy");
  $("#short-says").replaceChildren(...lines);
  $("#short-all").hidden = false;
};

// While an answer is awaited, the one before says so, and after a moment makes room for what is going on.
const PATIENCE_MS = 250;
let waiting = null;
const holdHeight = (is) => {
  const says = $("#short-says");
  says.style.minHeight = is ? `${says.offsetHeight}px` : "";
};
const sayComing = (words) => {
  if (!$("#short-says").style.minHeight) holdHeight(true);
  $("#short-says").replaceChildren(node("p", {}, words));
};
const awaitAnswer = () => {
  $("#short").setAttribute("aria-busy", "true");
  waiting ??= setTimeout(() => sayComing("Computing the answer …"), PATIENCE_MS);
};
// No new answer comes: the last one stands, as what it is of.
const sayLast = () => {
  if (state.answer) sayShort(...shortAnswer(state.answer, state.answer.change));
  else sayShort();
};

// An answer to a text that was changed meanwhile is not the one that is awaited.
const isAwaited = (text) => text === state.text && !look.isAsking();

const showAnswer = (answer, text) => {
  showAge(false);
  weld.classList.remove("no-answer");
  const compared = answer.change !== null;
  if (isAwaited(text)) sayShort(...shortAnswer(answer, answer.change));
  const table = answerTable(answer.numbers, answer.change);
  state.anchor ??= answer;
  state.answer = answer;
  const parts = [];
  for (const words of answer.against) parts.push(node("p", { class: "passed" }, node("span", { "aria-hidden": "true" }, "■ "), words));
  if (answer.change?.done.length) parts.push(node("p", { class: "done" }, answer.change.done.join(" ")));
  parts.push(table, node("p", { class: "soft" }, answer.with, compared ? " Changes are against what stood here when you began or last chose to compare." : ""));
  $("#rest").replaceChildren(...parts);
  const again = $("#compare");
  if (again) again.hidden = !compared;
  const hot = Math.max(...answer.outside.map(([, c]) => c), ...answer.bore.map(([, c]) => c));
  if (answer.drawing && !stage.isDragging() && isAwaited(text)) {
    stage.set(answer.drawing);
    turns.show();
  }
  stage.show({ outside: answer.outside, bore: answer.bore, hot }, "at rest at the set point");
  showPictures(answer.pictures);
};

$("#compare")?.addEventListener("click", () => {
  state.anchor = state.answer;
  $("#rest").querySelector("table")?.replaceWith(answerTable(state.answer.numbers, null));
  $("#rest .done")?.remove();
  $("#compare").hidden = true;
  sayShort(...shortAnswer(state.answer, null));
});

const rest = oneAtATime(async () => {
  const box = $("#rest");
  const text = state.text;
  box.setAttribute("aria-busy", "true");
  awaitAnswer();
  try {
    const response = mayAct
      ? await talk("POST", `${address}/rest`, { body: { text, before: state.anchor?.kept ?? null } })
      : await talk("GET", `${address}/rest`);
    showAnswer(await response.json(), text);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    const lines = error.message.split("\n");
    const said = () => lines.map((line, index) => node("p", { class: index ? "" : "passed" }, ...(index ? [] : [node("span", { "aria-hidden": "true" }, "■ ")]), line));
    box.querySelector(".failed")?.remove();
    const isOlder = box.querySelector("table") ? [node("p", { class: "soft" }, "The numbers and pictures below are of the last coil that could be computed.")] : [];
    box.prepend(node("div", { class: "failed" }, ...said(), ...isOlder));
    if (isAwaited(text)) sayShort(...said());
    weld.classList.add("no-answer");
    stage.show(null);
  } finally {
    box.removeAttribute("aria-busy");
  }
});

// ---- Turns

let isInHand = false;
const turns = createTurns({
  ask: (change) => look(change),
  onHand: (isMoving) => {
    awaitAnswer();
    if (isMoving) clearTimeout(waiting);
    if (isMoving || isInHand) sayComing(isMoving ? "Let go, and the answer comes." : "Computing the answer …");
    isInHand = isMoving;
  },
  onBack: () => {
    isInHand = false;
    sayLast();
  },
  onThermocouple: (names) => walk?.bringForward(names),
});
const { stage } = turns;

// ---- Form and file

form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("change", (event) => {
  const { name: place, value, dataset } = event.target;
  if (!place) return;
  dataset.asked = value;
  look({ kind: "field", place, value });
});
form.addEventListener("click", (event) => {
  const { add, drop, same } = event.target.dataset ?? {};
  if (same) look({ kind: "same_pipe" });
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
$("#save-turns")?.addEventListener("click", save);
$("#back-turns")?.addEventListener("click", () => $("#back").click());
$("#back")?.addEventListener("click", () => {
  look.forget();
  turns.say("");
  state.text = state.saved;
  file.value = state.saved;
  $("#saved").textContent = "";
  look(undefined);
});
addEventListener("beforeunload", (event) => {
  if (isDirty()) event.preventDefault();
});
form.addEventListener("focusin", ({ target }) => (target.dataset.shown = target.value));
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
      const said = state.isSaved ? "Saved and computing: " : "";
      return said + (standing.time_h > 0 ? `${standing.stage}, ${hoursWords(standing.time_h)}, ${shownTemperature(standing.control_c, stage.drawing?.us_units)}` : "looking for turns and frequency");
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
      if (isDirty()) {
        state.isNewerPlan = true; // the page still shows the one before
        showPlanAge();
        runSays.textContent = "Done. The job was changed on this page meanwhile; save it or take it back, then load the page again to see the plan.";
        wasBusy = false;
        events.close();
        return;
      }
      // The page comes back with the plan, and shows first what it says.
      history.replaceState(null, "", `${location.pathname}#course-heading`);
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
  state.isSaved = isDirty();
  if (state.isSaved && !(await save())) return;
  try {
    showStanding({ is: "waiting" });
    await talk("POST", `${address}/cycle`);
    follow();
  } catch (error) {
    showStanding({ is: "failed", says: error.message });
  }
});
stop?.addEventListener("click", () => talk("DELETE", `${address}/cycle`));

$("#demo-log")?.addEventListener("click", async () => {
  try {
    await talk("POST", `${address}/demo-log`);
    location.href = `${address}/record`;
  } catch (error) {
    refusedWords(error);
  }
});

// ---- Its number, and whether it stays

const numberSays = (error) => {
  if (!(error instanceof Refused)) throw error;
  $("#number-says").textContent = error.message;
};

$("#rename")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (isDirty() && !(await save())) return;
  try {
    const { weld: number } = Object.fromEntries(new FormData(event.target));
    const renamed = await (await talk("POST", `${address}/number`, { body: { weld: number } })).json();
    location.href = renamed.address;
  } catch (error) {
    numberSays(error);
  }
});
$("#remove")?.addEventListener("click", () => {
  $("#sure").hidden = false;
  $("#remove-now").focus();
});
$("#keep")?.addEventListener("click", () => {
  $("#sure").hidden = true;
  $("#remove").focus();
});
$("#remove-now")?.addEventListener("click", async () => {
  try {
    await talk("DELETE", address);
    Object.assign(state, { saved: state.text, isUnasked: false });
    location.href = "/";
  } catch (error) {
    numberSays(error);
  }
});

createStrip(stage);

// ---- Begin

if (isPhone()) for (const part of document.querySelectorAll(".sheet.plan > details")) part.open = false;

await look(undefined);
tour(); // which goes to the drawing
follow();
const walkBox = $("#walk");
if (walkBox) {
  walk = await createWalk(walkBox, address, stage, stage.drawing?.us_units ?? false, () => state.plan === "of_this_text");
}
// What came meanwhile moved the page.
if (location.hash.length > 1) {
  await rest.answered();
  const wanted = document.getElementById(location.hash.slice(1));
  wanted?.closest("details")?.setAttribute("open", "");
  wanted?.scrollIntoView();
}
