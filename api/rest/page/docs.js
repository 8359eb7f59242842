// Puts the reader's own address and keys into the lines that the examples begin with; nothing is sent or kept.
"use strict";

const lines = document.getElementById("first-lines");
const template = lines.textContent;

function quoted(value) {
  return "'" + value.replace(/'/g, "'\\''") + "'";
}

function show() {
  let text = template;
  for (const field of document.querySelectorAll("[data-variable]")) {
    const value = field.value.trim();
    const line = new RegExp("^export " + field.dataset.variable + "=.*$", "m");
    if (value) text = text.replace(line, () => "export " + field.dataset.variable + "=" + quoted(value));
  }
  lines.textContent = text;
}

const base = document.querySelector("[data-variable=BASE]");
base.value = location.origin;
document.getElementById("own-values").hidden = false;
document.addEventListener("input", show);
show();
