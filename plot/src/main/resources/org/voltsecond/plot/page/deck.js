"use strict";
(() => {
  const root = document.documentElement;
  const slides = [...document.querySelectorAll(".slide")];
  const nav = document.querySelector("nav");
  const [back, on, note, dark] = ["back", "on", "note", "dark"].map(name => nav.querySelector(`.${name}`));
  const place = nav.querySelector(".place");
  let now = -1;

  const show = (wanted, focus) => {
    const next = Math.min(slides.length - 1, Math.max(0, wanted));
    if (next === now) return;
    now = next;
    slides.forEach((slide, k) => slide.classList.toggle("now", k === now));
    place.textContent = `${now + 1} of ${slides.length}`;
    back.disabled = now === 0;
    on.disabled = now === slides.length - 1;
    window.scrollTo(0, 0);
    if (focus) slides[now].focus({preventScroll: true});
    try { history.replaceState(null, "", `#${now + 1}`); } catch (refused) { /* some pages of a mail program */ }
  };
  const press = (button, name, state) => {
    root.classList.toggle(name, state);
    button.setAttribute("aria-pressed", String(state));
  };
  const turn = button => button.getAttribute("aria-pressed") !== "true";
  const asked = () => Number.parseInt(location.hash.slice(1), 10) - 1 || 0;

  const KEYS = {
    ArrowRight: 1, ArrowDown: 1, PageDown: 1, ArrowLeft: -1, ArrowUp: -1, PageUp: -1, Home: -Infinity, End: Infinity
  };
  document.addEventListener("keydown", event => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const button = event.target.closest && event.target.closest("button");
    const step = event.key === " " && !button ? (event.shiftKey ? -1 : 1) : KEYS[event.key];
    if (step) show(now + step, !button);
    else if (event.key.toLowerCase() === "n") press(note, "noted", turn(note));
    else if (event.key.toLowerCase() === "d") chosen(turn(dark));
    else return;
    event.preventDefault();
  });
  back.onclick = () => show(now - 1, false);
  on.onclick = () => show(now + 1, false);
  note.onclick = () => press(note, "noted", turn(note));

  // a finger that moves further to the side than upwards
  let from = null;
  document.addEventListener("touchstart", event => { from = event.touches.length === 1 ? event.touches[0] : null; }, {passive: true});
  document.addEventListener("touchend", event => {
    if (!from) return;
    const [x, y] = [event.changedTouches[0].clientX - from.clientX, event.changedTouches[0].clientY - from.clientY];
    from = null;
    if (Math.abs(x) > 40 && Math.abs(x) > Math.abs(y)) show(now + (x < 0 ? 1 : -1), false);
  }, {passive: true});

  // as the system has it, until somebody chooses
  const system = matchMedia("(prefers-color-scheme: dark)");
  let mine = false;
  const chosen = state => { mine = true; press(dark, "dark", state); };
  dark.onclick = () => chosen(turn(dark));
  system.addEventListener("change", () => { if (!mine) press(dark, "dark", system.matches); });
  press(dark, "dark", system.matches);

  window.addEventListener("hashchange", () => show(asked(), true));
  root.classList.add("one");
  nav.hidden = false;
  show(asked(), false);
})();
