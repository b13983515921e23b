// The table of rules by districts; each count of exceptions or of checks not assessable filters the table that lists them.

const OUTCOMES_SHOWN = ["exception", "satisfied", "not_assessable", "not_applicable"];

function openMatrix() {
  refill(byId("matrix-legend"), OUTCOMES_SHOWN.map((key) => [marked(key), " "]), "· Counts of exceptions and of checks not assessable are buttons that filter.");
  byId("matrix-all").addEventListener("change", drawMatrix);
  drawMatrix();
}

function drawMatrix() {
  const all = byId("matrix-all").checked;
  const { districts, rules } = DATA.matrix;
  const shown = Object.keys(rules).map((rule) => ({ rule, cells: rules[rule], exceptions: rules[rule].reduce((sum, cell) => sum + cell[1], 0) }))
    .filter(({ exceptions }) => all || exceptions)
    .sort((a, b) => (RANKS[(DATA.rules[a.rule] || {}).severity] ?? 3) - (RANKS[(DATA.rules[b.rule] || {}).severity] ?? 3) || b.exceptions - a.exceptions || a.rule.localeCompare(b.rule));
  const body = shown.map(({ rule, cells }) => {
    const by = new Map(cells.map(([place, ...counts]) => [place, counts]));
    return make("tr", {},
      make("th", { scope: "row" }, DATA.rules[rule] ? [glyphOf(DATA.rules[rule].severity), " "] : null, titleOf(rule)),
      districts.map((district, place) => make("td", {}, cellOf(rule, district, by.get(place) || [0, 0, 0, 0]))));
  });
  refill(byId("matrix"), make("table", { class: "matrix" },
    make("caption", { class: "unseen" }, "Rules by districts: exceptions, satisfied, not assessable, not applicable"),
    make("thead", {}, make("tr", {}, make("th", { scope: "col" }, "rule"), districts.map((district) => make("th", { scope: "col" }, district)))),
    make("tbody", {}, body.length ? body : make("tr", {}, make("td", { colspan: districts.length + 1 }, "No rule found an exception.")))));
  markMatrix(STATE);
}

function glyphOf(severity) {
  const mark = DATA.marks[severity] || { glyph: "", word: severity };
  return make("span", { class: `mark ${severity}` }, make("span", { class: "glyph", "aria-hidden": "true" }, mark.glyph), make("span", { class: "unseen" }, mark.word));
}

function cellOf(rule, district, counts) {
  if (!counts.some(Boolean)) return make("span", { class: "quiet" }, "not asked");
  return make("div", { class: "four" }, OUTCOMES_SHOWN.map((outcome, place) => {
    const number = counts[place];
    if (!number) return make("span", {});
    const inside = [make("span", { class: `glyph ${outcome.replace("_", "-")}`, "aria-hidden": "true" }, DATA.marks[outcome].glyph), " ", number.toLocaleString("en-US"),
      make("span", { class: "unseen" }, ` ${DATA.marks[outcome].word}`)];
    if (place === 1 || place === 3) return make("span", { title: `${number} ${DATA.marks[outcome].word}` }, inside);
    return make("button", { type: "button", "data-rule": rule, "data-district": district, "data-outcome": outcome, title: `${number} ${DATA.marks[outcome].word}: ${titleOf(rule)}, ${district}`,
      on: { click: () => toggleFilters({ rule, district }, { view: outcome === "exception" ? "fleet" : "missing" }) } }, inside);
  }));
}

function markMatrix(state) {
  for (const button of byId("matrix").querySelectorAll("button")) {
    const pressed = button.dataset.outcome === "exception" && state.rule === button.dataset.rule && state.district === button.dataset.district;
    if (button.dataset.outcome === "exception") button.setAttribute("aria-pressed", String(pressed));
  }
}
