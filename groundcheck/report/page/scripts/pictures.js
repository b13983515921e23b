// Pictures: drawn by the charting library from the rows in the file; each has its rows as a table too.

const drawn = new Map();
const isDark = () => document.documentElement.dataset.theme === "dark"
  || (document.documentElement.dataset.theme !== "light" && matchMedia("(prefers-color-scheme: dark)").matches);

// Pictures that are drawn alike share how, under a name.
const frameOf = (picture) => (picture.frame ? DATA.frames[picture.frame] : picture);

function drawPicture(figure, picture) {
  const room = figure.querySelector(".drawing");
  const { $schema: _, ...frame } = frameOf(picture)[isDark() ? "dark" : "light"];
  const spec = { ...frame, description: picture.description, data: { name: "rows", values: picture.rows } };
  drawn.get(room)?.finalize();
  room.dataset.drawn = isDark() ? "dark" : "light";
  return vegaEmbed(room, spec, { mode: "vega-lite", renderer: "svg", actions: false, ast: true, defaultStyle: false, tooltip: tooltipAsText, logLevel: 1 }).then((result) => {
    drawn.set(room, result);
    result.view.addEventListener("click", (_, item) => {
      const wanted = wantedBy(item && item.datum, picture.filters);
      if (Object.keys(wanted).length) chooseFilter(wanted);
    });
    const svg = room.querySelector("svg");
    if (svg) {
      svg.setAttribute("role", "img");
      svg.setAttribute("aria-label", `${picture.title}. ${picture.description}`);
      // The drawing is one image to a screen reader; its marks are told by the table under it.
      for (const inner of svg.querySelectorAll("[role], [aria-roledescription], [aria-label]")) {
        for (const name of ["role", "aria-roledescription", "aria-label"]) inner.removeAttribute(name);
        inner.setAttribute("aria-hidden", "true");
      }
    }
  });
}

function wantedBy(datum, filters) {
  const wanted = {};
  for (const [field, key] of Object.entries(filters)) {
    const value = datum && datum[field];
    if (value !== null && value !== undefined && value !== "" && FILTER_KEYS.includes(key)) wanted[key] = String(value);
  }
  return wanted;
}

// What waits for a missing field is listed under Not assessable; all else under the pictures.
function chooseFilter(wanted) {
  if (wanted.field || wanted.outcome === "not_assessable") toggleFilters(wanted, { view: "missing" });
  else toggleFilters(wanted);
}

// The library's tooltip, made of text nodes.
function tooltipAsText(_, event, item, value) {
  let room = byId("tooltip");
  if (!room) {
    room = make("div", { id: "tooltip", "aria-hidden": "true" });
    document.body.append(room);
  }
  room.hidden = value === null || value === undefined || value === "";
  if (room.hidden) return;
  const lines = typeof value === "object" ? Object.entries(value) : [["", value]];
  refill(room, lines.filter(([, said]) => said !== null && said !== undefined && said !== "null" && said !== "").map(([name, said]) => make("div", {}, name ? make("span", { class: "quiet" }, `${name} `) : null, String(said))));
  const x = Math.min(event.clientX + 12, innerWidth - room.offsetWidth - 8);
  const y = event.clientY + 14 + room.offsetHeight > innerHeight ? event.clientY - room.offsetHeight - 10 : event.clientY + 14;
  room.style.left = `${Math.max(4, x)}px`;
  room.style.top = `${Math.max(4, y)}px`;
}

// The fields that the picture tells when pointed at, with their words, in their order.
function toldFields(spec) {
  const fields = new Map();
  const walk = (part) => {
    const tips = part && part.encoding && part.encoding.tooltip;
    for (const tip of Array.isArray(tips) ? tips : tips ? [tips] : []) if (tip.field && !fields.has(tip.field)) fields.set(tip.field, tip.title || inWords(tip.field));
    for (const key of ["layer", "hconcat", "vconcat", "concat"]) for (const inner of part[key] || []) walk(inner);
    if (part.spec) walk(part.spec);
  };
  walk(spec);
  return fields;
}

const TABLED_AT_MOST = 500;

function pictureTable(room, picture) {
  const fields = toldFields(frameOf(picture).light);
  if (!fields.size) for (const name of Object.keys(picture.rows[0] || {})) fields.set(name, inWords(name));
  const names = [...fields.keys()];
  const rows = picture.rows.filter((row) => names.some((name) => row[name] !== undefined && row[name] !== null) && (!row.part || names.filter((name) => row[name] !== undefined).length > 1));
  const filters = Object.keys(picture.filters).length > 0;
  const isNumber = (name) => rows.every((row) => row[name] === undefined || row[name] === null || typeof row[name] === "number");
  const shown = (value) => (value === null || value === undefined ? "" : typeof value === "number" ? Number(value.toPrecision(5)).toLocaleString("en-US", { maximumFractionDigits: 6 })
    : DATA.marks[value] ? marked(value) : String(value));
  const heads = [...names.map((name) => fields.get(name)), ...(filters ? [make("span", {}, "filter")] : [])];
  const body = rows.slice(0, TABLED_AT_MOST).map((row) => {
    const cells = names.map((name) => shown(row[name]));
    if (!filters) return cells;
    const wanted = wantedBy(row, picture.filters);
    const words = Object.entries(wanted).map(([key, value]) => `${FILTER_NAMES[key]} ${valueInWords(key, value)}`).join(", ");
    return [...cells, words ? make("button", { type: "button", "data-wanted": JSON.stringify(wanted), on: { click: () => chooseFilter(wanted) } }, "filter", make("span", { class: "unseen" }, ` by ${words}`)) : ""];
  });
  const words = names.map((name, place) => (isNumber(name) ? -1 : place)).concat(filters ? [names.length] : []).filter((place) => place >= 0);
  refill(room, rows.length > TABLED_AT_MOST ? make("p", { class: "quiet" }, `The first ${TABLED_AT_MOST} of ${rows.length.toLocaleString("en-US")} rows; the table of findings has all.`) : null,
    plainTable(`${picture.title}, as a table`, heads, body, words));
}

function openPicture(figure, picture) {
  const details = figure.querySelector("details");
  details.addEventListener("toggle", () => {
    if (details.open && !details.dataset.filled) {
      details.dataset.filled = "yes";
      pictureTable(details.querySelector(".rows"), picture);
    }
  });
  return drawPicture(figure, picture);
}

let picturesOpened = null;
let redrawable = [];

function openPictures() {
  if (picturesOpened) return;
  const figures = [...document.querySelectorAll("[data-picture]")];
  redrawable = figures.map((figure) => [figure, DATA.pictures[Number(figure.dataset.picture)]]);
  picturesOpened = Promise.all(redrawable.map(([figure, picture]) => openPicture(figure, picture)));
}

function redrawPictures() {
  for (const [figure, picture] of redrawable) if (figure.isConnected && figure.offsetParent) drawPicture(figure, picture);
}
