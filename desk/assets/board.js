// The board: clocks since welding, new welds, weld lists.

import { talk } from "./talk.js";

const HOUR_S = 3600;

const since = (hours) => {
  if (hours < 0) return "the date lies ahead";
  return hours < 48 ? `${hours} h` : `${Math.floor(hours / 24)} d ${hours % 24} h`;
};

const tick = () => {
  for (const clock of document.querySelectorAll("[data-ended]"))
    clock.textContent = since(Math.floor((Date.now() / 1000 - Number(clock.dataset.ended)) / HOUR_S));
};
tick();
setInterval(tick, 60_000);

const says = (form, words) => {
  form.querySelector(".says").textContent = words;
};

const newWeld = document.querySelector("#new-weld");
newWeld?.addEventListener("submit", async (event) => {
  event.preventDefault();
  try {
    const asked = Object.fromEntries(new FormData(newWeld));
    const made = await (await talk("POST", "/welds", { body: asked })).json();
    location.href = made.address;
  } catch (error) {
    says(newWeld, error.message);
  }
});

const begin = document.querySelector("#tour-begin");
begin?.addEventListener("click", async () => {
  try {
    const made = await (await talk("POST", "/welds", { body: { weld: "Demo", pattern: begin.dataset.pattern, is_tour: true } })).json();
    location.href = `${made.address}#tour`;
  } catch (error) {
    says(begin.closest(".first"), error.message);
  }
});

const list = document.querySelector("#weld-list");
const listed = document.querySelector("#listed");
list?.addEventListener("submit", async (event) => {
  event.preventDefault();
  says(list, "");
  const file = list.elements.list.files[0];
  const pasted = list.elements.pasted.value;
  if (!file && !pasted.trim()) {
    says(list, "Choose a file, or paste the list.");
    return;
  }
  const body = { list: pasted.trim() ? pasted : await file.text(), pattern: list.elements.pattern.value };
  try {
    const understood = await (await talk("POST", "/welds/check", { body })).json();
    listed.innerHTML = understood.html;
    says(list, understood.good ? "Nothing is wrong with it." : "It has mistakes; nothing was made.");
    listed.querySelector("[data-make]")?.addEventListener("click", async () => {
      try {
        await talk("POST", "/welds/make", { body });
        location.href = `/?made=${listed.querySelectorAll("tbody tr").length}`;
      } catch (error) {
        says(list, error.message);
      }
    });
  } catch (error) {
    says(list, error.message);
  }
});
