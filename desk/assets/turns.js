// What is done to the turns beside the drawing: standoff, one more or fewer, the turn in hand.

import { mayAct } from "./talk.js";
import { createStage, onlyPredicted, shownLength, stepOf, tidy } from "./drawing.js";

const $ = (selector) => document.querySelector(selector);

// Thermocouples in their order along the pipe, for a drawing that is too small for their names.
const namesAlong = ({ thermocouples }) => {
  const inOrder = (bore) => {
    const places = new Map();
    for (const one of thermocouples.filter((each) => each.fitted && each.bore === bore).sort((a, b) => a.axial - b.axial)) {
      const at = Math.round(one.axial);
      places.set(at, [...(places.get(at) ?? []), one.name]);
    }
    return [...places.values()].map((names) => names.join(" ")).join(" | ");
  };
  const [outside, bore] = [inOrder(false), inOrder(true)];
  return [outside && `Thermocouples from left to right: ${outside}. `, bore && `In the bore: ${bore}. `].filter(Boolean).join("");
};

// `ask` sends a change of the job, `onHand` is told while a turn is moved and its answer is not there yet.
// and `onBack` when it came back to where it was.
export const createTurns = ({ ask, onHand, onBack, onThermocouple }) => {
  const says = $("#turns-says");
  const say = (words) => {
    if (says) says.textContent = words;
  };
  const countOf = ({ length }) => (length === 1 ? "1 turn" : `${length} turns`);
  const stoppedWords = (index, by) => {
    if (by < 0) return `Turn ${index + 1} goes no further: there the pipe of the job ends.`;
    const cable = shownLength(stage.drawing.cable_diameter, stage.drawing.us_units);
    return `Turn ${index + 1} touches turn ${by + 1}: their middles lie ${cable} apart, the width of the cable.`;
  };
  const send = () => ask({ kind: "turns", turns: stage.drawing.turns.map((turn) => [turn.axial, turn.standoff]) });

  const stage = createStage($("#drawing"), {
    mayAct,
    onTurns: (_, isDone) => {
      stage.drawing.given = true;
      stage.drawing.of_plan = false;
      if (!isDone) say("");
      sayTurn();
      sayWhose();
      onHand(!isDone);
      if (isDone) send();
    },
    onStopped: (index, by) => say(by === undefined ? "" : stoppedWords(index, by)),
    onTaken: (turn) => {
      const { turns, us_units: us } = stage.drawing;
      say(`The turn ${shownLength(turn.axial, us)} from the weld center is taken away; ${countOf(turns)} left.`);
      // The button that was pressed is gone; the keyboard goes on from here.
      says?.focus({ preventScroll: true });
    },
    onChosen: () => sayTurn(),
    onThermocouple,
  });

  // ---- The turn in hand, for fingers that are broader than a turn

  const sayTurn = () => {
    const box = $("#one-turn");
    if (!box) return;
    const turn = stage.drawing?.turns[stage.chosen];
    box.hidden = !turn;
    if (!turn) return;
    const us = stage.drawing.us_units;
    const at = us ? `${shownLength(turn.axial, true)} (${shownLength(turn.axial, false)})` : shownLength(turn.axial, false);
    $("#one-turn-says").textContent = `Turn ${stage.chosen + 1} of ${stage.drawing.turns.length}, ${at} from the weld center`;
    for (const button of box.querySelectorAll("[data-move]")) button.textContent = `${button.dataset.move < 0 ? "Left" : "Right"} ${shownLength(Math.abs(button.dataset.move) * stepOf(us), us)}`;
  };
  $("#one-turn")?.addEventListener("click", ({ target }) => {
    const { move } = target.dataset;
    if (move) stage.nudge(Number(move) * stepOf(stage.drawing.us_units));
    if (target.id === "take-turn") stage.take();
    sayTurn();
  });

  // ---- Standoff: the lowest turn lies on the blanket, unless the file itself winds it deeper

  const slider = $("#standoff");
  const meanOf = (turns) => turns.reduce((sum, turn) => sum + turn.standoff, 0) / turns.length;
  const lowestOf = (turns) => Math.min(...turns.map((turn) => turn.standoff));
  const showStandoff = () => {
    const turns = stage.drawing?.turns ?? [];
    if (!slider || !turns.length || document.activeElement === slider) return;
    const [mean, lowest] = [meanOf(turns), lowestOf(turns)];
    const { thickness } = stage.drawing.blanket;
    slider.step = stepOf(stage.drawing.us_units);
    slider.min = mean - Math.max(0, lowest - thickness);
    slider.max = thickness + 150 + mean - lowest;
    slider.value = mean;
    sayStandoff(mean);
  };
  const sayStandoff = (mean) => {
    const by = lowestOf(stage.drawing.turns) - stage.drawing.blanket.thickness;
    $("#standoff-says").textContent = shownLength(mean, stage.drawing.us_units) + (Math.abs(by) < 0.15 ? ", on the blanket" : by < 0 ? ", within the blanket" : "");
  };
  slider?.addEventListener("input", () => {
    if (!stage.drawing) return;
    const { turns, us_units: us } = stage.drawing;
    // Turns in layers stay in their layers: all of them move by as much.
    const by = Number(slider.value) - meanOf(turns);
    turns.forEach((turn) => (turn.standoff = tidy(turn.standoff + by, us)));
    say("");
    sayStandoff(meanOf(turns));
    onHand(true);
    // What lies below the drawing, the slider too, stays where it is until the slider is let go.
    stage.hold(true);
    stage.set(stage.drawing);
    sayWill();
    isSliding = true;
  });
  let isSliding = false;
  // One that comes back to where it was tells of no change.
  const letGo = () => {
    stage.hold(false);
    setTimeout(() => {
      if (isSliding) onBack();
      isSliding = false;
    });
  };
  for (const end of ["change", "pointerup", "pointercancel", "blur"]) slider?.addEventListener(end, letGo);
  slider?.addEventListener("change", () => {
    isSliding = false;
    if (!stage.drawing) return;
    onHand(false);
    send();
  });

  // ---- One more or fewer: a coil of one pitch keeps its span and its one pitch; turns placed one by one stay

  // What one turn more or fewer would do: the turns with what was done and what is going to be, or why it cannot be.
  const spread = (by) => {
    const turns = [...(stage.drawing?.turns ?? [])].sort((a, b) => a.axial - b.axial);
    const count = turns.length + by;
    if (!turns.length || count < 1) return null;
    const { us_units: us, cable_diameter: cable } = stage.drawing;
    const at = (axial) => ({ axial: tidy(axial, us), standoff: turns[0].standoff });
    const gaps = turns.slice(1).map((turn, index) => turn.axial - turns[index].axial);
    const [least, most] = [Math.min(...gaps), Math.max(...gaps)];
    if (gaps.length && most - least < 1.5 && count > 1) {
      const [low, high] = [turns[0].axial, turns.at(-1).axial];
      const step = (high - low) / (count - 1);
      if (step < cable) return { cannot: "There is no room for one more turn over this span; drag the outer turns apart first." };
      return {
        turns: Array.from({ length: count }, (_, index) => at(low + step * index)),
        done: `${count} turns, evenly over the same span, ${shownLength(step, us)} apart.`,
        will: "spreads all turns evenly over the same span",
      };
    }
    if (by > 0 && most >= 2 * cable) {
      const index = gaps.indexOf(most);
      const middle = at(turns[index].axial + most / 2);
      return {
        turns: turns.toSpliced(index + 1, 0, middle),
        done: `One turn added in the widest gap, ${shownLength(middle.axial, us)} from the weld center; the others stay where they are.`,
        will: "goes into the widest gap",
      };
    }
    if (by > 0) {
      const outer = at(turns.at(-1).axial + Math.max(cable, gaps.at(-1) ?? 2 * cable));
      if (outer.axial > stage.drawing.ends[1] - cable) return { cannot: "There is no room for one more turn; drag the others apart first." };
      return {
        turns: [...turns, outer],
        done: `One turn added at the outer end, ${shownLength(outer.axial, us)} from the weld center; the others stay where they are.`,
        will: "goes to the outer end",
      };
    }
    const index = gaps.length ? gaps.indexOf(least) + 1 : 0;
    return {
      turns: turns.toSpliced(index, 1),
      done: `The turn ${shownLength(turns[index].axial, us)} from the weld center is taken away, where two lay closest; the others stay.`,
      will: `takes away the one at ${shownLength(turns[index].axial, us)}, where two lie closest`,
    };
  };
  const change = (by) => {
    const next = spread(by);
    if (!next) return;
    if (next.cannot) return say(next.cannot);
    stage.release();
    wind(next.turns, next.done);
  };
  const wind = (turns, done) => {
    say(done);
    onHand(false);
    Object.assign(stage.drawing, { turns, given: true, of_plan: false });
    stage.set(stage.drawing);
    sayTurn();
    sayWhose();
    send();
  };
  $("#more")?.addEventListener("click", () => change(1));
  $("#fewer")?.addEventListener("click", () => change(-1));

  // ---- All closer together or farther apart: the middle stays, every gap changes by as much

  // Two steps of the tape a gap: half of it to both sides of a middle gap is one step.
  const GAP_STEPS = 2;
  // Where the turns would lie, were every gap along the pipe greater by `by`; turns above each other stay so.
  const stretched = (turns, by) => {
    const places = [...new Set(turns.map((turn) => Math.round(turn.axial)))].sort((a, b) => a - b);
    const middle = (places.length - 1) / 2;
    return turns.map((turn) => tidy(turn.axial + by * (places.indexOf(Math.round(turn.axial)) - middle), stage.drawing.us_units));
  };
  const stretch = (way) => {
    const { turns, us_units: us } = stage.drawing ?? {};
    if (!turns?.length) return;
    if (turns.length === 1) return say("There is one turn only, and no gap to change.");
    const whole = GAP_STEPS * stepOf(us);
    const isFree = (by) => !stage.againstAll(stretched(turns, way * by));
    // As far as it goes: a whole step, or tenths of a mm up to the contact.
    let by = whole;
    while (by > 0.05 && !isFree(by)) by -= 0.1;
    const stopped = by < whole && stage.againstAll(stretched(turns, way * whole));
    const next = by > 0.05 ? turns.map((turn, index) => ({ ...turn, axial: stretched(turns, way * by)[index] })) : turns;
    const along = next.map((turn) => turn.axial);
    const words = `${countOf(turns)}, ${shownLength(Math.max(...along) - Math.min(...along), us)} from first to last.`;
    const told = stopped ? `${words} ${stoppedWords(stopped.index, stopped.by)}` : words;
    if (next === turns) say(told);
    else wind(next, told);
  };
  $("#closer")?.addEventListener("click", () => stretch(-1));
  $("#farther")?.addEventListener("click", () => stretch(1));
  $("#propose")?.addEventListener("click", () => {
    say("The job leaves the turns to the plan; computing the cycle proposes them.");
    ask({ kind: "propose" });
  });

  // ---- Whose turns are drawn, and what the two buttons would do with them

  const sayWill = () => {
    const box = $("#turns-will");
    if (!box || !stage.drawing) return;
    const [more, fewer] = [spread(1)?.will, spread(-1)?.will];
    box.textContent = more && more === fewer ? `One more or less ${more}.` : [more && `One more ${more}`, fewer && `One less ${fewer}`].filter(Boolean).join("; ").replace("; One", "; one") + (more || fewer ? "." : "");
  };
  const sayWhose = () => {
    sayWill();
    const { drawing } = stage;
    if (!drawing) return;
    const byHabit = "These turns are by habit; the plan proposes its own when the cycle is computed. ";
    $("#turns-whose").textContent = !drawing.given ? byHabit : drawing.of_plan ? "These turns are those of the plan. " : "";
    $("#names-along").textContent = namesAlong(drawing);
    $("#only-predicted").textContent = onlyPredicted(drawing);
  };

  return {
    stage,
    say,
    show: () => {
      showStandoff();
      sayTurn();
      sayWhose();
    },
  };
};
