// Bringing a fresh form and what is being typed together, figure by figure.
export const named = (root) => new Map([...root.querySelectorAll("input[name], select[name], textarea[name]")]
  .filter((each) => each.type !== "hidden").map((each) => [each.name, each]));

export const shown = (each) => each.dataset.held ?? (each.tagName === "SELECT"
  ? ([...each.options].find((o) => o.defaultSelected) ?? each.options[0])?.value ?? ""
  : each.defaultValue);

// Whether something stands in a section that is not what the desk said: typed and not sent yet.
export const typed = (root) => [...named(root).values()].some((each) => each.value !== shown(each));

// A figure that changes under somebody's hand is marked: what is typed next takes its place, and is not joined to it.
function show(each, text, value) {
  const other = each.value !== value;
  delete each.dataset.held;
  if (each.tagName === "SELECT") {
    for (const option of each.options) option.defaultSelected = option.value === text;
  } else each.defaultValue = text;
  each.value = value;
  if (other && each === document.activeElement) each.select?.();
}

// What an input should hold: the fresh figure, or what is typed over it; null where both were changed.
function kept(old, fresh, own) {
  const was = shown(old);
  const now = shown(fresh);
  if (old.value === was || old.value.trim() === now) return now;
  if (was === now) return old.value;
  return own ? (old === document.activeElement ? old.value : now) : null;
}

// Rows go by their number in their list: what is typed in one is not joined to a list that others have changed, nor to
// one whose rows have moved up under the hand.
function moved(before, after, sent) {
  const fresh = (each) => each.value !== (sent?.get(each.name) ?? shown(each));
  const lists = new Map();
  for (const [name, each] of before) {
    const list = name.startsWith("r:") ? name.replace(/:\d+:\d+$/, "") : null;
    if (list) lists.set(list, [...lists.get(list) ?? [], each]);
  }
  return [...lists.values()].some((cells) => cells.some(fresh) && cells.some((each) => {
    const now = after.get(each.name);
    return !now || (!sent && shown(now) !== shown(each));
  }));
}

// `own`: the reply tells that this section was saved; `sent`: what was sent of it, where no other hand came between.
export function taken(old, fresh, own, replace, sent) {
  const before = named(old);
  const after = named(fresh);
  if (moved(before, after, sent)) { old.dataset.based = "1"; say(old, fresh); return; }
  const values = new Map();
  for (const [name, each] of after) {
    const mine = before.get(name);
    values.set(name, mine ? kept(mine, each, own) : shown(each));
  }
  const gone = [...before].some(([name, each]) => !after.has(name) && each.value !== shown(each));
  if ([...values.values()].includes(null) || (gone && !own)) { say(old, fresh); return; }
  if (before.size === after.size && [...after.keys()].every((name) => before.has(name))) {
    for (const [name, each] of before) if (each.value !== values.get(name) || shown(each) !== shown(after.get(name))) show(each, shown(after.get(name)), values.get(name));
    base(old, fresh);
    round(old, fresh);
    say(old, fresh);
    return;
  }
  const active = old.contains(document.activeElement) ? document.activeElement : null;
  const spot = active?.selectionStart;
  const { dirty, based } = old.dataset;
  for (const [name, each] of after) each.value = values.get(name);
  replace(old, fresh);
  if (dirty) fresh.dataset.dirty = dirty;
  if (based) {
    fresh.dataset.based = based;
    for (const input of fresh.querySelectorAll('input[name="base"]')) input.value = old.querySelector('input[name="base"]').value;
  }
  const back = active?.name && after.get(active.name);
  if (back) {
    back.focus();
    if (back.value !== active.value) back.select?.();
    else if (spot !== null && spot !== undefined && back.setSelectionRange) back.setSelectionRange(spot, spot);
  }
}

// What stands round the figures: a heading with its mark, how far a reading is off, the colour of the card.
function round(old, fresh) {
  for (const sign of ["h2, h3", ".help"]) {
    const after = fresh.querySelectorAll(sign);
    const before = old.querySelectorAll(sign);
    if (before.length === after.length) before.forEach((each, k) => { if (each.innerHTML !== after[k].innerHTML) each.replaceChildren(...after[k].cloneNode(true).childNodes); });
  }
  old.className = fresh.className;
}

function base(old, fresh) {
  if (old.dataset.based) return;
  for (const input of old.querySelectorAll('input[name="base"]')) {
    input.value = fresh.querySelector('input[name="base"]')?.value ?? input.value;
  }
  old.dataset.rev = fresh.dataset.rev;
  if (old.dataset.of !== fresh.dataset.of) [old.dataset.was, old.dataset.of] = [old.dataset.of, fresh.dataset.of];
}

export function say(old, fresh) {
  for (const said of fresh.querySelectorAll(".said[id]")) {
    const there = old.querySelector(`#${CSS.escape(said.id)}`);
    const words = said.cloneNode(true);
    const wrong = Boolean(words.querySelector("p"));
    // what is wrong with a figure stands as long as the figure does
    const about = [...there?.closest(".field, .many")?.querySelectorAll("input, select") ?? []];
    if (!wrong && old.dataset.dirty && there?.querySelector("p:not(.own)") && about.some((each) => each.value !== shown(each))) continue;
    there?.replaceWith(words);
    for (const each of words.closest(".field, .many")?.querySelectorAll("input, select") ?? []) {
      if (wrong) each.setAttribute("aria-invalid", "true");
      else each.removeAttribute("aria-invalid");
    }
  }
}
