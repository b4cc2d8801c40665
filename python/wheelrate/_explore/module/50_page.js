// The whole: what is supposed, what is asked, what is shown. The page keeps what is supposed; the other side keeps nothing.

const MOST_UNDONE = 200;
const WHOLE = "whole bike";

class Page {
  constructor(element, ask) {
    this.element = element;
    this.ask = ask;
    this.question = line_of_questions((body) => ask("answer", body));
    this.past = [];
    this.future = [];
  }

  async start() {
    const data = await this.ask("start", {});
    this.element.replaceChildren();
    this.element.classList.add("wr");
    if (data.faults) {
      this.element.append(make("h1", {}, "This file has faults"), make("ul", { class: "faults" }, ...data.faults.map(({ message }) => make("li", {}, message))));
      return;
    }
    this.build(data);
  }

  /** Make everything anew: at the start, and when the file was saved or read again. */
  build(data, kept = null) {
    this.data = data;
    this.supposed = kept ?? { points: {}, settings: {}, readings: [], date: data.undated ? "" : data.today, dated: "" };
    this.first = JSON.stringify({ ...this.supposed, points: {}, settings: {}, readings: [] });
    this.number = (mm) => (mm * data.perMillimetre).toFixed(data.perMillimetre < 0.1 ? 3 : 1);
    this.fields = new Map();
    this.#tools();
    this.cards = new Map(Object.keys(data.ends).map((end) => [end, this.#card(end)]));
    this.rows = new Map(data.rows.map((row) => [`${row.group} ${row.name}`, this.#row(row)]));
    this.bodies = new Map();
    this.charts = this.#charts();
    this.settings = new Map(data.sliders.map((one) => [one.name, new Setting(one, (...how) => this.#set(...how))]));
    this.settings.forEach(({ field }) => this.#keep(field));
    this.drawing?.sizes.disconnect();
    this.drawing = data.linkage && new Drawing(data.linkage, data.wheelRadius, data.unit, this.number, (...how) => this.#moved(...how));
    this.coordinates = new Map(Object.keys(data.linkage?.points ?? {}).map((name) => [name, this.#keep_of(new Coordinates(name, data.unit, (...how) => this.#typed_point(...how)))]));
    this.readings = data.form.length ? new Readings(data.form, data.unit, data.undated, () => this.#typed()) : null;
    for (const field of [...(this.readings?.fields ?? []), this.readings?.date, this.readings?.dated]) if (field) this.#keep(field);
    this.saving = new Saving(this);
    this.element.replaceChildren(...this.#layout());
    this.show();
    this.#said(data);
    if (kept) this.asked("end");
  }

  #keep(field) {
    this.fields.set(field.name, field);
  }

  #keep_of(made) {
    this.#keep(made.field);
    return made;
  }

  #tools() {
    const button = (label, onclick) => make("button", { type: "button", onclick }, label);
    this.undo = button("Undo", () => this.step(this.past, this.future));
    this.redo = button("Redo", () => this.step(this.future, this.past));
    this.reset = button("Start over", () => this.change(() => Object.assign(this.supposed, JSON.parse(this.first))));
    this.save = button("Save…", () => this.saving.open());
    this.save.classList.add("main");
    this.element.onkeydown = (event) => {
      if (!(event.ctrlKey || event.metaKey) || event.target.matches?.("input[type=text], textarea")) return;
      const key = event.key.toLowerCase();
      if (key === "z") (event.shiftKey ? this.redo : this.undo).click();
      else if (key === "y") this.redo.click();
      else return;
      event.preventDefault();
    };
  }

  #card(end) {
    const parts = {};
    for (const [name, tag] of [["verdict", "p"], ["set", "p"], ["chance", "p"], ["stands", "p"], ["before", "p"], ["past", "p"], ["headline", "p"], ["next", "ul"]]) parts[name] = make(tag, { class: name });
    parts.card = make("article", { class: "card", "data-end": end }, make("h2", { class: "over" }, capital(end)), parts.verdict, parts.set, parts.chance, parts.stands, parts.before);
    parts.more = make("section", {}, make("h3", {}, capital(end)), parts.past, parts.headline, make("h4", {}, "What to read next"), parts.next);
    return parts;
  }

  #row(row) {
    const cells = Object.fromEntries(["before", "after", "change"].map((name) => [name, make("td", { class: name })]));
    return { cells, group: row.group, name: row.name, element: make("tr", {}, make("th", { scope: "row" }, row.name), cells.before, cells.after, cells.change) };
  }

  #charts() {
    const { units, curves } = this.data;
    const found = [];
    if (curves.rear) found.push(["rear", new Chart("Motion ratio, shock per wheel", "motion_ratio", units.length)]);
    for (const end of ["rear", "front"]) if (curves[end]) found.push([end, new Chart(`Rate at the ${end} wheel, ${units["wheel rate"]}`, "wheel_rate", units.length)]);
    return found;
  }

  #layout() {
    const { data } = this;
    this.general = new Field("", "", make("input", { type: "hidden" })).fault;
    this.general.classList.add("general");
    const groups = [...new Set([...this.rows.values()].map(({ group }) => group))];
    const body = (group) => [
      make("tr", { class: "group" }, make("th", { colspan: 4, scope: "colgroup" }, capital(group))),
      ...[...this.rows.values()].filter((row) => row.group === group).map((row) => row.element),
    ];
    const head = make("tr", {}, make("th", { scope: "col" }, make("span", { class: "hidden" }, "measure")), ...["now", "as supposed", "change"].map((name) => make("th", { scope: "col" }, name)));
    this.without = make("p", { class: "small" });
    for (const group of groups) this.bodies.set(group, make("tbody", {}, ...body(group)));
    const stands = this.bodies.has(WHOLE) ? make("p", { class: "small" }, "The whole bike stands on the springs as the file states them, without friction; sags and rates of an end are those that its readings found.") : null;
    const table = make("div", { class: "measures" }, make("table", {}, make("thead", {}, head), ...this.bodies.values()), stands, this.without);
    const part = (title, ...inside) => make("section", {}, make("h2", {}, title), ...inside);
    return [
      make("header", {}, make("h1", {}, make("small", {}, "What if"), data.name), make("div", { class: "tools" }, this.undo, this.redo, this.reset, data.file ? this.save : null)),
      this.saving.element,
      make("div", { class: "cards", "aria-live": "polite" }, ...["rear", "front"].filter((end) => this.cards.has(end)).map((end) => this.cards.get(end).card)),
      this.drawing ? null : this.general,
      make(
        "div",
        { class: "work" },
        this.drawing && make("div", { class: "stage" }, this.drawing.svg, make("p", { class: "small legend" }, make("span", { class: "key before" }, "now"), make("span", { class: "key after" }, "as supposed"), "Drag a point, or Tab to it and use the arrow keys: 1 mm, with Shift 10, with Alt 0.1."), this.general),
        table,
      ),
      part("Settings", make("div", { class: "settings" }, ...[...this.settings.values()].map(({ element }) => element))),
      part("Over the travel", make("div", { class: "charts" }, ...this.charts.map(([, chart]) => chart.figure))),
      part("Why, and what to read next", make("div", { class: "more" }, ...["rear", "front"].filter((end) => this.cards.has(end)).map((end) => this.cards.get(end).more))),
      this.readings && part("Readings", make("p", { class: "small" }, "They are fitted on the bike as it stands, not on the one supposed; the file keeps them when it is saved."), this.readings.element),
      this.coordinates.size ? part(`Points, ${data.unit} forward and up`, make("div", { class: "points" }, ...[...this.coordinates.values()].map(({ element }) => element))) : null,
    ].filter(Boolean);
  }

  // ------------------------------------------------------------------------------------------------ what is supposed

  /** Remember how it was, so that it can be undone. */
  remember() {
    this.past.push(JSON.stringify(this.supposed));
    if (this.past.length > MOST_UNDONE) this.past.shift();
    this.future.length = 0;
  }

  change(how) {
    this.remember();
    how();
    this.show();
    this.asked("end");
  }

  step(from, to) {
    if (!from.length) return;
    to.push(JSON.stringify(this.supposed));
    this.supposed = JSON.parse(from.pop());
    this.show();
    this.asked("end");
  }

  #moved(name, [x, z], phase) {
    if (phase === "start") {
      this.held = JSON.stringify(this.supposed);
      return;
    }
    const texts = [x, z].map((mm) => `${+(mm * this.data.perMillimetre).toFixed(4)} ${this.data.unit}`);
    const [wasX, wasZ] = this.data.linkage.points[name];
    if (x === wasX && z === wasZ) delete this.supposed.points[name];
    else this.supposed.points[name] = texts;
    this.#gesture(phase);
  }

  #set(name, value, phase) {
    this.held ??= JSON.stringify(this.supposed);
    if (value === this.settings.get(name).data.now) delete this.supposed.settings[name];
    else this.supposed.settings[name] = value;
    this.#gesture(phase);
  }

  /** One gesture is one step of undo. */
  #gesture(phase) {
    if (phase === "end" && this.held !== null && this.held !== undefined) {
      if (this.held !== JSON.stringify(this.supposed)) {
        this.past.push(this.held);
        this.future.length = 0;
      }
      this.held = null;
    }
    this.show();
    this.asked(phase);
  }

  #typed_point(name, texts) {
    this.change(() => (this.supposed.points[name] = texts));
  }

  #typed() {
    const { readings } = this;
    this.change(() => Object.assign(this.supposed, { readings: readings.values(), date: readings.date.input.value, dated: readings.dated?.input.value ?? "" }));
  }

  /** What is sent: readings with what they are of, empty fields left out, and where each came from. */
  sent() {
    const { points, settings, readings, date, dated } = this.supposed;
    const typed = readings.map((said, at) => ({ said, at })).filter(({ said }) => said);
    this.places = typed.map(({ at }) => at);
    const rows = typed.map(({ said, at }) => ({ end: this.data.form[at].end, load: this.data.form[at].load, settled: this.data.form[at].settled, said }));
    return { points, settings, readings: rows, date: rows.length ? date : "", dated };
  }

  // ------------------------------------------------------------------------------------------------- asked and shown

  asked(phase) {
    const began = performance.now();
    this.element.toggleAttribute("data-asked", true);
    this.question({ version: this.data.version, supposed: this.sent(), quick: phase === "move" }, (answer, isLast) => {
      this.#said(answer, isLast);
      this.element.dataset.answeredIn = (performance.now() - began).toFixed(1);
      if (isLast && phase === "end") this.element.removeAttribute("data-asked");
    });
  }

  /** Show what is supposed in every field. */
  show() {
    const { data, supposed } = this;
    for (const [name, setting] of this.settings) setting.show(supposed.settings[name] ?? setting.data.now);
    const points = { ...(data.linkage?.points ?? {}) };
    for (const [name, fields] of this.coordinates) {
      const texts = supposed.points[name] ?? points[name].map(this.number);
      fields.show(texts);
      const numbers = texts.map((text) => parseFloat(text) / data.perMillimetre);
      const plain = texts.every((text) => /^\s*[-+]?[\d.]+\s*$/.test(text) || text.trim().endsWith(` ${data.unit}`));
      if (supposed.points[name] && plain && numbers.every(Number.isFinite)) points[name] = numbers;
    }
    this.drawing?.draw(points);
    this.readings?.show(supposed);
    this.undo.disabled = !this.past.length && !this.held;
    this.redo.disabled = !this.future.length;
    const changed = JSON.stringify({ ...supposed, readings: supposed.readings.filter(Boolean) }) !== this.first;
    this.reset.disabled = !changed;
    this.save.disabled = !changed;
    this.element.classList.toggle("supposing", Object.keys(supposed.points).length + Object.keys(supposed.settings).length > 0);
  }

  /** Show an answer, or what is wrong beside the field that it is in. */
  #said(answer, isLast = true) {
    this.blame(answer.faults ?? [], answer.minds ?? []);
    this.element.classList.toggle("stale", Boolean(answer.faults));
    if (answer.faults) return;
    const waiting = answer.waiting ?? {};
    this.readings?.lacking(waiting);
    for (const [end, { before, after }] of Object.entries(answer.ends)) this.#decide(this.cards.get(end), before, after, end in waiting);
    this.#tabulate(answer.rows, waiting);
    for (const [end, chart] of this.charts) if (answer.curves[end]) chart.draw(answer.curves[end]);
    // Points that move on meanwhile stay where the hand has them; the path of the axle follows.
    const moving = !isLast || this.drawing?.taken;
    if (this.drawing && answer.linkage) this.drawing.draw(moving ? this.drawing.points : answer.linkage.points, answer.linkage);
    this.without.replaceChildren(...(answer.without ? sentence(`Left out: ${answer.without}`) : []));
  }

  /** Fill the table. What has no answer any more is emptied, or marked as it was before an evening that has begun. */
  #tabulate(rows, waiting) {
    const left = new Set(this.rows.values());
    for (const row of rows) {
      const name = `${row.group} ${row.name}`;
      if (!this.rows.has(name)) {
        this.rows.set(name, this.#row(row));
        this.bodies.get(row.group)?.append(this.rows.get(name).element);
      }
      const shown = this.rows.get(name);
      left.delete(shown);
      for (const column of ["before", "after", "change"]) say(shown.cells[column], row[column]);
      shown.element.classList.toggle("changed", Boolean(row.change));
      shown.element.classList.remove("past");
    }
    for (const { cells, group, element } of left) {
      element.classList.remove("changed");
      element.classList.toggle("past", group in waiting);
      for (const column of ["after", "change"]) say(cells[column], column === "after" ? "–" : "");
      if (!(group in waiting)) say(cells.before, "–");
    }
  }

  #decide(card, before, after, waiting) {
    card.card.classList.toggle("past", waiting);
    card.more.classList.toggle("past", waiting);
    say(card.past, waiting ? "Before these readings:" : "");
    if (waiting) {
      say(card.verdict, `${card.verdict.textContent.replace(/, before these readings$/, "")}, before these readings`);
      say(card.before, "");
      return;
    }
    say(card.verdict, capital(after.verdict));
    for (const name of ["set", "chance", "stands"]) say(card[name], after[name]);
    const same = before.set === after.set && before.verdict === after.verdict && before.chance === after.chance;
    say(card.before, same ? "" : `now: ${[before.set || before.verdict, before.chance].filter(Boolean).join(", ")}`);
    set(card.card, "data-verdict", after.verdict);
    if (card.headline.dataset.text !== after.headline) card.headline.replaceChildren(...sentence(after.headline));
    card.headline.dataset.text = after.headline;
    const next = JSON.stringify(after.next);
    if (card.next.dataset.text !== next) card.next.replaceChildren(...after.next.map((text) => make("li", {}, ...sentence(text))));
    card.next.dataset.text = next;
  }

  blame(faults, minds = []) {
    const named = (field) => {
      const reading = /^readings\.(\d+)$/.exec(field);
      return reading ? `readings.${this.places?.[+reading[1]]}` : field;
    };
    const minded = new Map(minds.map(({ field, message }) => [named(field), message]));
    const left = new Map([...this.fields.keys()].map((name) => [name, null]));
    const general = [];
    for (const { field, message } of faults) {
      const name = named(field);
      if (left.has(name)) left.set(name, message);
      // Whoever drags a point looks at the drawing.
      if (name.startsWith("points.")) general.push(`${capital(words(name.slice(7)))}: ${message}`);
      else if (left.has(name)) continue;
      else if (field === "version") this.saving.outdated(message);
      else general.push(message);
    }
    left.forEach((message, name) => this.fields.get(name).blame(message, minded.get(name)));
    say(this.general, general.join(" "));
    this.drawing?.handles.forEach((handle, name) => handle.classList.toggle("wrong", Boolean(left.get(`points.${name}`))));
  }
}
