"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg";
  // one period takes so long, ms; the largest current moves so fast, pixels of the drawing a second
  const PERIOD = 6000;
  const SPEED = 70;
  const DASH = 18;
  const LEAST = 0.01;
  const WIDTH = 720;
  const LEFT = 92;
  const HEIGHT = 104;

  const make = (name, attributes, parent) => {
    const element = document.createElementNS(SVG, name);
    Object.entries(attributes).forEach(([key, value]) => element.setAttribute(key, value));
    parent.append(element);
    return element;
  };
  const PREFIXES = [[1e-12, "p"], [1e-9, "n"], [1e-6, "µ"], [1e-3, "m"], [1, ""], [1e3, "k"], [1e6, "M"]];
  const quantity = (value, unit) => {
    if (Math.abs(value) < 1e-12) return `0 ${unit}`;
    const [size, prefix] = [...PREFIXES].reverse().find(([from]) => Math.abs(value) >= from * 0.9995) || PREFIXES[0];
    return `${(value / size).toPrecision(3)} ${prefix}${unit}`;
  };

  class Flow {
    constructor(host) {
      this.host = host;
      this.data = JSON.parse(host.querySelector("script").textContent);
      const {times, ports, pieces} = this.data;
      this.from = times[0];
      this.length = times[times.length - 1] - this.from;
      this.largest = Math.max(...ports.map(port => Math.max(...port.values.map(Math.abs)))) || 1;
      this.moved = ports.map(() => 0);
      this.button = host.querySelector("button");
      this.slider = host.querySelector("input");
      this.output = host.querySelector("output");
      const layer = host.querySelector(".carry");
      this.pieces = pieces.map(piece => {
        const [x1, y1, x2, y2] = piece.line;
        const long = Math.hypot(x2 - x1, y2 - y1);
        return {
          ...piece, long, angle: Math.atan2(y2 - y1, x2 - x1) * 180 / Math.PI,
          path: make("path", {d: `M${x1} ${y1}L${x2} ${y2}`}, layer),
          head: long < 60 ? null : make("path", {class: "head", d: "M9 0L-7 -7L-7 7Z"}, layer)
        };
      });
      this.draw();
      this.at = 0;
      this.playing = false;
      this.seen = true;
      this.button.onclick = () => this.play(!this.playing);
      this.slider.addEventListener("input", () => { this.play(false); this.show(this.slider.value / 1000); });
      host.hidden = false;
      this.show(0);
    }

    /** The waveforms, once. */
    draw() {
      const {times, steps, beside} = this.data;
      const rows = beside.length;
      const svg = make("svg", {viewBox: `0 0 ${WIDTH} ${rows * HEIGHT + 8}`, role: "img",
        "aria-label": `${beside.map(each => each.name).join(" and ")} over one period`}, this.host.querySelector(".slices"));
      this.x = time => LEFT + (time - this.from) / this.length * (WIDTH - LEFT - 12);
      this.bands = steps.map(step => make("rect", {class: step.kind, x: this.x(step.start), y: 4,
        width: Math.max(0, this.x(step.end) - this.x(step.start)), height: rows * HEIGHT}, svg));
      beside.forEach((trace, k) => {
        const [low, high] = [Math.min(0, ...trace.values), Math.max(0, ...trace.values)];
        const y = value => 4 + k * HEIGHT + 22 + (high - value) / (high - low || 1) * (HEIGHT - 34);
        make("line", {class: "axis", x1: LEFT, x2: WIDTH - 12, y1: y(0), y2: y(0)}, svg);
        make("text", {x: LEFT, y: 4 + k * HEIGHT + 14}, svg).textContent = trace.name;
        [high, low].forEach(value => {
          if (value !== 0) make("text", {x: LEFT - 6, y: y(value) + 5, "text-anchor": "end"}, svg).textContent = quantity(value, trace.unit);
        });
        trace.points = trace.values.map((value, i) => `${this.x(times[i]).toFixed(1)},${y(value).toFixed(1)}`).join(" ");
      });
      beside.forEach(trace => make("polyline", {points: trace.points}, svg));
      this.cursor = make("line", {class: "cursor", y1: 4, y2: 4 + rows * HEIGHT}, svg);
    }

    /** Between the two samples around an instant; those on both sides of a jump are not mixed. */
    place(time) {
      const {times} = this.data;
      let low = 0;
      let high = times.length - 1;
      while (high - low > 1) {
        const middle = (low + high) >> 1;
        if (times[middle] <= time) low = middle; else high = middle;
      }
      const share = times[high] > times[low] ? Math.min(1, (time - times[low]) / (times[high] - times[low])) : 0;
      return values => values[low] + share * (values[high] - values[low]);
    }

    show(at) {
      this.at = at;
      const time = this.from + at * this.length;
      const read = this.place(time);
      const {ports, steps, beside} = this.data;
      this.now = ports.map(port => read(port.values));
      this.pieces.forEach(piece => {
        const sum = values => piece.ports.reduce((all, port, k) => all + piece.signs[k] * values[port], 0);
        const current = sum(this.now);
        const share = Math.min(1, Math.abs(current) / this.largest);
        const carries = share > LEAST;
        piece.path.style.display = carries ? "" : "none";
        if (piece.head) piece.head.style.display = carries ? "" : "none";
        if (!carries) return;
        piece.path.style.strokeWidth = `${1.5 + 4.5 * share}px`;
        piece.path.style.strokeDasharray = `${DASH * 0.55} ${DASH * 0.45}`;
        piece.path.style.strokeDashoffset = `${-(sum(this.moved) % DASH)}`;
        if (piece.head) {
          const [x1, y1, x2, y2] = piece.line;
          const along = current > 0 ? 0.84 : 0.16;
          piece.head.setAttribute("transform", `translate(${x1 + along * (x2 - x1)},${y1 + along * (y2 - y1)}) rotate(${piece.angle + (current > 0 ? 0 : 180)}) scale(${0.6 + 0.6 * share})`);
        }
      });
      const step = Math.max(0, steps.findIndex(each => time < each.end));
      this.bands.forEach((band, k) => band.classList.toggle("now", k === step));
      this.cursor.setAttribute("x1", this.x(time));
      this.cursor.setAttribute("x2", this.x(time));
      const words = `at ${quantity(time - this.from, "s")}: ${steps[step].words}`;
      this.output.textContent = `${words}; ${beside.map(trace => `${trace.name} ${quantity(read(trace.values), trace.unit)}`).join(", ")}`;
      this.slider.value = Math.round(1000 * at);
      this.slider.setAttribute("aria-valuetext", words);
    }

    play(on) {
      this.playing = on;
      this.button.textContent = on ? "Pause" : "Play";
      this.button.setAttribute("aria-pressed", String(on));
      this.last = 0;
      if (on && !this.asked) this.ask();
    }

    ask() {
      this.asked = true;
      requestAnimationFrame(moment => {
        this.asked = false;
        if (!this.playing) return;
        if (this.seen && document.contains(this.host)) {
          const passed = this.last ? Math.min(100, moment - this.last) : 0;
          this.last = moment;
          this.now.forEach((current, k) => { this.moved[k] += current / this.largest * SPEED * passed / 1000; });
          this.show((this.at + passed / PERIOD) % 1);
        }
        this.ask();
      });
    }
  }

  const flows = [...document.querySelectorAll("figure.flow")].map(host => new Flow(host));
  // what nobody sees need not move, and what moves must not for who has asked for rest
  const rest = matchMedia("(prefers-reduced-motion: reduce)");
  if ("IntersectionObserver" in window) {
    const watch = new IntersectionObserver(all => all.forEach(each => flows.forEach(flow => {
      if (flow.host === each.target) flow.seen = each.isIntersecting;
    })));
    flows.forEach(flow => watch.observe(flow.host));
  }
  rest.addEventListener("change", () => { if (rest.matches) flows.forEach(flow => flow.play(false)); });
  if (!rest.matches) flows.forEach(flow => flow.play(true));
})();
