// The first visit: a walk down the page of a demo weld. It begins only where it was asked for, and ends for good.

const STEPS = [
  ["#stage", "This is the weld, to scale: the wall cut open, the blanket over it, the turns of the coil in it. Below, how hot outside and bore are along the pipe. Move a turn and watch both."],
  ["#needs-heading", "What the code and the procedure ask, each limit with the clause it comes from. Nothing here is typed in twice; it follows from the job below."],
  ["#wrap-heading", "The job, as a form or as the file itself. Change the standoff or take a turn away: the table says what became better and what worse, at once."],
  ["#course-heading", "The whole heat, computed when you ask. Then the slider under the chart walks through it, and the drawing above shows the heat moving through the wall."],
  ["#went-heading", "Afterwards the logger’s file is dropped here, as it is. The same limits that judged the prediction judge the log."],
  ["#proven-heading", "And here stands what is proven, and what could not be judged."],
];

export const tour = () => {
  if (location.hash !== "#tour") return;
  history.replaceState(null, "", location.pathname);
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
  let step = 0;
  const show = () => {
    const [at, says] = STEPS[step];
    words.textContent = `${step + 1} of ${STEPS.length}. ${says}`;
    document.querySelector(at)?.scrollIntoView({ block: at === "#stage" ? "start" : "center", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
    next.textContent = step + 1 < STEPS.length ? "Next" : "Done";
  };
  const next = button("Next", () => {
    step += 1;
    if (step < STEPS.length) show();
    else box.remove();
  });
  const end = button("End the tour", () => box.remove());
  end.className = "quiet";
  box.append(words, next, end);
  document.body.append(box);
  show();
  next.focus({ preventScroll: true });
};
