// Two curves over travel, now and as supposed, in one small picture.

const [WIDE, HIGH, LEFT, RIGHT, TOP, BOTTOM] = [420, 190, 42, 10, 10, 34];

class Chart {
  constructor(title, column, unit) {
    this.column = column;
    this.title = title;
    this.unit = unit;
    this.grid = make("g", {});
    this.curves = { before: make("path", { class: "curve before" }), after: make("path", { class: "curve after" }) };
    this.svg = make("svg", { viewBox: `0 0 ${WIDE} ${HIGH}`, role: "img" }, this.grid, this.curves.before, this.curves.after);
    this.figure = make("figure", {}, make("figcaption", { class: "over" }, title), this.svg);
  }

  draw({ before, after }) {
    const all = [...before[this.column], ...after[this.column]];
    // Stops raise the rate many times over in the last of the travel: the chart leaves room for what comes before.
    const late = (curve) => curve[this.column].slice(0, Math.ceil(0.75 * curve[this.column].length));
    const low = Math.min(...all);
    const high = Math.min(Math.max(...all), low + 2 * (Math.max(...late(before), ...late(after)) - low || 0.1 * low));
    const full = Math.max(before.travel.at(-1), after.travel.at(-1));
    const x = (travel) => LEFT + (travel / full) * (WIDE - LEFT - RIGHT);
    const y = (value) => HIGH - BOTTOM - ((value - low) / (high - low || 1)) * (HIGH - TOP - BOTTOM);
    for (const [name, curve] of Object.entries({ before, after })) {
      const points = curve.travel.map((travel, at) => [x(travel), y(curve[this.column][at])]);
      set(this.curves[name], "d", line(points.filter(([, up]) => up >= TOP - 4)));
    }
    this.#axes(low, high, full, x, y);
    const said = ({ [this.column]: values }) => `${values[0]} to ${values.at(-1)}`;
    set(this.svg, "aria-label", `${this.title} over travel: now ${said(before)}, as supposed ${said(after)}`);
  }

  #axes(low, high, full, x, y) {
    const across = ticks(0, full, 5);
    const up = ticks(low, high, 4);
    this.grid.replaceChildren();
    const decimals = Math.max(0, -Math.floor(Math.log10(up.step) + 1e-9));
    for (const value of up.found) {
      const at = y(value);
      this.grid.append(
        make("path", { class: "grid", d: `M${LEFT} ${at.toFixed(1)}H${WIDE - RIGHT}` }),
        make("text", { class: "tick", x: LEFT - 6, y: at + 4, "text-anchor": "end" }, value.toFixed(decimals)),
      );
    }
    for (const value of across.found) {
      this.grid.append(make("text", { class: "tick", x: x(value), y: HIGH - BOTTOM + 15, "text-anchor": "middle" }, String(+value.toFixed(2))));
    }
    this.grid.append(
      make("path", { class: "axis", d: `M${LEFT} ${HIGH - BOTTOM}H${WIDE - RIGHT}` }),
      make("text", { class: "tick", x: WIDE - RIGHT, y: HIGH - 3, "text-anchor": "end" }, `wheel travel, ${this.unit}`),
    );
  }
}
