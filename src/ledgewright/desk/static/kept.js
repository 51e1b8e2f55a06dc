// What is typed and not yet taken survives a reload: kept in this window's own store until it is saved, with the
// revision that the page was made from, so that it never goes over what another window wrote meanwhile.
import { named, shown } from "./merge.js";

const FORMS = "form[data-live], form[data-keep]";
const head = (path) => `desk ${path}|`;
const key = (input) => `${head(location.pathname)}${input.form.dataset.keep ?? ""}|${input.name}`;
const keeps = (input) => Boolean(input.name && input.form?.matches(FORMS)) && !["hidden", "file", "checkbox"].includes(input.type);
const same = (one, other) => one.replace(/\n*$/, "") === other.replace(/\n*$/, "");
export const left = (input) => !same(input.value, shown(input));

function read(name) {
  try {
    const found = JSON.parse(sessionStorage.getItem(name));
    return typeof found?.text === "string" ? found : null;
  } catch { return null; }
}

export function keep(input) {
  if (!keeps(input)) return;
  const base = input.form.elements.base?.value ?? "";
  const of = input.closest("section[id]")?.dataset.of;
  sessionStorage.setItem(key(input), JSON.stringify({ text: input.value, base, of }));
}

// What was sent is done with; what was typed since then is not.
export function forget(form, sent) {
  for (const input of form.elements) {
    if (keeps(input) && read(key(input))?.text === sent.get(input.name)) sessionStorage.removeItem(key(input));
  }
}

// Whoever chose what is in the file gives up what was typed over it.
export function drop(paths) {
  for (const input of all(document)) {
    const place = input.name.slice(2).split(":")[0];
    if (paths.some((path) => !path || place === path || place.startsWith(`${path}.`) || place === path.split("[")[0])) sessionStorage.removeItem(key(input));
  }
}

// A desk that has forgotten what a page was made from can only hold what is typed against what is there now.
export function unbase(form) {
  for (const input of form.elements) {
    const found = keeps(input) && read(key(input));
    if (found) sessionStorage.setItem(key(input), JSON.stringify({ ...found, base: "" }));
  }
}

const all = (root) => [...root.querySelectorAll("input, select, textarea")].filter(keeps);
const met = new WeakSet();

// Put back what was typed and not taken, once for each field as it comes; it is not saved, and says so.
export function restore() {
  for (const input of all(document)) {
    if (met.has(input)) continue;
    met.add(input);
    // what the desk shows as refused, and what was typed before this script was there, is not saved either
    if (!read(key(input)) && left(input) && input !== document.activeElement) keep(input);
    const found = read(key(input));
    if (!found) { sessionStorage.removeItem(key(input)); continue; }
    if (same(found.text, shown(input))) { sessionStorage.removeItem(key(input)); continue; }
    // it was typed for another entry that had this number; without what it was made from the desk could not tell
    if (!found.base && found.of !== input.closest("section[id]")?.dataset.of) { sessionStorage.removeItem(key(input)); continue; }
    if (input.tagName === "SELECT" && ![...input.options].some((each) => each.value === found.text)) continue;
    input.value = found.text;
    const base = input.form.elements.base;
    const section = input.closest("section[id]");
    if (section && (input.form.dataset.live !== undefined || input.tagName === "TEXTAREA" && base)) section.dataset.dirty = "1";
    if (section && base && found.base && base.value !== found.base) { base.value = found.base; section.dataset.based = "1"; }
    const hidden = input.closest("details");
    if (hidden) hidden.open = true;
  }
}

// What is not saved on other pages of this job: how many figures, and the address of each page.
function elsewhere() {
  const [job] = location.pathname.match(/^\/job\/[^/]+\//) ?? [null];
  const found = new Map();
  for (const name of job ? Object.keys(sessionStorage) : []) {
    const page = name.startsWith("desk ") ? name.slice(5).split("|")[0] : "";
    if (page.startsWith(job) && page !== location.pathname) found.set(page, (found.get(page) ?? 0) + 1);
  }
  return found;
}

const figures = (count) => `${count} ${count === 1 ? "figure" : "figures"}`;

function line(first, count, others) {
  const told = document.createElement("p");
  told.className = "unsaved";
  if (count) {
    const go = Object.assign(document.createElement("button"), { type: "button", textContent: `${figures(count)} not saved: mend` });
    go.addEventListener("click", () => { first.focus(); first.scrollIntoView({ block: "center" }); });
    told.append(go);
  }
  for (const [page, each] of others) {
    const name = document.querySelector(`nav a[href="${CSS.escape(page)}"]`)?.firstChild?.textContent.trim() ?? "another page";
    told.append(" ", Object.assign(document.createElement("a"), { href: page, textContent: `${figures(each)} not saved: ${name}` }));
  }
  return told;
}

function word(input) {
  const said = input.closest(".field, .many")?.querySelector(".said");
  if (said && !said.querySelector("p")) {
    const told = document.createElement("p");
    told.className = "wrong own";
    const rows = said.parentElement.matches(".many");
    told.textContent = input.tagName === "TEXTAREA" ? "Not saved: the file has another text." : rows ? "Not saved: what is marked here." : `Not saved. The file has ${shown(input) || "nothing here"}.`;
    said.append(told);
  }
  input.setAttribute("aria-invalid", "true");
}

function clear(section) {
  for (const told of section.querySelectorAll(".own")) {
    const said = told.parentElement;
    told.remove();
    for (const input of said.closest(".field, .many").querySelectorAll("input, select")) input.removeAttribute("aria-invalid");
  }
}

// Every figure that was sent or put back and is not saved is marked where it stands, and counted in the bar.
export function mark() {
  const found = [];
  for (const section of document.querySelectorAll("section[data-dirty]")) {
    clear(section);
    const here = [...named(section).values()].filter((each) => keeps(each) && left(each));
    if (!here.length && !section.dataset.failed) delete section.dataset.dirty;
    const whole = here[0]?.form.dataset.whole !== undefined;
    if (!whole) here.forEach(word);
    found.push(...(whole ? here.slice(0, 1) : here));
  }
  const bar = document.getElementById("state");
  bar?.querySelector(".unsaved")?.remove();
  const others = elsewhere();
  if (bar && (found.length || others.size)) bar.append(line(found[0], found.length, others));
}

let leaving = false;
export function leaves() {
  leaving = true;
  setTimeout(() => { leaving = false; }, 2000);
}

// Whether closing the window would lose something.
export const loses = () => !leaving && (all(document).some(left) || elsewhere().size > 0);
