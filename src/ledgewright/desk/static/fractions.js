// A phone's keys for figures have no slash: a row of the keys that a tape needs, while an inch figure is typed.
const KEYS = [["space", " "], ["/", "/"], ["'", "'"], ['"', '"'], ["/2", "/2"], ["/4", "/4"], ["/8", "/8"], ["/16", "/16"]];

export function fractions() {
  if (!matchMedia("(pointer: coarse)").matches) return;
  const row = document.createElement("div");
  row.className = "fractions";
  row.setAttribute("role", "group");
  row.setAttribute("aria-label", "Keys for fractions");
  row.hidden = true;
  for (const [label, text] of KEYS) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = label;
    button.addEventListener("pointerdown", (event) => { event.preventDefault(); type(text); });
    row.append(button);
  }
  document.body.append(row);
  document.addEventListener("focusin", (event) => { row.hidden = event.target.dataset?.figure !== "in"; });
  document.addEventListener("focusout", () => { row.hidden = true; });
}

function type(text) {
  const input = document.activeElement;
  if (input?.dataset?.figure !== "in") return;
  input.setRangeText(text, input.selectionStart, input.selectionEnd, "end");
  input.dispatchEvent(new Event("input", { bubbles: true }));
}
