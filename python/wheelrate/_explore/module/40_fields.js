// What is set and typed: sliders, coordinates, readings. A fault is shown beside the field that it is in.

let last_id = 0;
const fresh = (name) => `wr-${name}-${++last_id}`;

/** A field with its label and room for what is wrong with it. */
class Field {
  constructor(name, label, input, help = null) {
    this.name = name;
    this.input = input;
    input.id = fresh("field");
    this.fault = make("p", { class: "fault", id: fresh("fault"), role: "alert" });
    this.help = help ? make("p", { class: "help", id: fresh("help") }, help) : null;
    set(input, "aria-describedby", [this.help?.id, this.fault.id].filter(Boolean).join(" "));
    this.label = make("label", { for: input.id }, label);
  }

  /** Say what is wrong, or what to mind, which stands in nobody's way. */
  blame(message, mind = null) {
    say(this.fault, message ?? mind ?? "");
    this.fault.classList.toggle("mind", Boolean(mind && !message));
    if (message) set(this.input, "aria-invalid", "true");
    else this.input.removeAttribute("aria-invalid");
  }
}

/** A slider in the steps in which the thing can be set, with the number that it stands at. */
class Setting {
  constructor(data, changed) {
    this.data = data;
    // Steps count from where the file has it, which may lie between the marks of a scale.
    const [least, most, step] = data.kind === "choices" ? [0, data.stops.length - 1, 1] : [0, 0, data.stops[2]];
    this.stops =
      data.kind === "choices" ? data.stops : Array.from({ length: Math.round((data.stops[1] - data.stops[0]) / step) + 1 }, (_, at) => data.stops[0] + at * step);
    const input = make("input", { type: "range", min: least, max: data.kind === "choices" ? most : this.stops.length - 1, step: 1 });
    this.field = new Field(`settings.${data.name}`, capital(data.name), input);
    this.output = make("output", { for: input.id });
    input.addEventListener("input", () => {
      this.#says();
      changed(data.name, this.value(), "move");
    });
    input.addEventListener("change", () => changed(data.name, this.value(), "end"));
    const mark = make("span", { class: "stated" }, `file: ${this.text(data.now)}`);
    this.element = make("div", { class: "setting" }, this.field.label, this.output, input, mark, this.field.fault);
    this.show(data.now);
  }

  value() {
    return +this.stops[this.field.input.valueAsNumber].toFixed(6);
  }

  text(value) {
    const sign = this.data.now === 0 && this.data.stops[0] < 0 && value > 0 ? "+" : "";
    const number = `${sign}${+value.toFixed(this.data.decimals)} ${this.data.unit}`;
    const turns = this.data.turn && (value - this.data.now) / this.data.turn;
    return turns ? `${number}, ${turns > 0 ? "+" : "−"}${quarters(Math.abs(turns))}` : number;
  }

  show(value) {
    const far = this.stops.map((stop) => Math.abs(stop - value));
    this.field.input.value = far.indexOf(Math.min(...far));
    this.#says();
  }

  #says() {
    const text = this.text(this.value());
    say(this.output, text);
    set(this.field.input, "aria-valuetext", text);
    this.element.classList.toggle("moved", Math.abs(this.value() - this.data.now) > 1e-9);
  }
}

/** Coordinates of a point, as text with a unit or without: then that of the page. */
class Coordinates {
  constructor(name, unit, typed) {
    this.unit = ` ${unit}`;
    this.inputs = ["forward", "up"].map((way) => {
      const input = make("input", { type: "text", inputmode: "text", autocomplete: "off", "aria-label": `${words(name)}, ${way}, ${unit}` });
      input.addEventListener("change", () => typed(name, this.inputs.map((one) => one.value)));
      return input;
    });
    this.field = new Field(`points.${name}`, words(name), this.inputs[0]);
    set(this.inputs[1], "aria-describedby", this.field.fault.id);
    this.element = make("div", { class: "coordinates" }, this.field.label, ...this.inputs, this.field.fault);
  }

  show([x, z]) {
    [x, z].forEach((text, at) => {
      if (this.inputs[at].getRootNode().activeElement !== this.inputs[at]) this.inputs[at].value = text.endsWith(this.unit) ? text.slice(0, -this.unit.length) : text;
    });
  }
}

/** The form for an evening of readings, as on the sheet for the garage: one row a load, pushed down and lifted. */
class Readings {
  constructor(form, unit, undated, typed) {
    this.form = form;
    this.fields = form.map((row, at) => this.#field(row, at, unit, typed));
    const day = (name, label, help) => new Field(name, label, make("input", { type: "text", autocomplete: "off", onchange: typed }), help);
    this.date = day("date", "Day of these readings", "2026-06-14, with a time or without. Left empty, they belong to those in the file.");
    this.dated = undated ? day("dated", "Day of the readings in the file", "They stand there without one.") : null;
    const ends = grouped(form);
    this.element = make("div", { class: "readings" });
    this.waiting = new Map();
    for (const [end, rows] of Object.entries(ends)) {
      const set_of = make("fieldset", {}, make("legend", {}, `${capital(end)}: ${rows[0].row.reads}, ${unit}`));
      for (const { at } of rows) {
        const field = this.fields[at];
        set_of.append(make("div", { class: "reading" }, field.label, field.input, field.help, field.fault));
      }
      const waiting = make("p", { class: "fault mind", role: "status" });
      this.waiting.set(end, waiting);
      set_of.append(waiting);
      this.element.append(set_of);
    }
    const days = [this.date, this.dated].filter(Boolean);
    this.element.append(
      make("fieldset", {}, make("legend", {}, "When"), ...days.map((field) => make("div", { class: "reading day" }, field.label, field.input, field.help, field.fault))),
    );
  }

  #field(row, at, unit, typed) {
    const input = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", onchange: typed });
    return new Field(`readings.${at}`, row.label, input, row.how);
  }

  /** Say what an evening that has only begun still lacks, by end. */
  lacking(reasons) {
    for (const [end, element] of this.waiting) {
      const why = reasons[end] && `No answer from these yet: ${reasons[end].join(" ").replace(`${end}: `, "")}`;
      if (element.dataset.text !== why) element.replaceChildren(...(why ? sentence(why) : []));
      element.dataset.text = why ?? "";
    }
  }

  /** What is typed, by the place of its field; empty fields are none. */
  values() {
    return this.fields.map((field) => field.input.value.trim());
  }

  show({ readings = [], date = "", dated = "" }) {
    this.fields.forEach((field, at) => (field.input.value = readings[at] ?? ""));
    this.date.input.value = date;
    if (this.dated) this.dated.input.value = dated;
  }
}

/** Turns of a collar with four marks. */
function quarters(turns) {
  const all = Math.round(4 * turns);
  const said = `${Math.floor(all / 4) || ""}${["", "¼", "½", "¾"][all % 4]}`;
  return `${said} ${all > 4 ? "turns" : "turn"}`;
}

/** Rows by their end, with their places. */
function grouped(form) {
  const ends = {};
  form.forEach((row, at) => (ends[row.end] ??= []).push({ row, at }));
  return ends;
}
