// The mechanism to scale, as it is drawn in the bike file, with a handle on every point: before in grey, as supposed in colour.

const PAD = 62; // mm around the points
const REACH = 22; // px around a handle that count as on it: 44 px across, for a thumb
const TURNS = 7; // of the coil
const STEPS = { plain: 1, fine: 0.1, coarse: 10 }; // mm by an arrow key

const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** The drawing of a mechanism. `moved(name, [x, z], phase)` hears of every move; phases: start, move, end. */
class Drawing {
  constructor(linkage, wheelRadius, unit, number, moved) {
    this.linkage = linkage;
    this.first = linkage.points;
    this.unit = unit;
    this.radius = wheelRadius;
    this.number = (mm) => number(mm).replace("-", "−");
    this.moved = moved;
    this.points = { ...linkage.points };
    this.handles = new Map();
    this.taken = null;
    this.svg = this.#build();
    this.svg.addEventListener("pointerdown", (event) => this.#take(event));
    this.svg.addEventListener("pointermove", (event) => this.#carry(event));
    for (const end of ["pointerup", "pointercancel"]) this.svg.addEventListener(end, (event) => this.#leave(event));
    this.sizes = new ResizeObserver(() => this.#size());
    this.sizes.observe(this.svg);
    this.draw(this.points);
  }

  #build() {
    const places = Object.values(this.linkage.points);
    const xs = places.map(([x]) => x);
    const zs = places.map(([, z]) => z);
    const [left, right] = [Math.min(...xs) - PAD, Math.max(...xs) + PAD];
    const [low, high] = [Math.min(...zs) - PAD, Math.max(...zs) + PAD];
    const svg = make("svg", {
      class: "wr-drawing",
      viewBox: `${left} ${-high} ${right - left} ${high - low}`,
      role: "group",
      "aria-label": "The linkage to scale, front to the right. Every point is a handle: drag it, or move it with the arrow keys.",
    });
    const layer = (name) => svg.appendChild(make("g", { class: name, "aria-hidden": "true" }));
    const [before, after] = [layer("before"), layer("after")];
    this.before = this.#shapes(before);
    this.after = this.#shapes(after);
    this.lead = svg.appendChild(make("path", { class: "lead", "aria-hidden": "true" }));
    for (const name of Object.keys(this.linkage.points)) svg.append(this.#handle(name));
    // In the corner with most room: beside the point it would hide what is dragged.
    const corners = [[left, high], [right, high], [left, low], [right, low]];
    const room = ([x, z]) => Math.min(...places.map(([px, pz]) => Math.hypot(px - x, pz - z)));
    this.corner = corners.reduce((one, other) => (room(other) > room(one) ? other : one));
    this.note = svg.appendChild(make("text", { class: "place", "aria-hidden": "true" }));
    this.draw_shapes(this.before, this.linkage);
    return svg;
  }

  #shapes(layer) {
    const bodies = new Map();
    const wheel = layer.appendChild(make("circle", { class: "wheel" }));
    const path = layer.appendChild(make("path", { class: "axle-path" }));
    for (const body of Object.keys(this.linkage.bodies)) bodies.set(body, layer.appendChild(make("path", { class: "body" })));
    return { layer, wheel, path, bodies, coil: layer.appendChild(make("path", { class: "coil" })) };
  }

  #handle(name) {
    const fixed = this.linkage.frame.includes(name);
    const group = make(
      "g",
      {
        class: `handle${fixed ? " fixed" : ""}${name === this.linkage.wheel ? " axle" : ""}`,
        tabindex: 0,
        role: "button",
        "data-point": name,
        onkeydown: (event) => this.#key(event, name),
        onfocus: () => this.#shows(name),
        onblur: () => this.#shows(null),
      },
      make("circle", { class: "reach", r: 22 }),
      make("circle", { class: "ring", r: 10 }),
      fixed ? make("path", { class: "dot", d: "M0 -7L7 6H-7Z" }) : make("circle", { class: "dot", r: 6 }),
    );
    this.handles.set(name, group);
    return group;
  }

  /** Draw one mechanism into a set of shapes. */
  draw_shapes(shapes, linkage, points = linkage.points) {
    const at = (name) => [points[name][0], -points[name][1]];
    for (const [body, shape] of shapes.bodies) set(shape, "d", line(linkage.bodies[body].map(at)) + "Z");
    set(shapes.coil, "d", coil(at(linkage.shock[0]), at(linkage.shock[1]), linkage.length));
    const [xs, zs] = linkage.path;
    set(shapes.path, "d", line(xs.map((x, index) => [x, -zs[index]])));
    const axle = at(linkage.wheel);
    if (this.radius) for (const [name, value] of [["cx", axle[0]], ["cy", axle[1]], ["r", this.radius]]) set(shapes.wheel, name, value);
  }

  /** Show points where they are, at once; the path of the axle follows with the answer. */
  draw(points, linkage = null) {
    if (linkage) this.linkage = { ...this.linkage, path: linkage.path };
    this.points = { ...points };
    this.draw_shapes(this.after, this.linkage, this.points);
    for (const [name, handle] of this.handles) {
      const [x, z] = this.points[name];
      set(handle, "transform", `translate(${x.toFixed(2)} ${(-z).toFixed(2)}) scale(${this.scale ?? 1})`);
      set(handle, "aria-label", `${words(name)}: ${this.number(x)} ${this.unit} forward, ${this.number(z)} ${this.unit} up. Arrow keys move it.`);
    }
    if (this.shown) this.#shows(this.shown);
  }

  /** Keep handles and letters the same size on the screen, whatever the scale of the drawing. */
  #size() {
    const matrix = this.svg.getScreenCTM();
    if (!matrix || !matrix.a) return;
    this.scale = 1 / matrix.a;
    this.svg.style.setProperty("--px", `${this.scale}px`);
    this.draw(this.points);
  }

  #shows(name) {
    this.shown = name;
    this.handles.forEach((handle, of) => handle.classList.toggle("shown", of === name));
    if (!name) {
      say(this.note, "");
      set(this.lead, "d", "M0 0");
      return;
    }
    const [x, z] = this.points[name];
    const [was, wasUp] = this.first[name];
    set(this.lead, "d", line([[was, -wasUp], [x, -z]]));
    say(this.note, `${words(name)} ${this.number(x)}, ${this.number(z)} ${this.unit}`);
    const box = this.svg.viewBox.baseVal;
    const s = this.scale ?? 1;
    const [late, low] = [this.corner[0] > box.x, -this.corner[1] > box.y];
    set(this.note, "x", this.corner[0] + (late ? -10 : 10) * s);
    set(this.note, "y", -this.corner[1] + (low ? -10 : 22) * s);
    set(this.note, "text-anchor", late ? "end" : "start");
  }

  /** A place of the screen in the axes of the frame. */
  #place(event) {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [at.x, -at.y];
  }

  /** The handle that is meant: the nearest within reach. */
  #nearest(event) {
    const [x, z] = this.#place(event);
    const far = Object.entries(this.points).map(([name, [px, pz]]) => [Math.hypot(px - x, pz - z) / this.scale, name]);
    far.sort(([one], [other]) => one - other);
    return far.length && far[0][0] <= REACH ? far[0][1] : null;
  }

  #take(event) {
    if (event.button || this.taken) return;
    const name = this.#nearest(event);
    if (!name) return;
    event.preventDefault();
    const [x, z] = this.#place(event);
    const [px, pz] = this.points[name];
    // Where within the handle it was taken: a touch does not make it jump.
    this.taken = { name, pointer: event.pointerId, from: [px - x, pz - z] };
    this.svg.setPointerCapture(event.pointerId);
    this.handles.get(name).focus({ preventScroll: true });
    this.#shows(name);
    this.svg.classList.add("dragging");
    this.moved(name, [px, pz], "start");
  }

  #carry(event) {
    if (this.taken?.pointer !== event.pointerId) return;
    const [x, z] = this.#place(event);
    const [fromX, fromZ] = this.taken.from;
    this.#move(this.taken.name, [x + fromX, z + fromZ], "move");
  }

  #leave(event) {
    if (this.taken?.pointer !== event.pointerId) return;
    const { name } = this.taken;
    this.taken = null;
    this.svg.classList.remove("dragging");
    this.moved(name, this.points[name], "end");
  }

  #key(event, name) {
    const way = KEYS[event.key];
    if (!way || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const step = event.shiftKey ? STEPS.coarse : event.altKey ? STEPS.fine : STEPS.plain;
    const [x, z] = this.points[name];
    this.moved(name, [x, z], "start");
    this.#move(name, [x + way[0] * step, z + way[1] * step], "end");
  }

  #move(name, [x, z], phase) {
    const place = [Math.round(x * 10) / 10, Math.round(z * 10) / 10];
    this.draw({ ...this.points, [name]: place });
    this.moved(name, place, phase);
  }
}

/** A coil between two eyes; its turns come closer as it shortens. */
function coil([x, y], [toX, toY], extended) {
  const length = Math.hypot(toX - x, toY - y) || 1;
  const [ux, uy] = [(toX - x) / length, (toY - y) / length];
  const [eye, wide] = [0.14 * extended, 0.055 * extended];
  const place = (along, across) => [x + ux * along - uy * across, y + uy * along + ux * across];
  const turns = [];
  for (let at = 0; at < 2 * TURNS; at++) {
    turns.push(place(eye + ((length - 2 * eye) * (at + 0.5)) / (2 * TURNS), at % 2 ? -wide : wide));
  }
  return line([[x, y], place(eye, 0), ...turns, place(length - eye, 0), [toX, toY]]);
}
