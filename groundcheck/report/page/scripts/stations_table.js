// The index of stations.

let stationsTable = null;
const STANDING_RANKS = ["high", "medium", "low", "not_assessable", "waived", "none"];

function stationLink(substation) {
  if (!placeOfStation.has(substation)) return document.createTextNode(substation || "no station");
  return make("a", { href: addressOf({ view: "station", station: substation }) }, substation);
}

function openStations() {
  if (stationsTable) return;
  const get = (name) => (row) => STATIONS.get(row, name);
  const count = (title, name) => ({ title, name, number: true, cell: (row) => STATIONS.get(row, name).toLocaleString("en-US"), sort: get(name), narrow: name === "high" });
  const columns = [
    { title: "station", name: "substation", sort: get("substation"), classes: "tag", cell: (row) => make("a", { class: "opens", href: addressOf({ view: "station", station: STATIONS.get(row, "substation") }) }, STATIONS.get(row, "substation")) },
    { title: "name", name: "name", cell: get("name"), sort: get("name"), narrow: false },
    { title: "district", name: "district", cell: get("district"), sort: get("district") },
    { title: "voltages (kV)", name: "voltages", cell: get("voltages"), sort: (row) => asNumber(STATIONS.get(row, "voltages")), number: true, narrow: false },
    { title: "worst open finding", name: "standing", cell: (row) => marked(STATIONS.get(row, "standing")), sort: (row) => STANDING_RANKS.indexOf(STATIONS.get(row, "standing")) },
    count("high", "high"), count("medium", "medium"), count("low", "low"), count("waived", "waived"), count("not assessable", "missing"),
  ];
  const text = (row) => `${STATIONS.get(row, "substation")} ${STATIONS.get(row, "name")} ${STATIONS.get(row, "district")} ${STATIONS.get(row, "voltages")}`;
  const follow = filterForm(byId("station-filters"), ["district"], STATIONS, "Search stations");
  stationsTable = listing("stations", STATIONS.length, columns, text, (state) => testOf(STATION_TESTS, state), {
    room: "stations-told",
    words: (left, all) => (left === all ? `${counted(all, "station")} on record.` : `${counted(left, "station")} of ${all.toLocaleString("en-US")} ${left === 1 ? "passes" : "pass"} the filters.`),
  }, follow);
}
