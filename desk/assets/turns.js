// What is done to the turns beside the drawing: standoff, one more or fewer, the turn in hand.

import { mayAct } from "./talk.js";
import { createStage, shownLength, stepOf, tidy } from "./drawing.js";

const $ = (selector) => document.querySelector(selector);

// `ask` sends a change of the job, `onHand` is told while a turn is moved and its answer is not there yet.
export const createTurns = ({ ask, onHand, onThermocouple }) => {
  const says = $("#turns-says");
  const say = (words) => {
    if (says) says.textContent = words;
  };
  const send = () => ask({ kind: "turns", turns: stage.drawing.turns.map((turn) => [turn.axial, turn.standoff]) });

  const stage = createStage($("#drawing"), {
    mayAct,
    onTurns: (_, isDone) => {
      stage.drawing.given = true;
      if (!isDone) say("");
      sayTurn();
      onHand(!isDone);
      if (isDone) send();
    },
    onStopped: (index, by) => {
      if (by === undefined) return say("");
      const cable = shownLength(stage.drawing.cable_diameter, stage.drawing.us_units);
      say(by < 0 ? `Turn ${index + 1} goes no further: there the pipe of the job ends.` : `Turn ${index + 1} touches turn ${by + 1}: their middles lie ${cable} apart, the width of the cable.`);
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
    stage.set(stage.drawing);
  });
  slider?.addEventListener("change", () => stage.drawing && send());

  // ---- One more or fewer: a coil of one pitch keeps its span and its one pitch; turns placed one by one stay

  const spread = (by) => {
    const turns = [...(stage.drawing?.turns ?? [])].sort((a, b) => a.axial - b.axial);
    const count = turns.length + by;
    if (!turns.length || count < 1) return;
    const { us_units: us, cable_diameter: cable } = stage.drawing;
    const at = (axial) => ({ axial: tidy(axial, us), standoff: turns[0].standoff });
    const gaps = turns.slice(1).map((turn, index) => turn.axial - turns[index].axial);
    const [least, most] = [Math.min(...gaps), Math.max(...gaps)];
    let next = null;
    let words = "";
    if (gaps.length && most - least < 1.5 && count > 1) {
      const [low, high] = [turns[0].axial, turns.at(-1).axial];
      const step = (high - low) / (count - 1);
      if (step < cable) return say("There is no room for one more turn over this span; drag the outer turns apart first.");
      next = Array.from({ length: count }, (_, index) => at(low + step * index));
      words = `${count} turns, evenly over the same span, ${shownLength(step, us)} apart.`;
    } else if (by > 0 && most >= 2 * cable) {
      const index = gaps.indexOf(most);
      const middle = at(turns[index].axial + most / 2);
      next = turns.toSpliced(index + 1, 0, middle);
      words = `One turn added in the widest gap, ${shownLength(middle.axial, us)} from the weld center; the others stay where they are.`;
    } else if (by > 0) {
      const outer = at(turns.at(-1).axial + Math.max(cable, gaps.at(-1) ?? 2 * cable));
      if (outer.axial > stage.drawing.ends[1] - cable) return say("There is no room for one more turn; drag the others apart first.");
      next = [...turns, outer];
      words = `One turn added at the outer end, ${shownLength(outer.axial, us)} from the weld center; the others stay where they are.`;
    } else {
      const index = gaps.length ? gaps.indexOf(least) + 1 : 0;
      next = turns.toSpliced(index, 1);
      words = `The turn ${shownLength(turns[index].axial, us)} from the weld center is taken away, where two lay closest; the others stay.`;
    }
    say(words);
    onHand(false);
    stage.drawing.turns = next;
    stage.set(stage.drawing);
    sayTurn();
    send();
  };
  $("#more")?.addEventListener("click", () => spread(1));
  $("#fewer")?.addEventListener("click", () => spread(-1));
  $("#propose")?.addEventListener("click", () => {
    say("The job leaves the turns to the plan; computing the cycle proposes them.");
    ask({ kind: "propose" });
  });

  return {
    stage,
    say,
    show: () => {
      showStandoff();
      sayTurn();
    },
  };
};
