// Fetch and swap: a reply is a few sections, each put in the place of the one with its id.
import { forget, leaves, mark, restore, unbase } from "./kept.js";
import { players } from "./player.js";
import { say, taken, typed } from "./merge.js";

const channel = "BroadcastChannel" in window ? new BroadcastChannel("desk") : null;
const OWN = { "X-Fragment": "1" };
let queue = Promise.resolve();
let number = 0;
let looking = null;

const verdict = () => document.getElementById("verdict")?.textContent ?? "";

function sections(text) {
  return new DOMParser().parseFromString(text, "text/html").querySelectorAll("section[id]");
}

// Whoever works by keys stays at what they had in hand, though it is made anew.
function hold(old) {
  const active = document.activeElement;
  if (!old.contains(active)) return () => {};
  const marks = ["data-key", "href", "name"].filter((each) => active.hasAttribute(each));
  if (!marks.length) return () => {};
  const sign = `[${marks[0]}="${CSS.escape(active.getAttribute(marks[0]))}"]`;
  const at = [...old.querySelectorAll(sign)].indexOf(active);
  return (fresh) => fresh.querySelectorAll(sign)[at]?.focus({ preventScroll: true });
}

function replace(old, fresh) {
  const back = hold(old);
  const open = [...old.querySelectorAll("details")].map((each) => each.open);
  // While the whole is worked out its bar stays as tall as it was, or all below it would move under a hand twice.
  if (fresh.id === "state" && fresh.dataset.follow) fresh.style.minHeight = `${old.offsetHeight}px`;
  old.replaceWith(fresh);
  fresh.querySelectorAll("details").forEach((each, k) => { each.open = open[k] ?? each.open; });
  players(fresh);
  back(fresh);
}

// Links and buttons round the page stay the ones that a finger may be on, since leaving a field saves it.
function round(old, fresh) {
  const after = fresh.querySelectorAll("a, button");
  old.querySelectorAll("a, button").forEach((each, k) => {
    const now = after[k];
    if (each.innerHTML !== now.innerHTML) each.replaceChildren(...now.childNodes);
    if (each.tagName === "BUTTON") { each.disabled = now.disabled; each.title = now.title; }
  });
  old.dataset.rev = fresh.dataset.rev;
}

// The drawing that is there stays until the new one is made, or the page would jump.
function later(old, fresh) {
  old.dataset.follow = fresh.dataset.follow;
  old.dataset.rev = fresh.dataset.rev;
}

// Entries of a list come and go: a fresh one stands behind the section it follows in the reply; one that is gone goes,
// unless somebody types in it. Whoever wrote an entry down goes on with the next that is not written yet.
function listed(all, own) {
  if (!all.some((each) => each.dataset.list)) return;
  const names = new Set(all.map((each) => each.id));
  for (const old of document.querySelectorAll("section[data-list]")) {
    if (!names.has(old.id) && (old.id === own || !(old.dataset.dirty || typed(old)))) old.remove();
  }
  let last = null;
  const fresh = [];
  for (const each of all) {
    const there = document.getElementById(each.id);
    if (!there && each.dataset.list && last) { last.after(each); fresh.push(each); }
    last = document.getElementById(each.id) ?? last;
  }
  if (own && fresh.length && document.activeElement === document.body) {
    const next = [...document.querySelectorAll("section[data-list] form[data-whole]")].find((f) => f.closest("section").compareDocumentPosition(fresh[0]) & Node.DOCUMENT_POSITION_PRECEDING);
    next?.querySelector("input:not([type=hidden])")?.focus();
  }
}

// A section somebody types in keeps what is typed; if that cannot be brought together it stays as it is, with the
// revision it was made from, and the desk will say what differs when it is sent.
function swap(text, own, refused) {
  const before = verdict();
  const all = [...sections(text)];
  if (!refused) listed(all, own);
  for (const fresh of all) {
    const old = document.getElementById(fresh.id);
    if (!old || old === fresh) continue;
    if (fresh.id === refused) { taken(old, fresh, false, replace); continue; }
    if (fresh.id === "steps" || fresh.id === "pages") { round(old, fresh); continue; }
    if (old.dataset.dragging) continue;
    if (fresh.id === "drawing" && fresh.dataset.follow && old.querySelector("figure")) { later(old, fresh); continue; }
    const busy = old.contains(document.activeElement) && document.activeElement.matches("input, select, textarea");
    if (fresh.id === own && old.querySelector("form[data-whole]")) replace(old, fresh);
    else if (busy || old.dataset.dirty || typed(old) || fresh.id === own) taken(old, fresh, fresh.id === own, replace);
    else replace(old, fresh);
  }
  restore();
  mark();
  if (verdict() !== before) document.getElementById("spoken").textContent = verdict();
  follow.start();
}

// One post after the other: a post that is called back may have been saved all the same.
export function post(form, button) {
  const section = form.closest("section[id]")?.id;
  queue = queue.then(() => send(section, button?.name, button?.value)).catch(() => {});
}

// What waits for the posts that are on their way: going back a step must not overtake the step.
export const sent = () => queue;

async function send(id, name, value) {
  const section = document.getElementById(id);
  const form = section?.querySelector("form[data-live]");
  if (!form) return;
  const data = new URLSearchParams(new FormData(form));
  if (name) data.append(name, value);
  number += 1;
  looking?.abort();
  let reply;
  try {
    // a page that is left at once must not take the change with it (browsers carry no more than 64 kB)
    const keepalive = data.toString().length < 60000;
    reply = await fetch(form.action, { method: "POST", body: data, headers: OWN, keepalive });
  } catch {
    failed(section, name);
    return;
  }
  const text = await reply.text();
  if (!sections(text).length || reply.status >= 500) { failed(section, name, reason(text)); return; }
  delete section.dataset.failed;
  const outcome = reply.headers.get("X-Outcome");
  if (outcome === "saved" || outcome === "same") {
    delete section.dataset.dirty;
    delete section.dataset.based;
    forget(form, data);
    if (form.dataset.adds !== undefined) { channel?.postMessage(location.pathname); leaves(); location.reload(); return; }
    if (name) document.activeElement?.blur();
    swap(text, id);
    channel?.postMessage(location.pathname);
  } else if (outcome) {
    section.dataset.dirty = "1";
    if (outcome === "refused") delete section.dataset.based;
    swap(text, null, id);
    look(document.getElementById(id));
  } else if (reply.status === 409) {
    unbase(form);
    leaves();
    location.reload();
  } else failed(section, name, reason(text));
}

const reason = (text) => new DOMParser().parseFromString(text, "text/html").querySelector("#refused .wrong")?.textContent ?? "";

// What is wrong is brought before the eyes of whoever caused it.
function look(section) {
  const seen = (each) => { const box = each.getBoundingClientRect(); return box.height && box.bottom > 0 && box.top < innerHeight; };
  const found = [document.querySelector("#clash h2"), section?.querySelector(".said p:not(.own)"), document.querySelector("#left .wrong")].filter(Boolean);
  if (found.length && !seen(found[0])) found[0].scrollIntoView({ block: "center" });
}

const AGAIN = 3000;

// What could not be sent is sent again until the desk is back; a press of a button is not repeated by itself.
function failed(section, name, why) {
  section.dataset.dirty = "1";
  wrong(why ? `Not saved: ${why}` : "Not saved: the desk does not answer. Is it still running?");
  mark();
  if (name || section.dataset.failed === "waits") return;
  section.dataset.failed = "waits";
  setTimeout(() => {
    const there = document.getElementById(section.id);
    if (there?.dataset.failed !== "waits") return;
    there.dataset.failed = "1";
    const form = there.querySelector("form[data-live]");
    if (form) post(form, null);
  }, AGAIN);
}

function wrong(words) {
  const line = document.createElement("p");
  line.className = "wrong";
  line.setAttribute("role", "alert");
  line.textContent = `${words} What you typed is kept here.`;
  document.getElementById("left")?.replaceChildren(line);
}

// A page that is one form (the questions, the file as text): sent without leaving it, so that what was typed stays here.
export async function page(form, button) {
  const data = new URLSearchParams(new FormData(form));
  if (button?.name) data.append(button.name, button.value);
  let reply;
  try {
    reply = await fetch(form.action, { method: "POST", body: data, headers: OWN });
  } catch {
    wrong("Not saved: the desk does not answer. Is it still running?");
    return null;
  }
  if (reply.redirected) { forget(form, data); return reply.url; }
  const text = await reply.text();
  if (!reply.headers.get("X-Outcome")) { wrong(`Not saved: ${reason(text)}`); return null; }
  for (const fresh of sections(text)) {
    const old = document.getElementById(fresh.id);
    if (!old || old === fresh) continue;
    if (fresh.id === "steps" || fresh.id === "pages") round(old, fresh);
    else replace(old, fresh);
  }
  restore();
  mark();
  follow.start();
  const first = document.querySelector("main .wrong");
  first?.scrollIntoView({ block: "center" });
  return null;
}

export function told(look) {
  channel?.addEventListener("message", look);
  window.addEventListener("focus", look);
}

// Sections that wait for something worked out name the address that tells it; it answers when it is there. An answer
// that was asked for before the last post is about an older state, and is dropped.
export const follow = {
  busy: new Map(),
  start() {
    for (const section of document.querySelectorAll("section[data-follow]")) {
      const address = section.dataset.follow;
      if (this.busy.get(address) !== number) this.one(address);
    }
  },
  async one(address) {
    const mine = number;
    this.busy.set(address, mine);
    try {
      const reply = await fetch(address, { headers: OWN });
      const text = await reply.text();
      if (this.busy.get(address) === mine) this.busy.delete(address);
      if (reply.ok && mine === number) swap(text, null);
    } catch {
      if (this.busy.get(address) === mine) this.busy.delete(address);
      setTimeout(() => this.start(), 3000);
    }
  },
  async again() {
    looking?.abort();
    looking = new AbortController();
    const mine = number;
    try {
      const reply = await fetch(location.href, { headers: OWN, signal: looking.signal });
      const text = await reply.text();
      if (reply.ok && mine === number) swap(text, null);
    } catch { /* called back, or the desk is gone: the next look will tell */ }
  },
};
