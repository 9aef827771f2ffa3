// The verify page: a record goes in, the lines of `soakwright verify` come out.

import { Refused, talk } from "./talk.js";

const $ = (selector) => document.querySelector(selector);
const drop = $("#drop");

const verify = async (pdf) => {
  const says = $("#drop-says");
  $("#verified").hidden = true;
  const largest = Number(drop.dataset.largest);
  if (pdf.size > largest) {
    says.textContent = `${pdf.name} is larger than ${largest / 2 ** 20} MB, and a record is opened whole in memory. Nothing was sent; soakwright verify takes it.`;
    return;
  }
  says.textContent = `Making ${pdf.name} again …`;
  try {
    const verdict = await (await talk("POST", `/verify?name=${encodeURIComponent(pdf.name)}`, { body: pdf })).json();
    says.textContent = "";
    $("#verified").hidden = false;
    $("#stands").textContent = verdict.stands;
    $("#verdict").className = verdict.agrees ? "" : "passed";
    const differs = verdict.only_bytes_differ
      ? "■ Fingerprints and findings agree, and the document differs: it was changed, or another copy of the program made it. It counts as changed until the copy that made it agrees."
      : "■ Something differs. The record is not what it was when it was made.";
    $("#verdict").textContent = verdict.agrees ? "● Everything that could be compared agrees." : differs;
    $("#replaced").hidden = !verdict.replaced;
    $("#replaced").textContent = verdict.replaced ? `▲ ${verdict.replaced}` : "";
    $("#lines").textContent = verdict.lines.slice(1).join("\n");
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    says.textContent = error.message;
  }
};

$("#pdf").addEventListener("change", (event) => event.target.files[0] && verify(event.target.files[0]));
drop.addEventListener("dragover", (event) => event.preventDefault());
drop.addEventListener("drop", (event) => {
  event.preventDefault();
  if (event.dataTransfer.files[0]) verify(event.dataTransfer.files[0]);
});
