// What pages do more with script: each works without.
"use strict";

(() => {
  const ready = (act) => (document.readyState === "loading" ? addEventListener("DOMContentLoaded", act) : act());

  // The list of faults is where reading begins after a refused form
  const showFaults = () => document.querySelector("[data-faults]")?.focus();

  // One press sends a form once; coming back by the browser's history frees its button again
  const sent = new WeakSet();
  addEventListener("submit", (event) => {
    const form = event.target;
    if (form.method !== "post") return;
    if (!navigator.onLine) {
      event.preventDefault();
      tell(form, "There is no connection. Nothing was sent and nothing is lost: send it again once the connection is back.");
    } else if (sent.has(form)) {
      event.preventDefault();
    } else {
      sent.add(form);
      if (form.dataset.keep) sessionStorage.setItem(`sent ${form.dataset.keep}`, "yes");
    }
  });
  addEventListener("pageshow", () => document.querySelectorAll("form").forEach((form) => sent.delete(form)));
  addEventListener("online", () => {
    const note = document.querySelector("[data-offline]");
    if (note) note.firstChild.textContent = "The connection is back. What you typed is still here: send it now.";
  });

  const tell = (form, words) => {
    let note = form.querySelector("[data-offline]");
    if (!note) {
      note = document.createElement("div");
      note.className = "note mind";
      note.setAttribute("role", "status");
      note.dataset.offline = "";
      note.append(document.createElement("p"));
      form.append(note);
    }
    note.firstChild.textContent = words;
  };

  // What is typed into a form that says so is kept in this window until it has been sent
  const typed = (form) => [...form.elements].filter((one) => one.name && !["hidden", "file", "password", "submit"].includes(one.type));
  const isOn = (one) => one.type === "radio" || one.type === "checkbox";
  const keep = (form) => {
    const values = typed(form).map((one) => [one.name, isOn(one) ? one.checked : one.value]);
    sessionStorage.setItem(`typed ${form.dataset.keep}`, JSON.stringify(values));
  };
  const fill = (form, values, all) =>
    typed(form).forEach((one, place) => {
      const [name, value] = values[place] || [];
      if (name !== one.name) return;
      if (isOn(one)) one.checked = value;
      else if (all || !one.value) one.value = value;
    });
  const differs = (form, values) =>
    typed(form).some((one, place) => values[place]?.[0] === one.name && values[place][1] !== (isOn(one) ? one.checked : one.value));
  const bringBack = (form) => {
    const key = form.dataset.keep;
    const [visit] = performance.getEntriesByType("navigation");
    const again = visit && visit.type !== "navigate";
    const kept = sessionStorage.getItem(`typed ${key}`);
    const unanswered = sessionStorage.getItem(`sent ${key}`) && !document.querySelector("[data-answers], [data-faults], [data-done]");
    sessionStorage.removeItem(`sent ${key}`);
    if (unanswered && kept && differs(form, JSON.parse(kept))) {
      fill(form, JSON.parse(kept), true);
      tell(form, "This was sent and no answer came. What you typed is still here. Look whether it was done before you send it again.");
    } else if (kept && again) {
      fill(form, JSON.parse(kept), false);
    } else if (unanswered || document.querySelector("[data-done]")) {
      sessionStorage.removeItem(`typed ${key}`);
    }
    form.addEventListener("input", () => keep(form));
  };
  // Another page of ours that one of ours leads to is the answer to what was sent; one that is opened by hand is none
  const forgetAnswered = () => {
    if (!document.referrer.startsWith(location.origin)) return;
    const here = [...document.querySelectorAll("form[data-keep]")].map((form) => form.dataset.keep);
    Object.keys(sessionStorage).filter((name) => name.startsWith("sent ")).forEach((name) => {
      const key = name.slice(5);
      if (here.includes(key)) return;
      sessionStorage.removeItem(name);
      sessionStorage.removeItem(`typed ${key}`);
    });
  };

  // A block pasted into a cell of a grid fills the cells from there on, adding nothing that has no row or column
  const spread = (event) => {
    const cell = event.target.closest?.(".grid input");
    const text = event.clipboardData?.getData("text") ?? "";
    if (!cell || !/[\t\n]/.test(text.trim())) return;
    const block = text.replace(/\r\n?/g, "\n").replace(/\n$/, "").split("\n").map((row) => row.split("\t"));
    const rows = [...cell.closest("tbody").rows];
    const top = rows.indexOf(cell.closest("tr"));
    const left = [...rows[top].querySelectorAll("input")].indexOf(cell);
    const fits = top + block.length <= rows.length && block.every((row) => left + row.length <= rows[top].querySelectorAll("input").length);
    if (!fits) return;
    event.preventDefault();
    block.forEach((row, down) => {
      const inputs = rows[top + down].querySelectorAll("input");
      row.forEach((value, right) => { inputs[left + right].value = value.trim(); });
    });
    const form = cell.closest("form");
    if (form.dataset.keep) keep(form);
  };

  // A line that is chosen for an answer is meant alone; who says how far the answer reaches chooses no line
  const reach = (event) => {
    const { name, value, form } = event.target;
    const choose = (field, wanted) => {
      const found = [...form.elements].find((one) => one.name === field && one.value === wanted);
      if (found) found.checked = true;
    };
    if (name === "line") choose("reach", value ? "one" : "whole");
    if (name === "reach" && value !== "one") choose("line", "");
  };

  ready(() => {
    showFaults();
    forgetAnswered();
    document.querySelectorAll("form[data-keep]").forEach(bringBack);
    document.addEventListener("paste", spread);
    document.getElementById("answer")?.addEventListener("change", reach);
    document.querySelectorAll("input[name=line][form=answer]").forEach((one) => one.addEventListener("change", reach));
    // A row of tabs that is wider than the screen shows the one that is open
    document.querySelectorAll(".tabs [aria-current]").forEach((one) => {
      const row = one.closest("ul");
      row.scrollLeft = one.offsetLeft - row.offsetLeft - (row.clientWidth - one.offsetWidth) / 2;
    });
  });
})();
