// Elements from plain values. Text goes in as text nodes only, so that nothing from the records becomes markup.

const byId = (id) => document.getElementById(id);

function make(tag, attributes, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes || {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name === "on") for (const [event, act] of Object.entries(value)) element.addEventListener(event, act);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  put(element, children);
  return element;
}

function put(element, children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === "") continue;
    element.append(child instanceof Node ? child : document.createTextNode(String(child)));
  }
  return element;
}

function refill(element, ...children) {
  element.replaceChildren();
  return put(element, children);
}

// 'high' with its shape; the word stands beside the shape always.
function marked(key) {
  const mark = DATA.marks[key] || { word: key, glyph: "" };
  return make("span", { class: `mark ${key.replaceAll("_", "-")}` },
    make("span", { class: "glyph", "aria-hidden": "true" }, mark.glyph), " ", mark.word);
}

const counted = (number, noun) => `${number.toLocaleString("en-US")} ${noun}${number === 1 ? "" : "s"}`;

// A drawing that came as text: parsed as XML, where no script runs, and adopted.
function drawing(text) {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  return document.importNode(parsed, true);
}

// A table in plain form: heads, rows of text or nodes, and the places of the columns that hold words.
function plainTable(caption, heads, rows, words, attributes) {
  const isWord = (place) => !words || words.includes(place);
  const table = make("table", { class: "plain", ...attributes },
    caption ? make("caption", {}, caption) : null,
    make("thead", {}, make("tr", {}, heads.map((head, place) =>
      make("th", { scope: "col", class: isWord(place) ? null : "number" }, head)))),
    make("tbody", {}, rows.map((row) => make("tr", {}, row.map((cell, place) =>
      place === 0 ? make("th", { scope: "row" }, cell) : make("td", { class: isWord(place) ? null : "number" }, cell))))));
  return make("div", { class: "scroll", role: "region", tabindex: "0", "aria-label": caption || "table" }, table);
}
