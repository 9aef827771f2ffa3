// The first visit: from the plan of a demo weld to its record. It begins only where it was asked for, and ends for good.

import { talk } from "./talk.js";

const KEPT = "tour";
const STEPS = [
  ["weld", "#stage", "This is the weld, to scale: the wall cut open, the blanket over it, the turns of the coil on it. Below, how hot outside and bore are along the pipe. Drag a turn, change the standoff or take a turn away: beside it stands at once what became better and what worse, and why."],
  ["weld", "#needs-heading", "What the code and the procedure ask, each limit with the clause it comes from. Nothing here is typed in twice; it follows from the job below."],
  ["weld", "#tab-form", "The job, as a form or as the file itself. What is changed here shows in the drawing above at once, and nothing is kept before you save it."],
  ["weld", "#course-heading", "The whole heat, computed when you ask: press “Compute the cycle” (“Save and compute the cycle” where something was changed); it takes some seconds to a few minutes. Then the slider under the chart walks through it, and the drawing above shows the heat moving through the wall."],
  ["weld", "#went-heading", "Then the heat is run on site, and the logger’s file is brought as it is. For the demo, an invented log is ready. “Next” brings it and goes on to the record."],
  ["record", "#logs-heading", "The log, and how it was understood: columns, units, first rows. What a file leaves open is asked here, never guessed."],
  ["record", "#chart", "All of it on one chart. Plus and minus zoom, arrows and fingers move. A dotted line with a × is a thermocouple that failed."],
  ["record", "#findings-heading", "What was found, limit by limit, what was not met first: by which thermocouples, as defined where. Each finding shows its place on the chart."],
  ["record", "[data-decide]", "A thermocouple leaves the set only by a reason and a name. Here TC5 came off in the hold, and the hold is too short by it: press “Decide about it”, and see under “How it went” what is found without it. Deciding leaves deviations that wait for an answer, and open questions; they stand beside the button that makes the record."],
  ["record", "#proven-heading", "Tick that the log was understood, put your name to it, and make the record: one PDF with the log, the job file and the findings in it, from which anybody can make it again. Read it, and the tour is over: next comes a weld of your own, which begins on the board under “A new weld”."],
];

const page = () => document.querySelector("#weld,#record");
const kept = () => {
  try {
    return JSON.parse(sessionStorage.getItem(KEPT));
  } catch {
    return null;
  }
};

export const tour = () => {
  const { id, dataset } = page();
  if (location.hash === "#tour") {
    history.replaceState(null, "", location.pathname);
    sessionStorage.setItem(KEPT, JSON.stringify({ address: dataset.address, step: 0 }));
  }
  const now = kept();
  if (!now || now.address !== dataset.address) return;
  // Whoever walked to the other page by themselves goes on there.
  let step = STEPS[now.step]?.[0] === id ? now.step : STEPS.findIndex(([of]) => of === id);
  const box = document.createElement("aside");
  box.id = "tour";
  box.setAttribute("aria-label", "Tour");
  const words = document.createElement("p");
  words.setAttribute("role", "status");
  const button = (name, does) => {
    const made = Object.assign(document.createElement("button"), { type: "button", textContent: name });
    made.addEventListener("click", does);
    return made;
  };
  // Room for the bar, so that everything can be scrolled clear of it.
  const makeRoom = () => {
    document.documentElement.style.setProperty("--tour", `${box.isConnected ? box.offsetHeight : 0}px`);
    dispatchEvent(new Event("tour"));
  };
  const watch = new ResizeObserver(makeRoom);
  const leave = () => {
    sessionStorage.removeItem(KEPT);
    watch.disconnect();
    box.remove();
    makeRoom();
  };
  const scrollToPart = (at) => {
    const behavior = matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth";
    const part = document.querySelector(at) ?? document.querySelector("#decided-heading");
    // The drawing is never below its own strip; from the top edge down there is room for the answer beside it.
    if (part?.id === "stage") scrollTo({ top: part.getBoundingClientRect().top + scrollY - 8, behavior });
    else part?.scrollIntoView({ block: at.startsWith("[") ? "center" : "start", behavior });
  };
  const show = (scroll) => {
    sessionStorage.setItem(KEPT, JSON.stringify({ address: dataset.address, step }));
    const [, at, says] = STEPS[step];
    words.textContent = `${step + 1} of ${STEPS.length}. ${says}`;
    next.textContent = step + 1 < STEPS.length ? "Next" : "Done";
    back.hidden = STEPS[step - 1]?.[0] !== id;
    if (scroll) scrollToPart(at);
  };
  const cross = async () => {
    try {
      await talk("POST", `${dataset.address}/demo-log`);
    } catch (error) {
      words.textContent = error.message;
      return;
    }
    sessionStorage.setItem(KEPT, JSON.stringify({ address: dataset.address, step: step + 1 }));
    location.href = `${dataset.address}/record`;
  };
  const next = button("Next", () => {
    if (step + 1 === STEPS.length) leave();
    else if (STEPS[step + 1][0] !== id) cross();
    else {
      step += 1;
      show(true);
    }
  });
  const back = button("Back", () => {
    step -= 1;
    show(true);
  });
  const end = button("End the tour", leave);
  for (const one of [back, end]) one.className = "quiet";
  box.append(words, next, back, end);
  document.body.append(box);
  makeRoom();
  watch.observe(box);
  show(step !== 3 && !location.hash);
  next.focus({ preventScroll: true });
};
