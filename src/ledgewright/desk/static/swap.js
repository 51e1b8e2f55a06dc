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

function replace(old, fresh, same = true) {
  const back = same ? hold(old) : () => {};
  const open = [...old.querySelectorAll("details")].map((each) => each.open);
  // While the whole is worked out its bar stays as tall as it was, or all below it would move under a hand twice.
  if (fresh.id === "state" && fresh.dataset.follow) fresh.style.minHeight = `${old.offsetHeight}px`;
  old.replaceWith(fresh);
  fresh.querySelectorAll("details").forEach((each, k) => { each.open = open[k] ?? each.open; });
  players(fresh);
  scrolls(fresh);
  back(fresh);
}

// A drawing that is wider than a phone is moved along under the finger, and by keys.
export function scrolls(root) {
  for (const each of root.querySelectorAll("figure")) if (each.scrollWidth > each.clientWidth + 1) each.tabIndex = 0;
}

// Links and buttons round the page stay the ones that a finger may be on, since leaving a field saves it. Undo stays at
// what this window has loaded or saved last (`mine`): what others change meanwhile it takes back only when asked twice.
function round(old, fresh, mine) {
  if (mine) old.querySelectorAll('input[name="base"]').forEach((each) => { each.value = fresh.dataset.rev; });
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

// A file that cannot be read has no entries to tell of: those that are shown stay until it can.
const broken = (all) => all.some((each) => each.id === "broken" && each.querySelector("p"));

// Another entry has the number of a section now. What is typed for the first is kept with the revision it was made
// from, so that the desk tells of it when it is sent, and never lands in the second. Nor does the next key: the hand
// that was in the first is not put into the second.
function other(old, fresh, gone) {
  if (gone || !(old.dataset.dirty || typed(old))) { replace(old, fresh, false); return; }
  old.dataset.based = "1";
  say(old, fresh);
}

// Entries of a list come and go: a fresh one stands behind the section it follows in the reply; one that is gone goes,
// unless somebody types in it. Whoever wrote an entry down goes on with the next that is not written yet.
function listed(all, own) {
  if (broken(all) || !all.some((each) => each.id === "beside")) return false;
  const names = new Set(all.map((each) => each.id));
  const waits = all.some((each) => each.id === "waiting" && each.dataset.follow);
  const gone = [...document.querySelectorAll("section[data-list]")].filter((old) => !names.has(old.id) && (old.id === own || !waits));
  for (const old of gone) {
    if (old.id === own || !(old.dataset.dirty || typed(old))) old.remove();
    else old.dataset.based = "1";
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
  return gone.length > 0;
}

// A section somebody types in keeps what is typed; if that cannot be brought together it stays as it is, with the
// revision it was made from, and the desk will say what differs when it is sent.
// `own`: the section that was saved, or taken out (`took`); `refused`: the one that was not. `sent`: what was sent of it,
// unless another's change stood against it; `mine`: whether something of it was written.
function swap(text, { own, took, refused, sent, mine } = {}) {
  heard();
  const before = verdict();
  const all = [...sections(text)];
  const drawing = document.getElementById("drawing");
  let moved = !refused && listed(all, own);
  for (const fresh of all) {
    const old = document.getElementById(fresh.id);
    if (!old || old === fresh) continue;
    const others = old.dataset.of !== fresh.dataset.of;
    if (others && (took || fresh.id !== own)) { moved = true; other(old, fresh, took && fresh.id === own); continue; }
    if (fresh.id === refused) { taken(old, fresh, false, replace, sent); continue; }
    if (fresh.id === "steps" || fresh.id === "pages") { round(old, fresh, mine); continue; }
    if (old.dataset.dragging) continue;
    if (fresh.id === "drawing" && fresh.dataset.follow && old.querySelector("figure")) { later(old, fresh); continue; }
    const busy = old.contains(document.activeElement) && document.activeElement.matches("input, select, textarea");
    if (fresh.id === own && old.querySelector("form[data-whole]")) replace(old, fresh);
    else if (busy || old.dataset.dirty || typed(old) || fresh.id === own) taken(old, fresh, fresh.id === own, replace, fresh.id === own ? sent : null);
    else replace(old, fresh);
  }
  // handles name their fields by number: those of a drawing from before entries moved are not taken any more
  if (moved && drawing?.isConnected) drawing.dataset.stale = "1";
  restore();
  mark();
  if (verdict() !== before) document.getElementById("spoken").textContent = verdict();
  follow.start();
}

const TWICE = 700;
let last = -TWICE;

// One post after the other: a post that is called back may have been saved all the same. A second tap on what takes an
// entry out is none on the entry that comes to stand there.
export function post(form, button) {
  const section = form.closest("section[id]");
  if (button?.name === "take") {
    const now = performance.now();
    if (now - last < TWICE) return;
    last = now;
  }
  const of = section?.dataset.of;
  queue = queue.then(() => send(section?.id, button?.name, button?.value, of)).catch(() => {});
}

// What waits for the posts that are on their way: going back a step must not overtake the step.
export const sent = () => queue;

async function send(id, name, value, of) {
  const section = document.getElementById(id);
  const form = section?.querySelector("form[data-live]");
  if (!form || section.dataset.sent) return;
  if (name && ![section.dataset.of, section.dataset.was].includes(of)) return;
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
    if (form.dataset.adds !== undefined) { section.dataset.sent = "1"; channel?.postMessage(location.pathname); leaves(); location.reload(); return; }
    if (name) document.activeElement?.blur();
    if (name === "take") last = performance.now();
    swap(text, { own: id, took: name === "take", sent: data, mine: outcome === "saved" });
    channel?.postMessage(location.pathname);
  } else if (outcome) {
    section.dataset.dirty = "1";
    if (outcome === "refused") delete section.dataset.based;
    swap(text, { refused: id, sent: outcome === "conflict" ? null : data, mine: reply.headers.has("X-Saved") });
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
      if (reply.ok && mine === number) swap(text);
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
      if (mine !== number) return;
      if (reply.ok) swap(text);
      else unknown(reason(text));
    } catch { /* called back, or the desk is gone: the next look will tell */ }
  },
};

// The desk knows no answer any more for what this page shows: what it said of the job does not stand.
function unknown(why) {
  const bar = document.getElementById("state");
  if (!bar) return;
  const before = verdict();
  bar.className = "state is-unread";
  bar.dataset.rev = "";
  delete bar.dataset.follow;
  const words = "Not known";
  document.getElementById("verdict").textContent = words;
  for (const each of [...bar.children]) if (!each.matches(".verdict, .unsaved")) each.remove();
  bar.append(Object.assign(document.createElement("p"), { textContent: why || "The desk does not tell of this job any more." }));
  if (before !== words) document.getElementById("spoken").textContent = words;
}

// A page that stays in view asks every few seconds which text the file has: another device or an editor may have
// changed it, and what the bar says must not outlive it.
const EVERY = 7000;
let since = new Date();
let missed = false;

function heard() {
  since = new Date();
  missed = false;
  silent();
}

// Since when nothing was heard of the desk stands in the bar, which then is no word on the job as it is.
function silent() {
  const bar = document.getElementById("state");
  if (!bar) return;
  bar.querySelector(".silent")?.remove();
  bar.classList.toggle("is-silent", missed);
  if (!missed) return;
  const time = since.toTimeString().slice(0, 5);
  bar.append(Object.assign(document.createElement("p"), { className: "silent", textContent: `Not asked since ${time}: the desk does not answer.` }));
}

async function ask() {
  const bar = document.getElementById("state");
  const [job] = location.pathname.match(/^\/job\/[^/]+\//) ?? [null];
  if (!job || !bar || document.visibilityState !== "visible") return;
  const mine = number;
  let now = null;
  try {
    const reply = await fetch(`${job}revision`, { headers: OWN, signal: AbortSignal.timeout(EVERY - 1000) });
    if (reply.ok) now = (await reply.json()).revision;
    else if (reply.status < 500) { unknown(reason(await reply.text())); return; }
  } catch { /* no answer */ }
  if (!now) { missed = true; silent(); return; }
  heard();
  if (mine === number && now !== document.getElementById("state")?.dataset.rev) follow.again();
}

export function watch() {
  setInterval(ask, EVERY);
  document.addEventListener("visibilitychange", ask);
}

