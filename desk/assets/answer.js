// The numbers of a quick answer, beside those it is compared with: better or worse against the limit that each serves.

export const node = (name, attributes = {}, ...children) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
};

const format = (value, digits) => value.toFixed(digits);

const mark = (better) => node("span", { class: better ? "better" : "worse" }, node("span", { "aria-hidden": "true" }, better ? "◇ " : "◆ "), better ? "better" : "worse");

const changed = (moved) => {
  const cell = node("td", { class: "end" });
  if (!moved) return cell;
  if (!moved.by) cell.append(node("span", { class: "soft" }, "as before"));
  else {
    cell.append(`${moved.by} `);
    if (moved.better !== null && !moved.is_slight) cell.append(mark(moved.better));
  }
  return cell;
};

// What is told before there is anything to compare with.
const FIRST = ["soak_coldest", "soak_hottest", "beyond_hottest", "current"];

// A number stays with its unit.
const sentence = (words) => `${words[0].toUpperCase()}${words.slice(1)}.`.replace(/(\d) (?=%|°|k?[WAV]\b|in\b|mm\b)/g, "$1\u00a0");

// A number that moved: which way, by how much, to what, what is left to its limit, and what made it move.
const PLACED = ["soak_coldest", "soak_hottest", "beyond_hottest", "outside_less_bore"];
const movedRow = (number, { by, better, before_at: was, because }) => {
  const row = node("li", {});
  if (better !== null) row.append(mark(better), " ");
  const place = PLACED.includes(number.of) ? `, ${number.beside.split(";")[0]}${was ? ` (before ${was})` : ""}` : "";
  const left = number.left ? `; ${number.left}` : "";
  row.append(node("b", {}, `${number.short} ${by}`), `: now ${format(number.value, number.digits)} ${number.unit}${place}${left}.`);
  if (because) row.append(node("span", { class: "because" }, sentence(because)));
  return row;
};

// The same in a few lines, to stand beside what caused it: the better first, then the worse, then what is neither.
export const shortAnswer = (answer, change) => {
  const now = (number) => `${number.short} ${format(number.value, number.digits)} ${number.unit}`;
  const lines = [];
  if (answer.against.length) lines.push(node("p", { class: "passed" }, node("span", { "aria-hidden": "true" }, "■ "), answer.against[0]));
  if (change?.done.length) lines.push(node("p", {}, change.done.join(" ")));
  const moved = answer.numbers.map((number, index) => ({ number, by: change?.numbers[index] })).filter(({ by }) => by?.by);
  const telling = moved.filter(({ by }) => !by.is_slight);
  const rows = [true, false, null].flatMap((better) => telling.filter(({ by }) => by.better === better).map(({ number, by }) => movedRow(number, by)));
  const slight = moved.filter(({ by }) => by.is_slight).map(({ number, by }) => `${number.short} ${by.by}`);
  if (rows.length) lines.push(node("ul", { class: "moved" }, ...rows));
  if (slight.length) lines.push(node("p", { class: "soft" }, `Too little to matter: ${slight.join(", ")}.`));
  if (!moved.length) {
    if (change) lines.push(node("p", {}, "Every number reads as before."));
    lines.push(node("p", {}, "At rest: ", answer.numbers.filter((number) => FIRST.includes(number.of)).map(now).join(", "), "."));
  }
  if (!change) lines.push(node("p", { class: "soft" }, answer.with));
  return lines;
};

export const answerTable = (numbers, change) => {
  const table = node("table", { class: "answer" });
  const head = node("tr", {}, ...["", "Now", "Change", "Limit and place"].map((words) => node("th", { scope: "col" }, words)));
  const body = node("tbody");
  numbers.forEach((number, index) => {
    const beside = node("td", { class: "beside" });
    if (number.look) beside.append(node("span", { class: "look" }, node("span", { "aria-hidden": "true" }, "▲ "), number.look), number.left || number.beside ? "; " : "");
    beside.append(node("span", { class: "soft" }, [number.left, number.beside].filter(Boolean).join("; ")));
    body.append(
      node("tr", {}, node("th", { scope: "row" }, number.name), node("td", { class: "end" }, `${format(number.value, number.digits)} ${number.unit}`), changed(change?.numbers[index]), beside),
    );
  });
  table.append(node("thead", {}, head), body);
  return table;
};
