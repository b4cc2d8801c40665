// Small tools of all parts. The files of this folder are joined, in order of their names, to one module without imports.

const SVG = "http://www.w3.org/2000/svg";

/** Make an element. Text goes in as text, never as markup: names in a bike file may hold anything. */
function make(tag, attributes = {}, ...children) {
  const vector = ["svg", "g", "path", "circle", "text", "title", "rect", "clipPath"].includes(tag);
  const element = vector ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value);
  }
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}

/** Change an attribute where it differs: a drawing is drawn many times a second. */
function set(element, name, value) {
  const text = String(value);
  if (element.getAttribute(name) !== text) element.setAttribute(name, text);
}

function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** A name of a file as words. */
const words = (name) => name.replaceAll("_", " ");

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** Points as the data of a path. */
const line = (points) => "M" + points.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join("L");

/** Sentences with code between backticks. */
function sentence(text) {
  // No line ends between a number, its ± and its unit.
  const held = text.replace(/(\d) (?=[±%]|[a-zA-Z]+(?:\/[a-zA-Z]+)?\b)/g, "$1\u00a0").replace(/± /g, "±\u00a0");
  return held.split("`").map((part, at) => (at % 2 ? make("code", {}, part.replaceAll("\u00a0", " ")) : part));
}

/** Ticks at round numbers, about as many as asked. */
function ticks(least, most, wanted) {
  const rough = (most - least) / wanted || 1;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((times) => times * decade).find((one) => one >= rough);
  const found = [];
  for (let at = Math.ceil(least / step - 1e-9) * step; at <= most + 1e-9 * step; at += step) found.push(at);
  return { step, found };
}

/**
 * Questions one at a time, the newest wins: while one is under way the next waits, and a newer one takes its place.
 * With its answer, each hears whether it is the last word, or whether something newer was asked meanwhile.
 */
function line_of_questions(ask) {
  let busy = false;
  let waiting = null;
  async function next() {
    busy = true;
    while (waiting) {
      const [body, done] = waiting;
      waiting = null;
      let answer;
      try {
        answer = await ask(body);
      } catch (error) {
        answer = { faults: [{ field: "version", message: error.message }] };
      }
      done(answer, waiting === null);
    }
    busy = false;
  }
  return (body, done) => {
    waiting = [body, done];
    if (!busy) next();
  };
}
