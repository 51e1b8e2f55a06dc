// The desk's own script: everything works without it; with it a changed figure is saved at once and results follow.
import { follow, post, sent, told } from "./swap.js";
import { keep, restore } from "./kept.js";
import { fractions } from "./fractions.js";
import { grips } from "./drag.js";
import { players } from "./player.js";

document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-live]");
  if (!form || !event.target.name || form.dataset.whole !== undefined) return;
  const row = event.target.closest(".cells");
  if (row && half(row)) row.dataset.waits = "1";
  else post(form, null);
});
// A row of figures is sent when it is left, not between its first figure and its second.
const half = (row) => {
  const figures = [...row.querySelectorAll("[data-figure]")];
  return figures.some((f) => f.value) && figures.some((f) => !f.value);
};
document.addEventListener("focusout", (event) => {
  const row = event.target.closest?.(".cells");
  if (!row?.dataset.waits || row.contains(event.relatedTarget)) return;
  delete row.dataset.waits;
  post(row.closest("form"), null);
});
// Figures are typed one after the other as they are called out: Enter goes to the next field, from the last it saves.
document.addEventListener("keydown", (event) => {
  const input = event.target;
  const form = input.closest?.("form[data-live]");
  if (event.key !== "Enter" || input.tagName !== "INPUT" || !form) return;
  const cells = [...form.querySelectorAll("input:not([type=hidden]), select")];
  const next = cells[cells.indexOf(input) + 1];
  if (!next) return;
  event.preventDefault();
  next.focus();
  next.select?.();
  if (form.dataset.whole === undefined && form.closest("section").dataset.dirty) post(form, null);
});
document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-live]");
  if (!form) return;
  event.preventDefault();
  post(form, event.submitter);
});
document.addEventListener("input", (event) => keep(event.target));
for (const step of document.querySelectorAll(".steps form")) {
  step.addEventListener("submit", async (event) => {
    event.preventDefault();
    await sent();
    step.submit();
  });
}

// A page that comes back from the browser's own store may be old: look again.
window.addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload();
});

// Other windows of this browser look again when one has changed the job; nothing typed is thrown away.
told(() => {
  if (!document.querySelector("[data-dirty]")) follow.again();
});

// A phone that was pointed at the picture brings the code behind the sign that is sent to nobody.
const code = document.querySelector("[data-code]");
if (code && location.hash.length > 1) {
  code.value = decodeURIComponent(location.hash.slice(1));
  history.replaceState(null, "", location.pathname);
  code.form.submit();
}

document.querySelector("nav [aria-current]")?.scrollIntoView({ inline: "center", block: "nearest" });

restore();
fractions();
players(document);
grips();
follow.start();
