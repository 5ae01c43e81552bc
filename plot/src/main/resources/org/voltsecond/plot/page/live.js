"use strict";
(() => {
  const form = document.querySelector("form.live");
  const page = globalThis.voltsecondPage;
  if (!form || typeof answer !== "function" || !page) return;
  const plain = id => document.getElementById(id).textContent.replace(/%([0-9a-f]{4})/g, (all, code) => String.fromCharCode(parseInt(code, 16)));
  const values = plain("design-values");
  const keys = plain("design-keys");
  globalThis.voltsecondKeys = keys;
  begin(values);

  // What takes longer than this is worked out beside the page, so that it never stands still.
  const QUICK = 50;
  // A calculation that nobody waits for any more is ended after so long, since a new start of the engine takes half as long.
  const PATIENCE = 1000;
  const STEPS = 1000;
  const fields = [...form.querySelectorAll("input[data-key]")];
  const sliderOf = field => field.parentElement.querySelector("input[type=range]");
  const first = new Map(fields.map(field => [field.dataset.key, field.value]));
  const state = document.querySelector(".live-state");
  const all = selector => [...document.querySelectorAll(selector)];

  // --- the setting -----------------------------------------------------------------------------------------------------
  let history = [new Map()];
  let place = 0;
  const setting = () => new Map(fields.filter(field => field.value.trim() !== first.get(field.dataset.key)).map(field => [field.dataset.key, field.value.trim()]));
  const written = map => [...map].map(([key, value]) => `${key}\t${value}`).join("\n");
  const same = (a, b) => written(a) === written(b);
  const remember = () => {
    const now = setting();
    if (same(now, history[place])) return;
    history = [...history.slice(0, place + 1), now];
    place = history.length - 1;
    told();
  };
  const told = () => {
    form.querySelector(".live-undo").disabled = place === 0;
    form.querySelector(".live-redo").disabled = place === history.length - 1;
    const now = setting();
    form.querySelector(".live-reset").disabled = now.size === 0;
    const hash = now.size === 0 ? "" : `#set=${[...now].map(entry => entry.map(encodeURIComponent).join("=")).join("&")}`;
    form.querySelector(".live-link").href = hash || "#";
    try { window.history.replaceState(null, "", location.href.split("#")[0] + hash); } catch (refused) { /* some pages of a mail program */ }
  };
  const take = map => {
    fields.forEach(field => {
      field.value = map.has(field.dataset.key) ? map.get(field.dataset.key) : first.get(field.dataset.key);
      settle(field);
    });
    told();
    request();
  };
  const go = step => {
    if (place + step < 0 || place + step >= history.length) return;
    place += step;
    take(history[place]);
  };

  const shownAs = (value, unit, digits) => unit ? page.engineering(value, unit, digits) : String(Number(value.toPrecision(digits)));

  // --- sliders ---------------------------------------------------------------------------------------------------------
  const PREFIXES = {f: 1e-15, p: 1e-12, n: 1e-9, µ: 1e-6, μ: 1e-6, u: 1e-6, m: 1e-3, k: 1e3, M: 1e6, G: 1e9};
  /** For the slider alone: what a field says is read by the engine. */
  const numberOf = text => {
    const match = /^\s*([-+]?[\d.]+(?:e[-+]?\d+)?)\s*([fpnµμumkMG]?)/i.exec(text);
    return match ? Number(match[1]) * (/[a-zΩ]/i.test(text.replace(/e[-+]?\d/i, "")) && PREFIXES[match[2]] || 1) : NaN;
  };
  const even = slider => slider.dataset.even === "true";
  const ends = slider => [Number(slider.dataset.low), Number(slider.dataset.high)];
  const atShare = (slider, share) => {
    const [low, high] = ends(slider);
    return even(slider) ? low * (high / low) ** share : low + (high - low) * share;
  };
  const shareAt = (slider, value) => {
    const [low, high] = ends(slider);
    return even(slider) ? Math.log(value / low) / Math.log(high / low) : (value - low) / (high - low);
  };
  const settle = field => {
    const slider = sliderOf(field);
    const value = numberOf(field.value);
    if (Number.isFinite(value)) {
      slider.value = Math.round(STEPS * Math.min(1, Math.max(0, shareAt(slider, value))));
      const shown = shownAs(value, field.dataset.unit, 6);
      field.parentElement.querySelector("output").textContent = shown;
      slider.setAttribute("aria-valuetext", shown);
    }
  };

  // --- the engine, here and beside the page ----------------------------------------------------------------------------
  let worker = null;
  let busy = null;
  let waiting = null;
  let number = 0;
  let shown = 0;
  let cost = /fixed-duty/.test(values) || /\u001fgate\t/.test(values) ? 0 : Infinity;
  const start = () => {
    const script = document.getElementById("engine").textContent + `
      onmessage = event => {
        const {begins, id, changes, whole, output} = event.data;
        if (begins) { globalThis.voltsecondKeys = begins[1]; begin(begins[0]); return; }
        const from = performance.now();
        let told;
        try { told = output ? dutyCycleFor(changes, output) : answer(changes, whole); } catch (failed) { told = ["fault", "stage", String(failed.message || failed)]; }
        postMessage({id, told, took: performance.now() - from});
      };`;
    worker = new Worker(URL.createObjectURL(new Blob([script], {type: "text/javascript"})));
    worker.postMessage({begins: [values, keys]});
    worker.onmessage = event => {
      const done = busy;
      busy = null;
      if (done && done.output) found(event.data.told);
      // what was asked for earlier never takes the place of what was asked for later
      else if (done && event.data.id === done.id && done.id >= shown) {
        shown = done.id;
        if (!done.whole && Number.isFinite(cost)) cost = event.data.took;
        apply(event.data.told, done.whole && done.id === number, done.id === number);
      }
      next();
    };
  };
  const next = () => {
    if (busy || !waiting) { tell(); return; }
    busy = {...waiting, since: performance.now()};
    waiting = null;
    worker.postMessage(busy);
    tell();
  };
  const beside = job => {
    waiting = job;
    if (busy && performance.now() - busy.since > PATIENCE) { worker.terminate(); worker = null; busy = null; }
    if (!worker) start();
    next();
  };
  const here = job => {
    const from = performance.now();
    let result;
    try { result = answer(job.changes, job.whole); } catch (failed) { result = ["fault", "stage", String(failed.message || failed)]; }
    // one slow answer among quick ones, as the first or while the browser tidies up, does not count
    if (!job.whole) cost = Math.min(performance.now() - from, 2 * cost + QUICK / 4);
    shown = job.id;
    apply(result, job.whole, true);
  };
  let resting = 0;
  const request = () => {
    number++;
    const changes = written(setting());
    dim(true);
    if (cost <= QUICK) here({id: number, changes, whole: false});
    else beside({id: number, changes, whole: false});
    clearTimeout(resting);
    // the run and the drawing of the stage, when the hand rests
    resting = setTimeout(() => { waiting = null; whole(changes); }, 120);
    tell();
  };
  const whole = changes => {
    const job = {id: number, changes, whole: true};
    resting = 0;
    try { beside(job); } catch (noWorker) { here(job); }
  };
  const tell = () => { document.documentElement.dataset.live = busy || waiting || resting ? "busy" : "ready"; };

  // --- what is shown ---------------------------------------------------------------------------------------------------
  const PARTLY = /^(transient|checks|heat|frequency_response|steady_state\/conduction_boundary)\//;
  const dim = on => all("[data-figure], section.follows").forEach(element => element.classList.toggle("old", on));
  const apply = (told, complete, newest) => {
    const faults = [];
    const figures = new Map();
    const sections = [];
    for (let k = 0; k < told.length; k += 3) {
      if (told[k] === "fault") faults.push([told[k + 1], told[k + 2]]);
      else if (told[k] === "figure") figures.set(told[k + 1], JSON.parse(told[k + 2]));
      else sections.push([told[k + 1], told[k + 2]]);
    }
    if (newest) showFaults(faults);
    if (faults.length > 0) return;
    all("[data-figure]").forEach(cell => {
      const there = figures.has(cell.dataset.figure);
      // what follows from the run stays, marked as old, until the run is done
      if (!there && !complete && PARTLY.test(cell.dataset.figure)) return;
      const value = figures.get(cell.dataset.figure);
      const found = typeof value === "number";
      cell.dataset.value = found ? String(value) : "";
      cell.firstElementChild.textContent = found ? shownAs(value, cell.dataset.unit, 4) : "none";
      cell.classList.toggle("old", !complete && PARTLY.test(cell.dataset.figure));
    });
    sections.forEach(([heading, markup]) => replace(heading, markup, complete));
    all("section:not(.follows)").forEach(section => section.classList.toggle("as-in-file", setting().size > 0 && !FIXED.has(section.querySelector("h2").textContent)));
    announce();
  };
  const FIXED = new Set(["Try other values", "Cautions", "All figures", "Notes on the design"]);
  const sectionOf = heading => all("main > section").find(section => section.querySelector("h2").textContent === heading);
  const HASRUN = new Set(["Limits", "Stress", "Energy audit"]);
  const replace = (heading, markup, complete) => {
    const section = sectionOf(heading);
    if (!section) return;
    // of a design with a run these tell of it as well
    if (!complete && hasRun && HASRUN.has(heading)) return;
    section.classList.add("follows");
    section.classList.remove("old", "as-in-file");
    const fresh = document.createElement("template");
    fresh.innerHTML = markup;
    // a tile of what takes longer stays, marked as old, so that nothing jumps
    if (!complete) {
      const tiles = list => [...list.querySelectorAll(".highlights div")];
      const there = tiles(fresh.content).map(each => each.firstElementChild.textContent);
      tiles(section).filter(each => there.length > 0 && !there.includes(each.firstElementChild.textContent)).forEach(each => {
        each.classList.add("old");
        fresh.content.querySelector(".highlights").append(each);
      });
    }
    const held = document.activeElement && section.contains(document.activeElement) ? document.activeElement : null;
    const before = [...section.querySelectorAll("figure.waves")];
    [...fresh.content.querySelectorAll("figure.waves")].forEach((figure, k) => {
      const old = before[k];
      const data = figure.querySelector("script").textContent;
      if (old && old.figure && old.figure.update(JSON.parse(data), figure.querySelector("figcaption").textContent)) {
        old.remove();
        figure.replaceWith(old);
      } else figure.removeAttribute("id");
    });
    // a page draws waveforms anew, and no other pictures
    const pictures = [...section.querySelectorAll("figure.picture")];
    pictures.forEach(picture => picture.classList.toggle("as-in-file", setting().size > 0));
    while (section.children.length > 1) section.lastElementChild.remove();
    section.append(fresh.content, ...pictures);
    section.querySelectorAll("figure.waves").forEach(host => { if (!host.figure) page.draw(host); });
    if (held && section.contains(held)) held.focus({preventScroll: true});
  };
  const hasRun = /\u001ftransient\t/.test(values);
  const showFaults = faults => {
    fields.forEach(field => {
      field.removeAttribute("aria-invalid");
      document.getElementById(`${field.id}-fault`).textContent = "";
    });
    const general = [];
    faults.forEach(([place, message]) => {
      const field = fields.find(each => same1(each.dataset.key, place));
      if (field) {
        field.setAttribute("aria-invalid", "true");
        document.getElementById(`${field.id}-fault`).textContent = message;
      } else general.push(`${place}: ${message}`);
    });
    state.classList.toggle("bad", faults.length > 0);
    if (faults.length > 0 || state.textContent.startsWith("The figures")) state.textContent = faults.length > 0 ? `The figures are those of the last valid setting. ${general.join(" ")}` : "";
    if (faults.length > 0) dim(true);
  };
  const parts = [...values.matchAll(/\u001fpart\u001f(\d+)\u001fname\ts(.*)/g)].map(match => [`part[${Number(match[1]) + 1}]`, match[2]]);
  const same1 = (key, place) => key === place || parts.some(([number, name]) => place.startsWith(`${number}.`) && key === name + place.slice(number.length));
  // One short sentence of what has changed, when the hand rests: all figures at each step would never end for who hears them.
  let speaking = 0;
  const glance = () => [...(sectionOf("At a glance") || form).querySelectorAll(".highlights div")].map(each => `${each.children[0].textContent} ${each.children[1].textContent}`);
  let heard = glance();
  const announce = () => {
    clearTimeout(speaking);
    speaking = setTimeout(() => {
      const figures = glance().filter(text => !heard.includes(text)).slice(0, 3);
      heard = glance();
      if (!state.classList.contains("bad")) state.textContent = figures.length > 0 ? figures.join(", ") : "";
    }, 700);
  };

  // --- hands -----------------------------------------------------------------------------------------------------------
  fields.forEach(field => {
    const slider = sliderOf(field);
    slider.addEventListener("input", () => {
      field.value = String(Number(atShare(slider, slider.value / STEPS).toPrecision(3)));
      const shown = shownAs(Number(field.value), field.dataset.unit, 6);
      field.parentElement.querySelector("output").textContent = shown;
      slider.setAttribute("aria-valuetext", shown);
      request();
    });
    slider.addEventListener("change", remember);
    field.addEventListener("input", () => { settle(field); request(); });
    field.addEventListener("change", () => { settle(field); request(); remember(); });
    settle(field);
  });
  // --- the duty cycle for an output --------------------------------------------------------------------------------------
  const wanted = document.getElementById("wanted-output");
  const duty = fields.find(field => field.dataset.key === "drive.duty_cycle");
  const found = ([kind, , text]) => {
    const fault = kind === "fault";
    wanted.toggleAttribute("aria-invalid", fault);
    document.getElementById("wanted-output-fault").textContent = fault ? text : "";
    if (fault) return;
    duty.value = text;
    duty.dispatchEvent(new Event("change"));
  };
  const find = () => {
    if (wanted.value.trim()) beside({id: number, changes: written(setting()), output: wanted.value.trim()});
  };
  if (wanted) {
    form.querySelector(".live-find").onclick = find;
    wanted.addEventListener("keydown", event => { if (event.key === "Enter") find(); });
  }
  form.addEventListener("submit", event => event.preventDefault());
  form.querySelector(".live-undo").onclick = () => go(-1);
  form.querySelector(".live-redo").onclick = () => go(1);
  form.querySelector(".live-reset").onclick = () => { take(new Map()); remember(); };
  form.querySelector(".live-ghost").onchange = event => page.ghosts(event.target.checked);
  form.querySelector(".live-file").onclick = () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([file(written(setting()))], {type: "text/plain"}));
    link.download = "design.toml";
    link.click();
    URL.revokeObjectURL(link.href);
  };
  document.addEventListener("keydown", event => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target.matches("input[type=text]")) return;
    const step = event.key === "z" && !event.shiftKey ? -1 : event.key === "y" || event.key === "Z" ? 1 : 0;
    if (step) { event.preventDefault(); go(step); }
  });
  form.hidden = false;
  told();
  // the first answer takes longer than those that follow
  if (cost === 0) setTimeout(() => { try { answer("", false); } catch (failed) { cost = Infinity; } }, 300);
  document.documentElement.dataset.live = "ready";
  const asked = /^#set=(.*)/.exec(location.hash);
  if (asked) {
    take(new Map(asked[1].split("&").map(pair => pair.split("=").map(decodeURIComponent)).filter(([key]) => first.has(key))));
    remember();
  }
})();
