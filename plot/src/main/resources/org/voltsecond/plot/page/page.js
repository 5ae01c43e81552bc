"use strict";
(() => {
  const PREFIXES = [[1e9, "G"], [1e6, "M"], [1e3, "k"], [1, ""], [1e-3, "m"], [1e-6, "µ"], [1e-9, "n"], [1e-12, "p"], [1e-15, "f"]];
  const DASHES = [[], [9, 4], [2.5, 3], [12, 3, 2.5, 3], [5, 2]];
  const AXIS_WIDTH = 66;
  const HEIGHT = 158;
  const LAST_HEIGHT = 190;
  // What an A4 sheet holds at 96 pixels to the inch beside its margins, a heading and a list of marks.
  const PAPER_WIDTH = 690;
  const PAPER_HEIGHT = 840;

  const prefixOf = magnitude => magnitude === 0 ? PREFIXES[3]
    : PREFIXES.find(([factor]) => magnitude >= factor * 0.99995) || PREFIXES[PREFIXES.length - 1];
  const engineering = (exact, unit, digits = 5, scale = 0) => {
    // What is nothing but rounding beside the rest of its trace is shown as zero.
    const value = Math.abs(exact) < 1e-11 * scale ? 0 : exact;
    const [factor, prefix] = prefixOf(Math.abs(value));
    return `${Number((value / factor).toPrecision(digits))} ${prefix}${unit}`;
  };
  // The numbers are stored as the eight bytes each has in memory, the lowest first.
  const numbers = text => {
    const view = new DataView(Uint8Array.from(atob(text), letter => letter.charCodeAt(0)).buffer);
    return Float64Array.from({length: view.byteLength / 8}, (_, k) => view.getFloat64(8 * k, true));
  };
  const colour = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const element = (tag, className, text) => {
    const made = document.createElement(tag);
    if (className) made.className = className;
    if (text !== undefined) made.textContent = text;
    return made;
  };

  /** One figure: panels with a common time axis, a common cursor, buttons, and what the cursor reads. */
  class Figure {
    constructor(host) {
      const data = JSON.parse(host.querySelector("script").textContent);
      Object.assign(this, {host, data, from: data.from, to: data.to, plots: [], traces: [], moving: false, fingers: new Map(), held: null});
      this.columns = data.kind === "columns";
      this.time = numbers(data.time);
      if (this.columns) this.time = Float64Array.from([...this.time, data.to]);
      this.addTools();
      this.area = host.appendChild(element("div", "plots"));
      this.title = host.querySelector("figcaption").textContent;
      Object.assign(this.area, {tabIndex: 0, role: "group", ariaLabel: `${this.title}; arrow keys move the cursor, plus and minus zoom, 0 shows the whole`});
      this.instant = this.area.appendChild(element("div", "instant"));
      data.panels.forEach((panel, k) => this.addPanel(panel, k === data.panels.length - 1));
      this.addMarks();
      this.spoken = host.appendChild(element("div", "spoken"));
      this.spoken.role = "status";
      this.area.addEventListener("keydown", event => this.key(event));
      this.read(null);
      // Lets a test look at what is shown.
      host.figure = this;
    }

    addTools() {
      const tools = this.host.appendChild(element("div", "tools"));
      const button = (text, action) => tools.appendChild(Object.assign(element("button", "", text), {type: "button", onclick: action}));
      button("zoom in", () => this.zoom(0.5));
      button("zoom out", () => this.zoom(2));
      button("◀", () => this.shift(-0.25)).setAttribute("aria-label", "earlier");
      button("▶", () => this.shift(0.25)).setAttribute("aria-label", "later");
      button("whole", () => this.show(this.from, this.to));
      tools.appendChild(element("span", "", matchMedia("(pointer: coarse)").matches ? "Two fingers zoom and shift; one finger moves the cursor."
        : "Drag across a panel to zoom; double-click to see the whole; arrow keys move the cursor."));
    }

    addPanel(panel, last) {
      const box = this.area.appendChild(element("div", "panel"));
      const labels = box.appendChild(element("div", "reading"));
      const series = [{}];
      const columns = [this.time];
      const bands = [];
      panel.traces.forEach(trace => {
        const look = {hue: trace.hue, dash: DASHES[trace.dash % DASHES.length]};
        const stroke = () => colour(`--trace-${look.hue}`);
        // without pxAlign a slow ramp would climb in steps of whole pixels
        const line = {stroke, width: this.columns ? 1 : 1.7, dash: look.dash, points: {show: false}, pxAlign: 0};
        const entry = {name: trace.name, unit: panel.unit, series: []};
        if (this.columns) {
          const ends = text => { const values = numbers(text); return Float64Array.from([...values, values[values.length - 1]]); };
          Object.assign(entry, {low: ends(trace.low), high: ends(trace.high)});
          line.paths = uPlot.paths.stepped({align: 1});
          entry.series.push(series.push(line) - 1, series.push({...line}) - 1);
          columns.push(entry.high, entry.low);
          bands.push({series: [series.length - 2, series.length - 1], fill: () => `color-mix(in srgb, ${stroke()} 45%, transparent)`});
        } else {
          entry.value = numbers(trace.value);
          entry.series.push(series.push(line) - 1);
          columns.push(entry.value);
        }
        entry.label = this.addLabel(labels, entry, look);
        this.traces.push(entry);
      });
      const plot = new uPlot(this.options(series, bands, panel.unit, last), columns, box);
      this.traces.filter(trace => !trace.plot).forEach(trace => { trace.plot = plot; });
      plot.over.addEventListener("pointermove", event => {
        if (event.pointerType !== "touch") return;
        if (this.fingers.has(event.pointerId)) this.fingers.set(event.pointerId, event.clientX);
        if (this.fingers.size === 2) this.pinch(plot);
        else this.point(event.clientX - plot.over.getBoundingClientRect().left);
      });
      plot.over.addEventListener("pointerdown", event => {
        if (event.pointerType !== "touch") return;
        this.fingers.set(event.pointerId, event.clientX);
        this.held = this.fingers.size === 2 ? this.between(plot) : null;
      });
      ["pointerup", "pointercancel"].forEach(kind => addEventListener(kind, event => this.fingers.delete(event.pointerId)));
      this.plots.push(plot);
      const canvas = plot.root.querySelector("canvas");
      canvas.setAttribute("role", "img");
      plot.describe = text => canvas.setAttribute("aria-label", `${panel.traces.map(trace => trace.name).join(", ")} in ${panel.unit} over time: ${text}`);
    }

    /** What a narrow screen has no room for beside its line stands below, under the same number. */
    addMarks() {
      if (this.data.marks.length === 0) return;
      const list = this.area.appendChild(element("ol", "marks"));
      this.data.marks.forEach(mark => list.appendChild(element("li")).appendChild(element("bdi", "", `at ${engineering(mark.time, "s")}: ${mark.text}`)));
    }

    addLabel(labels, trace, look) {
      const label = labels.appendChild(element("label"));
      const box = label.appendChild(Object.assign(element("input"), {type: "checkbox", checked: true}));
      const sample = label.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "svg"));
      sample.setAttribute("width", "28");
      sample.setAttribute("height", "6");
      const stroke = sample.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "path"));
      stroke.setAttribute("d", "M0 3H28");
      stroke.setAttribute("stroke-width", "2.4");
      stroke.setAttribute("stroke-dasharray", look.dash.join(" "));
      stroke.style.stroke = `var(--trace-${look.hue})`;
      label.appendChild(element("bdi", "", trace.name));
      box.addEventListener("change", () => trace.series.forEach(index => trace.plot.setSeries(index, {show: box.checked})));
      return label.appendChild(Object.assign(element("output"), {ariaLive: "off"}));
    }

    options(series, bands, unit, last) {
      const axis = {stroke: () => colour("--ink"), font: "12px system-ui, sans-serif", ticks: {stroke: () => colour("--faint"), width: 1, size: 4},
        grid: {stroke: () => colour("--grid"), width: 1}};
      const scaled = ofUnit => (plot, splits) => {
        const [factor, prefix] = prefixOf(Math.max(...splits.map(Math.abs)));
        return splits.map((value, k) => `${Number((value / factor).toPrecision(7))}${k === splits.length - 1 ? ` ${prefix}${ofUnit}` : ""}`);
      };
      return {
        width: this.width(), height: last ? LAST_HEIGHT : HEIGHT, series, bands, legend: {show: false}, padding: [12, 26, last ? 0 : 4, 0],
        cursor: {sync: {key: this.host.id}, drag: {x: true, y: false, setScale: true}, points: {size: 6}},
        scales: {x: {time: false, range: (plot, low, high) => [low, high]}, y: {range: (plot, low, high) => this.range(low, high)}},
        axes: [
          {...axis, size: last ? 36 : 6, space: 90, values: last ? scaled("s") : (plot, splits) => splits.map(() => "")},
          {...axis, size: AXIS_WIDTH, space: 28, values: scaled(unit)}],
        hooks: {
          setCursor: [plot => this.read(plot.cursor.left >= 0 ? plot.cursor.idx : null)],
          setScale: [(plot, key) => {
            if (key !== "x") return;
            this.follow(plot);
            if (this.area && this.index === null) this.read(null);
          }],
          drawAxes: [plot => this.drawGhost(plot)],
          draw: [plot => this.drawMarks(plot, plot === this.plots[0] || this.plots.length === 0)]}
      };
    }

    /** Other values of the same traces; false where these are others, so that the figure has to be drawn anew. */
    update(data, title) {
      const shape = figure => JSON.stringify([figure.kind, figure.panels.map(panel => [panel.unit, panel.traces.map(trace => trace.name)])]);
      if (shape(data) !== shape(this.data)) return false;
      this.ghost = this.ghost || {time: this.time, traces: this.traces.map(({low, high, value}) => ({low, high, value}))};
      const [from, to] = this.window();
      const all = from <= this.from && to >= this.to;
      Object.assign(this, {data, from: data.from, to: data.to, title});
      this.host.querySelector("figcaption").firstElementChild.textContent = title;
      this.time = numbers(data.time);
      if (this.columns) this.time = Float64Array.from([...this.time, data.to]);
      const closed = text => { const values = numbers(text); return Float64Array.from([...values, values[values.length - 1]]); };
      const traces = data.panels.flatMap(panel => panel.traces);
      this.traces.forEach((trace, k) => {
        trace.whole = undefined;
        if (this.columns) Object.assign(trace, {low: closed(traces[k].low), high: closed(traces[k].high)});
        else trace.value = numbers(traces[k].value);
      });
      this.index = null;
      this.plots.forEach(plot => plot.setData([this.time, ...this.traces.filter(trace => trace.plot === plot).flatMap(trace => this.columns ? [trace.high, trace.low] : [trace.value])]));
      if (!all) this.show(from, to);
      this.read(null);
      return true;
    }

    /** The setting that was left, faint behind the present one. */
    drawGhost(plot) {
      if (!this.ghost || !showGhosts) return;
      const {ctx, bbox} = plot;
      ctx.save();
      ctx.beginPath();
      ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
      ctx.clip();
      ctx.globalAlpha = 0.4;
      ctx.strokeStyle = colour("--faint");
      ctx.lineWidth = 1.4 * uPlot.pxRatio;
      const {time} = this.ghost;
      this.traces.forEach((trace, k) => {
        if (trace.plot !== plot) return;
        const old = this.ghost.traces[k];
        const unit = Object.keys(plot.scales).find(name => name !== "x");
        [old.value, old.low, old.high].filter(values => values).forEach(values => {
          ctx.beginPath();
          for (let i = 0; i < time.length; i++) ctx.lineTo(plot.valToPos(time[i], "x", true), plot.valToPos(values[i], unit, true));
          ctx.stroke();
        });
      });
      ctx.restore();
    }

    range(low, high) {
      if (low === null || high === null) return [0, 1];
      // A constant is not drawn as if its rounding were a waveform.
      const room = Math.max((high - low) * 0.06, Math.max(Math.abs(low), Math.abs(high)) * 1e-6, 1e-12);
      return [low - room, high + room];
    }

    width() { return Math.max(240, this.area.clientWidth || this.host.clientWidth - 26); }

    follow(plot) {
      if (this.moving) return;
      this.moving = true;
      const {min, max} = plot.scales.x;
      this.plots.forEach(other => { if (other !== plot && (other.scales.x.min !== min || other.scales.x.max !== max)) other.setScale("x", {min, max}); });
      queueMicrotask(() => queueMicrotask(() => { this.moving = false; }));
    }

    show(min, max) {
      const span = Math.min(Math.max(max - min, (this.to - this.from) * 1e-6), this.to - this.from);
      const begin = Math.min(Math.max(min, this.from), this.to - span);
      this.plots.forEach(plot => plot.setScale("x", {min: begin, max: begin + span}));
    }

    /** The instants under two fingers. */
    between(plot) {
      const {left} = plot.over.getBoundingClientRect();
      return [...this.fingers.values()].map(x => plot.posToVal(x - left, "x")).sort((a, b) => a - b);
    }

    /** What lay under two fingers stays under them: apart they zoom in, together out, both aside they shift. */
    pinch(plot) {
      const [from, to] = this.between(plot);
      const [first, last] = this.held;
      if (!(to > from && last > first)) return;
      const {min, max} = plot.scales.x;
      const span = (max - min) * (last - first) / (to - from);
      const begin = first - (from - min) / (max - min) * span;
      this.show(begin, begin + span);
    }

    zoom(factor) {
      const {min, max} = this.plots[0].scales.x;
      const at = this.index === null ? (min + max) / 2 : this.time[this.index];
      const centre = at >= min && at <= max ? at : (min + max) / 2;
      this.show(centre - (centre - min) * factor, centre + (max - centre) * factor);
    }

    shift(share) {
      const {min, max} = this.plots[0].scales.x;
      this.show(min + (max - min) * share, max + (max - min) * share);
    }

    point(left) { this.plots.forEach(plot => plot.setCursor({left, top: 10})); }

    key(event) {
      const step = {ArrowLeft: -1, ArrowRight: 1}[event.key];
      if (step) {
        const {min, max} = this.plots[0].scales.x;
        const first = this.plots[0].valToIdx(min);
        const index = this.index === null ? first : Math.min(Math.max(this.index + step * (event.shiftKey ? 10 : 1), first), this.plots[0].valToIdx(max));
        this.point(this.plots[0].valToPos(this.time[index], "x"));
        this.read(index);
      } else if (event.key === "+") this.zoom(0.5);
      else if (event.key === "-") this.zoom(2);
      else if (event.key === "0") this.show(this.from, this.to);
      else return;
      event.preventDefault();
    }

    /** The time that is seen. */
    window() {
      const {min, max} = this.plots[0].scales.x;
      return [min === null || min === undefined ? this.from : min, max === null || max === undefined ? this.to : max];
    }

    /** Shows what every trace is at one place, or over the time that is seen. */
    read(index) {
      const place = index === undefined ? null : index;
      this.index = place;
      const last = this.time.length - 1;
      const column = this.columns && place !== null ? Math.min(place, last - 1) : place;
      const [from, to] = this.window();
      const all = from <= this.from && to >= this.to;
      if (place === null) this.instant.textContent = `${all ? "over the whole time" : `over what is seen, from ${engineering(from, "s", 6)} to ${engineering(to, "s", 6)}`}, from lowest to highest`;
      else if (this.columns) this.instant.textContent = `from ${engineering(this.time[column], "s", 6)} to ${engineering(this.time[column + 1], "s", 6)}, from lowest to highest`;
      else this.instant.textContent = `at ${engineering(this.time[place], "s", 6)}`;
      this.traces.forEach(trace => {
        const low = trace.low || trace.value;
        const high = trace.high || trace.value;
        const whole = trace.whole || (trace.whole = [low.reduce((a, b) => Math.min(a, b)), high.reduce((a, b) => Math.max(a, b))]);
        const scale = Math.max(...whole.map(Math.abs));
        const [lowest, highest] = place === null ? (all ? whole : this.extremes(low, high, from, to)) : [low[column], high[column]];
        const shown = value => engineering(value, trace.unit, 5, scale).replace(" ", "\u00a0");
        trace.label.textContent = lowest === highest ? shown(lowest) : `${shown(lowest)} … ${shown(highest)}`;
      });
      this.describe();
    }

    /** The lowest and the highest value of a trace in a part of the time; between two rows it is a straight line. */
    extremes(low, high, from, to) {
      let [lowest, highest] = [Infinity, -Infinity];
      const include = (a, b) => { lowest = Math.min(lowest, a); highest = Math.max(highest, b); };
      for (let k = 0; k + 1 < this.time.length; k++) {
        const [begin, end] = [this.time[k], this.time[k + 1]];
        if (end < from || begin > to) continue;
        if (this.columns) {
          if (end > from && begin < to) include(low[k], high[k]);
          continue;
        }
        const at = time => end > begin ? low[k] + (low[k + 1] - low[k]) * (time - begin) / (end - begin) : low[k];
        [at(Math.max(begin, from)), begin === end ? low[k + 1] : at(Math.min(end, to))].forEach(value => include(value, value));
      }
      return [lowest, highest];
    }

    /** Tells the same to who hears the page, when the cursor has come to rest. */
    describe() {
      const reading = trace => `${trace.name} ${trace.label.textContent.replace("…", "to")}`;
      this.plots.forEach(plot => plot.describe(`${this.instant.textContent}; ${this.traces.filter(trace => trace.plot === plot).map(reading).join("; ")}`));
      clearTimeout(this.speaking);
      if (this.index === null || !this.spoken) return;
      this.speaking = setTimeout(() => { this.spoken.textContent = `${this.instant.textContent}: ${this.traces.map(reading).join("; ")}`; }, 400);
    }

    drawMarks(plot, labelled) {
      const {ctx, bbox} = plot;
      ctx.save();
      ctx.beginPath();
      ctx.rect(bbox.left, 0, bbox.width, bbox.top + bbox.height);
      ctx.clip();
      ctx.strokeStyle = ctx.fillStyle = colour("--faint");
      ctx.lineWidth = uPlot.pxRatio;
      ctx.font = `${11 * uPlot.pxRatio}px system-ui, sans-serif`;
      plot.labels = [];
      this.data.marks.forEach((mark, k) => {
        if (mark.time < plot.scales.x.min || mark.time > plot.scales.x.max) return;
        const x = plot.valToPos(mark.time, "x", true);
        ctx.setLineDash([3 * uPlot.pxRatio, 3 * uPlot.pxRatio]);
        ctx.beginPath();
        ctx.moveTo(x, bbox.top);
        ctx.lineTo(x, bbox.top + bbox.height);
        ctx.stroke();
        if (!labelled) return;
        const space = 4 * uPlot.pxRatio;
        const room = Math.max(bbox.left + bbox.width - x, x) - 2 * space;
        const text = ctx.measureText(mark.text).width <= room ? mark.text : `${k + 1}`;
        const width = ctx.measureText(text).width;
        const from = x + 1.5 * space + width > bbox.left + bbox.width ? x - space - width : x + space;
        // a label over another would make both unreadable; zoomed in, each finds its place
        if (plot.labels.some(other => from < other.to + space && from + width + space > other.from)) return;
        plot.labels.push({text, from, to: from + width});
        ctx.fillText(text, from, bbox.top - 2 * uPlot.pxRatio);
      });
      ctx.restore();
    }

    /** Back to the size of the screen, or on to a sheet, where all panels of a figure stand together. */
    fit(paper) {
      const room = PAPER_HEIGHT / this.plots.length - 34;
      this.plots.forEach((plot, k) => {
        const height = k === this.plots.length - 1 ? LAST_HEIGHT : HEIGHT;
        plot.setSize(paper ? {width: PAPER_WIDTH, height: Math.min(height, room)} : {width: this.width(), height});
      });
    }
  }

  let showGhosts = true;
  const figures = [...document.querySelectorAll("figure.waves")].map(host => new Figure(host));
  const repaint = () => figures.forEach(figure => figure.plots.forEach(plot => plot.redraw(false, true)));
  // For the script of the controls.
  globalThis.voltsecondPage = {
    engineering,
    draw: host => {
      host.id = `figure-${figures.length + 1}`;
      figures.push(new Figure(host));
    },
    ghosts: shown => { showGhosts = shown; repaint(); }
  };
  window.addEventListener("resize", () => figures.forEach(figure => figure.fit(false)));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", repaint);
  // On paper: its width, its colours, and the whole time.
  matchMedia("print").addEventListener("change", event => figures.forEach(figure => figure.fit(event.matches)));
})();
