"use strict";
// The page works without this. With it: a newer reading shows by itself, files can be dropped,
// large sheets go on as they are scrolled, charts come in by themselves.

const body = document.body;
const shown = Number(body.dataset.reading);
const news = document.getElementById("news");
let touched = false, misses = 0;
document.addEventListener("input", () => { touched = true; });

// A newer reading: shown at once, unless something was typed that would be lost.
async function look() {
  let state;
  misses += 1;  // until it answers
  if (misses === 4) tell("told-closed");
  try {
    const answer = await fetch("/state", { headers: { Accept: "application/json" } });
    if (!answer.ok) return;
    state = await answer.json();
    misses = 0;
  } catch { return; }
  const progress = document.getElementById("progress");
  if (progress) progress.textContent = state.said;
  const waiting = document.getElementById("waiting");
  const newer = state.reading !== shown && !state.busy;
  const toTell = (newer || (body.dataset.busy === "0") !== !state.busy) && !touched;
  if (body.dataset.posted) { if (newer || state.old) tell(); return; }
  if (waiting || toTell) { again(); return; }
  if ((newer || state.old) && touched) tell();
  if (document.querySelector("[data-weigh]") && state.weighed && !touched) again();
}
function tell(what = "told-old") {
  if (news.dataset.told) return;
  news.dataset.told = "1";
  const told = document.getElementById(what);
  if (told) news.append(told.content.cloneNode(true));
}
async function again() {
  // Only what differs is put in place, so that nobody loses the place that they look at.
  if (body.dataset.posted) return;
  try {
    const answer = await fetch(location.href);
    if (!answer.ok || answer.redirected) { location.replace(answer.url || location.href); return; }
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    const focused = document.activeElement && document.activeElement.id;
    for (const part of ["main", "news"]) {
      const from = fresh.getElementById(part), to = document.getElementById(part);
      if (from && to && from.innerHTML !== to.innerHTML) to.replaceChildren(...from.childNodes);
    }
    const head = fresh.querySelector("header.head"), old = document.querySelector("header.head");
    if (head && old && head.innerHTML !== old.innerHTML) old.replaceWith(head);
    for (const name of ["reading", "busy"]) body.dataset[name] = fresh.body.dataset[name];
    if (focused && document.getElementById(focused)) document.getElementById(focused).focus();
    ready();
  } catch { /* the server is gone, or was busy: the next look will tell */ }
}
if (body.dataset.form) setInterval(look, 1000);

// Dropped files go the way of chosen ones.
function ready() {
  for (const drop of document.querySelectorAll(".drop")) {
    const input = drop.querySelector("input[type=file]");
    if (!input || drop.dataset.ready) continue;
    drop.dataset.ready = "1";
    drop.addEventListener("dragover", (e) => { e.preventDefault(); drop.classList.add("over"); });
    drop.addEventListener("dragleave", () => drop.classList.remove("over"));
    drop.addEventListener("drop", (e) => {
      e.preventDefault();
      if (!e.dataTransfer.files.length) return;
      input.files = e.dataTransfer.files;
      drop.requestSubmit();
    });
  }
  // A large sheet goes on by itself when its end comes into view.
  const more = document.getElementById("more"), grid = document.getElementById("grid");
  if (more && grid && !more.dataset.ready && "IntersectionObserver" in window) {
    more.dataset.ready = "1";
    new IntersectionObserver((seen) => { if (seen.some((s) => s.isIntersecting)) go_on(more, grid); }).observe(more);
  }
  const charts = document.getElementById("charts");
  if (charts && charts.dataset.load) {
    const from = charts.dataset.load;
    delete charts.dataset.load;
    fetch(from).then((a) => (a.ok ? a.text() : "")).then((text) => {
      if (text) charts.replaceChildren(...new DOMParser().parseFromString(text, "text/html").body.childNodes);
    }).catch(() => {});
  }
}
let going = false;
async function go_on(more, grid) {
  const last = Number(grid.dataset.last), height = Number(grid.dataset.height);
  if (going || last >= height) { if (last >= height) { more.remove(); document.getElementById("last")?.remove(); } return; }
  going = true;
  try {
    const words = new URLSearchParams({ file: grid.dataset.file, sheet: grid.dataset.sheet, from: String(last + 1) });
    const answer = await fetch("/sheets/rows?" + words);
    if (!answer.ok) return;
    const fresh = new DOMParser().parseFromString("<table><tbody>" + (await answer.text()) + "</tbody></table>", "text/html");
    const rows = [...fresh.querySelectorAll("tr")];
    grid.tBodies[0].append(...rows);
    grid.dataset.last = String(last + rows.length);
    const to = document.getElementById("to");
    if (to) to.textContent = (last + rows.length).toLocaleString(document.documentElement.lang);
  } finally { going = false; }
}
// The End key leads to the end of a sheet, however far that is.
document.addEventListener("keydown", (e) => {
  const last = document.getElementById("last");
  if (e.key !== "End" || !last || /^(INPUT|SELECT|TEXTAREA)$/.test(document.activeElement.tagName)) return;
  e.preventDefault();
  last.click();
});
document.addEventListener("submit", () => { body.dataset.posted = "1"; });
ready();
