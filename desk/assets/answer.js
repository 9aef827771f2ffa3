// The numbers of a quick answer, beside those it is compared with: better or worse against the limit that each serves.

export const node = (name, attributes = {}, ...children) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
};

const format = (value, digits) => value.toFixed(digits);

const changed = (number, before) => {
  const cell = node("td", { class: "end" });
  if (!before) return cell;
  const shown = (one) => Number(format(one.value, one.digits));
  const by = shown(number) - shown(before);
  if (format(Math.abs(by), number.digits) === format(0, number.digits)) cell.append(node("span", { class: "soft" }, "as before"));
  else {
    cell.append(`${by > 0 ? "+" : "−"}${format(Math.abs(by), number.digits)} ${number.unit} `);
    if (number.merit !== null && number.merit !== before.merit) {
      const better = number.merit > before.merit;
      cell.append(node("span", { class: better ? "better" : "worse" }, node("span", { "aria-hidden": "true" }, better ? "◇ " : "◆ "), better ? "better" : "worse"));
    }
  }
  return cell;
};

export const answerTable = (numbers, first) => {
  const table = node("table", { class: "answer" });
  const head = node("tr", {}, ...["", "Now", "Change", "Against what, and where"].map((words) => node("th", { scope: "col" }, words)));
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
