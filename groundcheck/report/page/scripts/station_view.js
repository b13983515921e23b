// A station's page: its diagram, its zones with their phasors, duties, findings, gaps and assumptions.

let shownStation = null;

async function showStation(substation) {
  const room = byId("station");
  if (shownStation === substation && room.dataset.ready) return;
  shownStation = substation;
  delete room.dataset.ready;
  const row = placeOfStation.get(substation);
  const heading = (title) => make("h2", { id: "h-station", tabindex: "-1" }, title);
  const back = make("p", { class: "unprinted" }, make("a", { href: "#view=stations" }, "All stations"));
  if (row === undefined) {
    refill(room, heading(`No station ${substation || "named"}`), make("p", {}, "It is not on record."), back);
    return;
  }
  const get = (name) => STATIONS.get(row, name);
  const title = heading(get("name") ? `${substation}, ${get("name")}` : substation);
  refill(room, title, back, make("p", { class: "quiet" }, "Reading the station."));
  let told;
  try {
    told = await stationChunk(get("file"));
  } catch (problem) {
    if (shownStation === substation) refill(room, title, back, make("p", { class: "problem" }, problem.message));
    return;
  }
  if (shownStation !== substation) return;
  const focused = document.activeElement === title;
  refill(room, title, back, stationBody(substation, get, told));
  if (focused) title.focus();
  redrawable = redrawable.filter(([figure]) => figure.isConnected);
  await Promise.all([...room.querySelectorAll("[data-phasors]")].map((figure) => {
    const picture = told.phasors[Number(figure.dataset.phasors)];
    redrawable.push([figure, picture]);
    return openPicture(figure, picture);
  }));
  room.dataset.ready = "yes";
}

function stationBody(substation, get, told) {
  const facts = [["district", get("district")], ["voltages", get("voltages") ? `${get("voltages")} kV` : null],
    ["worst open finding", marked(get("standing"))],
    ["open findings", `${get("high")} high, ${get("medium")} medium, ${get("low")} low${get("waived") ? `; ${get("waived")} waived` : ""}`],
    ["not assessable", counted(get("missing"), "check")], ...told.facts];
  const part = (title, ...inside) => [make("h3", {}, title), inside];
  const key = make("details", { class: "key unprinted" }, make("summary", {}, "Key of the symbols"), make("div", { class: "drawing" }, drawing(byId("diagram-key").innerHTML.trim())));
  return [
    definitions(facts),
    part("One-line diagram", make("div", { class: "scroll diagram", role: "region", tabindex: "0", "aria-label": "One-line diagram" }, drawing(told.diagram)), key),
    part("Phase voltages of each zone, before and during a ground fault", stationPhasors(told)),
    told.tables.map((table) => part(table.caption, plainTable(table.caption, table.heads, table.rows, table.words, { class: "plain duties" }))),
    part("Findings", stationFindings(substation, told.findings)),
    part("Not assessable", stationMissing(told.missing)),
    part("Assumed, for want of a record", told.assumptions.length ? plainTable("Assumptions", ["kind", "asset", "field", "value", "why"], told.assumptions, [0, 1, 2, 3, 4]) : make("p", {}, "Nothing was assumed.")),
    told.left_out.length ? part("Left out of the study", plainTable("Left out", ["kind", "asset", "why"], told.left_out, [0, 1, 2])) : [],
  ];
}

function stationFindings(substation, findings) {
  if (!findings.length) return make("p", {}, "None.");
  const rows = findings.map((each) => [marked(each.severity), `${inWords(each.asset_kind || "")} ${each.asset || ""}${each.item ? `, ${each.item}` : ""}`,
    make("a", { href: addressOf({ ...STATE, finding: each.finding }), "data-finding": each.finding, on: { click: (event) => { event.preventDefault(); change({ finding: each.finding }); } } }, each.message || titleOf(each.rule)),
    withUnit(each.actual, each.unit) || "", withUnit(each.required, each.unit) || "", each.status || "open"]);
  return [plainTable("Findings of the station", ["severity", "asset", "what is wrong", "actual", "required", "status"], rows, [0, 1, 2, 5]),
    make("p", { class: "unprinted" }, make("a", { href: addressOf({ view: "findings", substation }) }, "These in the table of findings"))];
}

function stationMissing(missing) {
  if (!missing.length) return make("p", {}, "Every check that applies could be made.");
  return plainTable("Checks that could not be made", ["asset", "could not be checked", "what is missing", "cell to fill in"], missing.map((each) => [
    `${inWords(each.asset_kind || "")} ${each.asset || ""}${each.item ? `, ${each.item}` : ""}`, `whether: ${each.title || titleOf(each.rule)}`, fieldLines(each, "field"), fieldLines(each, "place")]), [0, 1, 2, 3]);
}

const fieldLines = (each, name) => put(document.createDocumentFragment(), [each[name].split("\n").map((line) => make("div", {}, line))]);

function stationPhasors(told) {
  if (!told.phasors.length) return make("p", {}, "No zone of this station is on record.");
  const figures = told.phasors.map((picture, place) => (picture.reason ? null : make("figure", { class: "picture", "data-phasors": String(place) },
    make("figcaption", {}, make("h4", {}, picture.zone && told.zones[picture.zone] ? `${told.zones[picture.zone]}: ` : "", picture.title), make("p", {}, picture.description, picture.note ? ` ${picture.note}` : "")), make("div", { class: "drawing" }),
    make("details", {}, make("summary", {}, "As a table", make("span", { class: "unseen" }, `: ${picture.title}`)), make("div", { class: "rows" })))));
  const reasons = told.phasors.filter((picture) => picture.reason).map((picture) => make("p", {}, `${told.zones[picture.zone] || picture.zone}: not drawn, ${picture.reason}`));
  return [make("div", { class: "pictures phasors" }, figures), reasons];
}
