// On a phone the rows of a table stand as entries, one below the other. Each cell then needs the name of its column, and
// the table its roles, which it would lose with its shape.

// Up to this many columns a phone has room for, of few words; a grid of more than the other is looked at as a grid.
const [ROOM_FOR, FEW_WORDS, MOST] = [3, 60, 8];

const ROLES = { THEAD: "rowgroup", TBODY: "rowgroup", TR: "row", TD: "cell" };

const nameCells = (table) => {
  const heads = [...(table.tHead?.rows[0]?.cells ?? [])].map((head) => head.textContent.trim());
  table.setAttribute("role", "table");
  const isWordy = heads.length === ROOM_FOR && [...table.querySelectorAll("td")].some((cell) => cell.textContent.length > FEW_WORDS);
  if ((heads.length <= ROOM_FOR && !isWordy) || heads.length > MOST) return;
  for (const part of table.querySelectorAll("thead,tbody,tr,td")) part.setAttribute("role", ROLES[part.tagName]);
  for (const head of table.querySelectorAll("th")) head.setAttribute("role", head.getAttribute("scope") === "row" ? "rowheader" : "columnheader");
  for (const body of table.tBodies)
    for (const row of body.rows)
      [...row.cells].forEach((cell, index) => {
        if (cell.tagName === "TD" && heads[index] && cell.textContent.trim()) cell.dataset.names = heads[index];
      });
  table.classList.add("stacks");
};

const nameAll = () => document.querySelectorAll("main table:not([role])").forEach(nameCells);
nameAll();
new MutationObserver(nameAll).observe(document.querySelector("main"), { childList: true, subtree: true });
