// Into the bike file: what would change is shown first, and whether it was done or mends an entry is asked.

class Saving {
  constructor(page) {
    this.page = page;
    const text = (value = "") => make("input", { type: "text", autocomplete: "off", value });
    this.when = new Field("when", "When", text(page.data.today));
    this.note = new Field("note", "A note for the log", text());
    const undated = page.data.undated ? new Field("dated", "Day of the readings in the file", make("input", { type: "text", autocomplete: "off", placeholder: `as ${page.data.today.slice(0, 10)}` }), "They stand there without one; a change needs to know what was read before it.") : null;
    this.dated = undated;
    this.lines = make("pre", { tabindex: 0, "aria-label": "What would change in the file" });
    this.fault = make("p", { class: "fault", role: "alert" });
    const button = (label, onclick, main) => make("button", { type: "button", onclick, class: main ? "main" : "" }, label);
    this.write = button("Write", () => this.#write(), true);
    const way = (value, label, checked) => make("label", { class: "way" }, make("input", { type: "radio", name: this.group, value, checked, onchange: () => this.look() }), label);
    this.group = fresh("how");
    this.how = make("fieldset", { class: "how" }, make("legend", {}, "What was changed"), way("made", "was done to the bike: the log keeps what stood there, and what the readings found is carried over", true), way("mended", "was written down wrong: every reading is fitted on the bike mended", false));
    this.how.querySelectorAll("input").forEach((input) => set(input, "name", this.group));
    for (const field of [this.when, undated]) field?.input.addEventListener("change", () => this.look());
    this.log = make("div", { class: "log" }, ...[this.when, this.note, undated].filter(Boolean).map((field) => make("div", { class: "reading" }, field.label, field.input, field.help ?? "", field.fault)));
    this.element = make("section", { class: "saving", hidden: true, "aria-label": "Save" }, make("h2", {}, `Save to ${page.data.file}`), this.how, this.log, this.lines, this.fault, make("div", { class: "tools" }, this.write, button("Not now", () => this.close())));
    this.element.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.close();
    });
  }

  body() {
    const how = this.element.querySelector("input[type=radio]:checked").value;
    const supposed = this.page.sent();
    if (this.dated?.input.value && how === "made") supposed.dated = this.dated.input.value;
    return { version: this.page.data.version, supposed, how, when: this.when.input.value, note: this.note.input.value };
  }

  open() {
    this.element.hidden = false;
    const supposing = this.page.element.classList.contains("supposing");
    this.how.hidden = this.log.hidden = !supposing;
    this.look();
    (supposing ? this.how.querySelector("input") : this.write).focus();
  }

  close() {
    this.element.hidden = true;
    this.page.save.focus();
  }

  async look() {
    const body = this.body();
    this.log.hidden = this.how.hidden || body.how === "mended";
    const answer = await this.page.ask("preview", body);
    this.#blame(answer.faults ?? []);
    const kinds = { "+": "added", "-": "removed", "@": "place" };
    this.lines.replaceChildren(...(answer.lines ?? []).map((line) => make("span", { class: kinds[line[0]] ?? "" }, `${line}\n`)));
    this.write.disabled = Boolean(answer.faults);
  }

  #blame(faults) {
    const fields = new Map([this.when, this.note, this.dated].filter(Boolean).map((field) => [field.name, field]));
    fields.forEach((field) => field.blame(null));
    const general = [];
    for (const { field, message } of faults) {
      if (field === this.dated?.name && !this.dated.input.value) continue; // its own words ask for it already
      if (fields.has(field) && !this.log.hidden) fields.get(field).blame(message);
      else if (field === "version") this.outdated(message);
      else general.push(message);
    }
    say(this.fault, [...new Set(general)].join(" "));
  }

  async #write() {
    this.write.disabled = true;
    const answer = await this.page.ask("save", this.body());
    if (answer.faults) {
      this.#blame(answer.faults);
      return;
    }
    this.page.past.length = this.page.future.length = 0;
    this.page.build(answer);
    this.page.element.dataset.saved = answer.version;
    say(this.page.general, "");
    this.page.element.prepend(make("p", { class: "done", role: "status" }, `Written to ${answer.file}.`));
  }

  /** The file is another by now: it is read again, and what is supposed stays. */
  outdated(message) {
    const again = make("button", { type: "button", class: "main", onclick: async () => {
      const kept = this.page.supposed;
      const data = await this.page.ask("start", {});
      if (data.faults) say(this.page.general, data.faults.map((fault) => fault.message).join(" "));
      else this.page.build(data, kept);
    } }, "Read the file again; what is supposed stays");
    this.page.general.replaceChildren(`${capital(message)}. `, again);
    say(this.fault, capital(message));
  }
}

/** Put a desk into an element. `ask(kind, body)` gives the answer, as plain data. */
export function mount(element, ask) {
  const page = new Page(element, ask);
  page.start().catch((error) => element.replaceChildren(make("p", { class: "fault", role: "alert" }, error.message)));
  return page;
}

/** In a notebook: questions go over the widget's own messages. */
function render({ model, el }) {
  const waiting = new Map();
  let asked = 0;
  const hear = (message) => {
    waiting.get(message.id)?.(message.answer);
    waiting.delete(message.id);
  };
  model.on("msg:custom", hear);
  const element = el.appendChild(make("div", { class: "in-notebook" }));
  const page = mount(element, (kind, body) => new Promise((done) => {
    waiting.set(++asked, done);
    model.send({ id: asked, kind, body });
  }));
  return () => {
    model.off("msg:custom", hear);
    page.drawing?.sizes.disconnect();
  };
}

export default { render };
