// What can be moved on a drawing: by pointer, or by arrow keys. It snaps to the places the desk names, shows what it
// would write, and writes it into the field of the form when it is let go: the field stays the one that is sent.
import { follow, post } from "./swap.js";

let held = null;

export function grips() {
  document.addEventListener("pointerdown", take);
  // else a finger's drag is taken for scrolling after a few steps: some browsers ask nothing of a part of a drawing
  document.addEventListener("touchstart", (event) => { if (event.target.closest?.(".grip")) event.preventDefault(); }, { passive: false });
  document.addEventListener("pointermove", drag);
  document.addEventListener("pointerup", () => drop(true));
  document.addEventListener("pointercancel", () => drop(false));
  document.addEventListener("keydown", key);
  document.addEventListener("focusout", (event) => { if (held?.keys && event.target === held.grip) drop(true); });
}

// Entries of a list have moved since it was drawn: its fields are others' now.
const stale = (grip) => grip.closest("section").dataset.stale !== undefined;
const home = (axis) => axis.snaps.reduce((best, snap, k) => (Math.abs(snap[0]) < Math.abs(axis.snaps[best][0]) ? k : best), 0);

function begin(grip, keys) {
  const axes = JSON.parse(grip.dataset.axes);
  const place = grip.transform.baseVal.consolidate().matrix;
  held = { grip, axes, keys, at: [place.e, place.f], now: axes.map(home), from: null };
  grip.closest("section").dataset.dragging = "1";
  grip.classList.add("held");
  show();
}

function take(event) {
  const grip = event.target.closest?.(".grip");
  if (!grip || event.button || stale(grip)) return;
  event.preventDefault();
  if (held) drop(true);
  grip.focus({ preventScroll: true });
  begin(grip, false);
  grip.setPointerCapture(event.pointerId);
  held.from = point(event);
}

function point(event) {
  const svg = held.grip.ownerSVGElement;
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
}

function drag(event) {
  if (!held || held.keys) return;
  const to = point(event);
  const by = [to.x - held.from.x, to.y - held.from.y];
  held.now = held.axes.map(({ course: [x, y], snaps }) => {
    const far = (by[0] * x + by[1] * y) / (x * x + y * y);
    return snaps.reduce((best, snap, k) => (Math.abs(snap[0] - far) < Math.abs(snaps[best][0] - far) ? k : best), 0);
  });
  show();
}

function show() {
  let [x, y] = held.at;
  held.axes.forEach((axis, k) => {
    const by = axis.snaps[held.now[k]][0];
    x += by * axis.course[0];
    y += by * axis.course[1];
  });
  held.grip.transform.baseVal.getItem(0).setTranslate(x, y);
  const words = held.axes.map((axis, k) => axis.snaps[held.now[k]][1]).join(", ");
  held.grip.setAttribute("aria-valuetext", words);
  held.grip.setAttribute("aria-valuenow", held.now[0]);
  const readout = held.grip.closest("section").querySelector(".readout");
  readout.hidden = false;
  readout.textContent = `${held.grip.getAttribute("aria-label")}: ${words}`;
}

// The arrow that points most nearly along an axis steps along it.
function key(event) {
  const grip = event.target.closest?.(".grip");
  if (!grip) return;
  const ways = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] };
  const way = ways[event.key];
  if (way) {
    event.preventDefault();
    if (!held && stale(grip)) return;
    if (!held) begin(grip, true);
    step(way, event.shiftKey ? 4 : 1);
  } else if (held && (event.key === "Enter" || event.key === " ")) {
    event.preventDefault();
    drop(true);
  } else if (held && event.key === "Escape") {
    event.preventDefault();
    drop(false);
  }
}

function step(way, count) {
  const shares = held.axes.map(({ course: [x, y] }) => (way[0] * x + way[1] * y) / Math.hypot(x, y));
  const k = shares.reduce((best, share, i) => (Math.abs(share) > Math.abs(shares[best]) ? i : best), 0);
  if (Math.abs(shares[k]) < 0.3) return;
  const next = held.now[k] + Math.sign(shares[k]) * count;
  held.now[k] = Math.min(held.axes[k].snaps.length - 1, Math.max(0, next));
  show();
}

function drop(wanted) {
  if (!held) return;
  const { grip, axes, now } = held;
  const write = wanted && !stale(grip);
  const section = grip.closest("section");
  const moved = axes.some((axis, k) => now[k] !== home(axis));
  if (!write || !moved) { held.now = axes.map(home); show(); }
  grip.classList.remove("held");
  delete section.dataset.dragging;
  const readout = section.querySelector(".readout");
  held = null;
  if (stale(grip)) follow.again();
  if (!write || !moved) { readout.hidden = true; return; }
  const changed = axes.map((axis, k) => [axis, now[k]]).filter(([axis, k]) => k !== home(axis));
  if (axes[0].field === "move") move(section, grip.dataset.key, axes[0].snaps[now[0]][1]);
  else fill(changed.map(([axis, k]) => [axis.field, axis.snaps[k][1]]), readout);
}

function move(section, key, to) {
  const form = section.querySelector("form[data-mover]");
  form.elements.move.value = key;
  form.elements.to.value = to;
  post(form, null);
}

function fill(values, readout) {
  let last = null;
  for (const [name, text] of values) {
    const [input] = document.getElementsByName(name);
    if (!input) { readout.textContent = "This figure has no field on this page."; return; }
    input.value = text;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    last = input;
  }
  // a figure that was let go is whole, also in a row with others left blank
  last.dispatchEvent(new CustomEvent("change", { bubbles: true, detail: { whole: true } }));
}
