// Fetch and swap: a reply is a few sections, each put in the place of the one with its id.
import { forget } from "./kept.js";
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

function replace(old, fresh) {
  const open = [...old.querySelectorAll("details")].map((each) => each.open);
  // While the whole is worked out its bar stays as tall as it was, or all below it would move under a hand twice.
  if (fresh.id === "state" && fresh.dataset.follow) fresh.style.minHeight = `${old.offsetHeight}px`;
  old.replaceWith(fresh);
  fresh.querySelectorAll("details").forEach((each, k) => { each.open = open[k] ?? each.open; });
  players(fresh);
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
    if (fresh.id === refused) { say(old, fresh); continue; }
    if (old.dataset.dragging) continue;
    if (fresh.id === "drawing" && fresh.dataset.follow && old.querySelector("figure")) { later(old, fresh); continue; }
    const busy = old.contains(document.activeElement) && document.activeElement.matches("input, select, textarea");
    if (fresh.id === own && old.querySelector("form[data-whole]")) replace(old, fresh);
    else if (busy || old.dataset.dirty || typed(old) || fresh.id === own) taken(old, fresh, fresh.id === own, replace);
    else replace(old, fresh);
  }
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
    failed(section);
    return;
  }
  const text = await reply.text();
  if (!sections(text).length || reply.status >= 500) { failed(section); return; }
  const outcome = reply.headers.get("X-Outcome");
  if (outcome === "saved" || outcome === "same") {
    delete section.dataset.dirty;
    forget(form);
    if (name) document.activeElement?.blur();
    swap(text, id);
    channel?.postMessage(location.pathname);
  } else if (outcome) {
    section.dataset.dirty = "1";
    swap(text, null, id);
  } else location.reload();
}

function failed(section) {
  section.dataset.dirty = "1";
  const line = document.createElement("p");
  line.className = "wrong";
  line.setAttribute("role", "alert");
  line.textContent = "Not saved: the desk does not answer. Is it still running? What you typed is kept here.";
  document.getElementById("left")?.replaceChildren(line);
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
