// What is typed and not yet taken survives a reload: kept in this window's own store until it is saved.
const key = (input) => `desk ${location.pathname} ${input.name}`;
const kept = (input) => input.name && input.type !== "hidden" && input.type !== "file" && input.closest("form[data-live], form[data-keep]");

export function keep(input) {
  if (kept(input)) sessionStorage.setItem(key(input), input.value);
}

export function forget(form) {
  for (const input of form.elements) if (input.name) sessionStorage.removeItem(key(input));
}

export function restore() {
  for (const input of document.querySelectorAll("input, select, textarea")) {
    const text = kept(input) ? sessionStorage.getItem(key(input)) : null;
    if (text === null) continue;
    if (text === input.value) { sessionStorage.removeItem(key(input)); continue; }
    input.value = text;
    const section = input.closest("section[id]");
    if (section) section.dataset.dirty = "1";
  }
}
