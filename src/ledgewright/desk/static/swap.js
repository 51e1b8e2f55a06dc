// Fetch and swap: a reply is a few sections, each put in the place of the one with its id.
import { forget } from "./kept.js";
import { players } from "./player.js";

const channel = "BroadcastChannel" in window ? new BroadcastChannel("desk") : null;
let running = null;
let number = 0;

const verdict = () => document.getElementById("verdict")?.textContent ?? "";

function sections(text) {
  return new DOMParser().parseFromString(text, "text/html").querySelectorAll("section[id]");
}

// A section somebody types in is left alone, but for what is said about it and the revision it stands on.
function touched(old, fresh) {
  for (const input of old.querySelectorAll('input[name="base"]')) {
    input.value = fresh.querySelector('input[name="base"]')?.value ?? input.value;
  }
  for (const said of fresh.querySelectorAll(".said[id]")) {
    old.querySelector(`#${CSS.escape(said.id)}`)?.replaceWith(said.cloneNode(true));
  }
}

function swap(text, sent) {
  const before = verdict();
  for (const fresh of sections(text)) {
    const old = document.getElementById(fresh.id);
    if (!old) continue;
    const busy = old.contains(document.activeElement) && old.querySelector("input, select, textarea");
    if (busy || (old.dataset.dirty && old !== sent)) touched(old, fresh);
    else {
      const open = [...old.querySelectorAll("details")].map((d) => d.open);
      old.replaceWith(fresh);
      fresh.querySelectorAll("details").forEach((d, k) => { d.open = open[k] ?? d.open; });
      players(fresh);
    }
  }
  if (verdict() !== before) document.getElementById("spoken").textContent = verdict();
  follow.start();
}

// What was typed since the page was made; a list goes whole, so that its rows stay together.
export async function post(form, button) {
  const section = form.closest("section[id]");
  const data = new URLSearchParams(new FormData(form, button ?? undefined));
  running?.abort();
  running = new AbortController();
  const mine = ++number;
  let reply;
  try {
    reply = await fetch(form.action, {
      method: "POST", body: data, headers: { "X-Fragment": "1" }, signal: running.signal,
    });
  } catch (error) {
    if (error.name !== "AbortError") failed(section, "The desk does not answer; is it still running? What you typed is kept here.");
    return;
  }
  const text = await reply.text();
  if (mine !== number) return;
  if (!sections(text).length) { location.reload(); return; }
  if (reply.ok) { delete section.dataset.dirty; forget(form); channel?.postMessage(location.pathname); }
  else section.dataset.dirty = "1";
  if (!button && !reply.ok) { swap(text, null); return; }
  if (button && reply.ok) document.activeElement?.blur();
  swap(text, section);
}

function failed(section, words) {
  section.dataset.dirty = "1";
  const left = document.getElementById("left");
  if (!left) return;
  const line = document.createElement("p");
  line.className = "wrong";
  line.setAttribute("role", "alert");
  line.textContent = words;
  left.replaceChildren(line);
}

export function told(look) {
  channel?.addEventListener("message", look);
  window.addEventListener("focus", look);
}

// Sections that wait for something worked out name the address that tells it; it answers when it is there.
export const follow = {
  busy: new Set(),
  start() {
    for (const section of document.querySelectorAll("section[data-follow]")) {
      const address = section.dataset.follow;
      if (!this.busy.has(address)) this.one(address);
    }
  },
  async one(address) {
    this.busy.add(address);
    try {
      const reply = await fetch(address, { headers: { "X-Fragment": "1" } });
      const text = await reply.text();
      this.busy.delete(address);
      if (reply.ok) swap(text, null);
    } catch {
      this.busy.delete(address);
      setTimeout(() => this.start(), 3000);
    }
  },
  async again() {
    const reply = await fetch(location.href, { headers: { "X-Fragment": "1" } }).catch(() => null);
    if (reply?.ok) swap(await reply.text(), null);
  },
};
