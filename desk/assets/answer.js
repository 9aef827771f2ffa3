// The numbers of a quick answer, beside those it is compared with: better or worse against the limit that each serves.

export const node = (name, attributes = {}, ...children) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
};

const format = (value, digits) => value.toFixed(digits);

// By how much a number as it is shown moved, and whether that is better; `null` where it reads as before.
const change = (number, before) => {
  const shown = (one) => Number(format(one.value, one.digits));
  const by = shown(number) - shown(before);
  if (format(Math.abs(by), number.digits) === format(0, number.digits)) return null;
  const judged = number.merit !== null && number.merit !== before.merit;
  return { words: `${by > 0 ? "+" : "−"}${format(Math.abs(by), number.digits)} ${number.unit}`, better: judged ? number.merit > before.merit : null };
};

const mark = (better) => node("span", { class: better ? "better" : "worse" }, node("span", { "aria-hidden": "true" }, better ? "◇ " : "◆ "), better ? "better" : "worse");

const changed = (number, before) => {
  const cell = node("td", { class: "end" });
  if (!before) return cell;
  const by = change(number, before);
  if (!by) cell.append(node("span", { class: "soft" }, "as before"));
  else {
    cell.append(`${by.words} `);
    if (by.better !== null) cell.append(mark(by.better));
  }
  return cell;
};

// What is told before there is anything to compare with.
const FIRST = ["coldest of the soak band", "hottest of it", "hottest beyond it", "current"];

// The same in a line or two, to stand beside what caused it.
export const shortAnswer = (answer, first) => {
  const now = (number) => `${number.short} ${format(number.value, number.digits)} ${number.unit}`;
  const lines = [];
  if (answer.against.length) lines.push(node("p", { class: "passed" }, node("span", { "aria-hidden": "true" }, "■ "), answer.against[0]));
  const moved = first ? answer.numbers.map((number, index) => ({ number, by: change(number, first[index]) })).filter(({ by }) => by && by.better !== null) : [];
  for (const better of [true, false]) {
    const those = moved.filter(({ by }) => by.better === better);
    if (those.length) lines.push(node("p", {}, mark(better), ": ", those.map(({ number, by }) => `${number.short} ${by.words}`).join(", ")));
  }
  if (first && !moved.length) lines.push(node("p", {}, "Every number reads as before."));
  if (!moved.length) lines.push(node("p", {}, "At rest: ", answer.numbers.filter((number) => FIRST.includes(number.short)).map(now).join(", "), "."));
  if (!first) lines.push(node("p", { class: "soft" }, answer.with));
  if (answer.reasons.length) lines.push(node("p", { class: "why" }, answer.reasons[0]));
  return lines;
};

export const answerTable = (numbers, first) => {
  const table = node("table", { class: "answer" });
  const head = node("tr", {}, ...["", "Now", "Change", "Limit and place"].map((words) => node("th", { scope: "col" }, words)));
  const body = node("tbody");
  numbers.forEach((number, index) => {
    const beside = node("td", { class: "beside" });
    if (number.look) beside.append(node("span", { class: "look" }, node("span", { "aria-hidden": "true" }, "▲ "), number.look), number.beside ? "; " : "");
    beside.append(node("span", { class: "soft" }, number.beside));
    body.append(
      node("tr", {}, node("th", { scope: "row" }, number.name), node("td", { class: "end" }, `${format(number.value, number.digits)} ${number.unit}`), changed(number, first?.[index]), beside),
    );
  });
  table.append(node("thead", {}, head), body);
  return table;
};
