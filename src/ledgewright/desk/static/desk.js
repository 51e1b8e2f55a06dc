// The desk's own script: everything works without it; with it a changed figure is saved at once and results follow.
import { follow, page, post, scrolls, sent, told, watch } from "./swap.js";
import { drop, keep, leaves, loses, mark, restore } from "./kept.js";
import { fractions } from "./fractions.js";
import { grips } from "./drag.js";
import { players } from "./player.js";

document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-live]");
  if (!form || !event.target.name || form.dataset.whole !== undefined) return;
  const row = event.target.closest(".cells");
  if (row && half(row) && !event.detail?.whole) row.dataset.waits = "1";
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
  const form = input.closest?.("form[data-live], form[data-keep=new]");
  if (event.key !== "Enter" || input.tagName !== "INPUT" || !form) return;
  const cells = [...form.querySelectorAll("input:not([type=hidden]), select, textarea")];
  const next = cells[cells.indexOf(input) + 1];
  if (!next) return;
  event.preventDefault();
  next.focus();
  next.select?.();
  if (form.dataset.live !== undefined && form.dataset.whole === undefined && form.closest("section").dataset.dirty) post(form, null);
});
document.addEventListener("submit", async (event) => {
  const form = event.target;
  const [live, whole, step] = ["form[data-live]", "form[data-page]", ".steps form"].map((each) => form.matches(each));
  if (!live && !whole && !step) { leaves(); return; }
  event.preventDefault();
  // a second tap on Undo would be about what the first has left
  if (step && form.dataset.sent) return;
  if (step) form.dataset.sent = "1";
  if (live) post(form, event.submitter);
  if (whole) {
    const to = await page(form, event.submitter);
    if (to) { leaves(); location.assign(to); }
  }
  if (step) {
    await sent();
    leaves();
    form.submit();
  }
});
document.addEventListener("input", (event) => keep(event.target));

// Closing the window loses what is typed and not saved: ask. Another page of the desk loses nothing, it is kept.
document.addEventListener("click", (event) => {
  const link = event.target.closest?.("a[href]");
  if (!link || link.origin !== location.origin) return;
  if (link.dataset.drops !== undefined) drop(JSON.parse(link.closest("[data-paths]")?.dataset.paths ?? '[""]'));
  leaves();
});
window.addEventListener("beforeunload", (event) => {
  if (loses()) event.preventDefault();
});

// A page that comes back from the browser's own store may be old: look again.
window.addEventListener("pageshow", (event) => {
  if (event.persisted) { leaves(); location.reload(); }
});

// Other windows of this browser look again when one has changed the job; nothing typed is thrown away.
told(() => {
  if (location.pathname.startsWith("/job/")) follow.again();
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
mark();
fractions();
players(document);
scrolls(document);
grips();
follow.start();
watch();
