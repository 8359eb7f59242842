// The crew's pages with script: counts by large buttons; what is told without a signal is kept here and sent once.
"use strict";

(() => {
  const KEPT = "told on site";
  const WAIT = 20000;
  const read = () => JSON.parse(localStorage.getItem(KEPT) || "[]");
  const write = (entries) => localStorage.setItem(KEPT, JSON.stringify(entries));
  const newMark = () => [...crypto.getRandomValues(new Uint8Array(12))].map((one) => one.toString(16).padStart(2, "0")).join("");
  let sending = false;

  // Each entry has a mark of its own, by which the service stores it once however often it is sent
  const keep = (form) => {
    const fields = [...new FormData(form)].filter(([name]) => !["csrfmiddlewaretoken", "once", "send_as_well"].includes(name));
    const entry = { to: location.pathname, what: form.dataset.site, at: new Date().toISOString(), fields, once: newMark() };
    write([...read(), entry]);
  };

  const post = async (entry) => {
    const token = document.querySelector("[name=csrfmiddlewaretoken]")?.value;
    const body = new URLSearchParams([...entry.fields, ["once", entry.once], ["send_as_well", "yes"], ["csrfmiddlewaretoken", token || ""]]);
    const answer = await fetch(entry.to, { method: "POST", body, redirect: "manual", signal: AbortSignal.timeout(WAIT) });
    if (answer.type === "opaqueredirect") return "";
    if (answer.status >= 500 || answer.status === 429 || !token) throw new Error("later");
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    return page.querySelector("[data-faults], .note.stop, main p")?.textContent.trim() || "The service refused it.";
  };

  const sendAll = async () => {
    if (sending || !navigator.onLine || !read().length) return show();
    sending = true;
    let sent = 0;
    try {
      for (const entry of read().filter((one) => !one.refused)) {
        const refusal = await post(entry);
        const left = read().filter((one) => one.once !== entry.once);
        write(refusal ? [...left, { ...entry, refused: refusal }] : left);
        if (!refusal) sent += 1;
      }
    } catch {
      // no signal, or the service is away: what is left stays here
    } finally {
      sending = false;
    }
    // Not both: a button shown just before the page is loaded anew is gone under the finger that presses it
    if (sent && !isTouched()) location.reload();
    else show();
  };

  const isTouched = () => [...document.querySelectorAll("form[data-site] input[type=number], [name=hours]")].some((one) => one.value !== one.defaultValue);

  const show = () => {
    const place = document.querySelector("[data-queue]");
    if (!place) return;
    const entries = read();
    place.hidden = !entries.length;
    place.setAttribute("role", "status");
    place.replaceChildren();
    const waiting = entries.filter((one) => !one.refused);
    if (waiting.length) {
      const count = waiting.length === 1 ? "One record is" : `${waiting.length} records are`;
      place.append(`${count} kept on this phone and sent once there is a signal. `, button("Send now", sendAll));
    }
    entries.filter((one) => one.refused).forEach((one) => {
      const line = document.createElement("span");
      line.className = "refused";
      line.append(`Not taken: ${one.what}, ${one.at.slice(0, 10)}. ${one.refused} `);
      line.append(button("Try again", () => { write(read().map((other) => ({ ...other, refused: other.once === one.once ? "" : other.refused }))); sendAll(); }), " ");
      line.append(button("Take it off", () => { write(read().filter((other) => other.once !== one.once)); show(); }));
      place.append(line);
    });
  };

  const button = (words, act) => {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "plain";
    made.textContent = words;
    made.addEventListener("click", act);
    return made;
  };

  // Minus and plus beside each count, large enough for a glove
  const addSteps = (input) => {
    const by = (change) => {
      const most = Number(input.max || 0);
      input.value = String(Math.max(0, Math.min(most, Number(input.value || 0) + change)));
      input.dispatchEvent(new Event("input", { bubbles: true }));
    };
    const name = document.querySelector(`label[for="${input.id}"]`)?.textContent ?? "";
    const less = button("−", () => by(-1));
    const more = button("+", () => by(1));
    less.setAttribute("aria-label", `${name}: one less`);
    more.setAttribute("aria-label", `${name}: one more`);
    input.before(less);
    input.after(more);
  };

  addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.dataset?.site) return;
    event.preventDefault();
    keep(form);
    form.reset();
    sendAll();
  });
  addEventListener("online", sendAll);
  document.querySelectorAll(".count input").forEach(addSteps);
  setInterval(() => { if (read().some((one) => !one.refused)) sendAll(); }, WAIT);
  sendAll();
})();
