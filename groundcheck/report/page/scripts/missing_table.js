// The table of checks that could not be made: which cell to fill in.

let missingTable = null;

function openMissing() {
  if (missingTable) return;
  const get = (name) => (row) => MISSING.get(row, name);
  const lines = (name) => (row) => put(document.createDocumentFragment(), MISSING.get(row, name).split("\n").map((line) => make("div", {}, line)));
  const columns = [
    { title: "district", name: "district", cell: get("district"), sort: get("district"), narrow: false },
    { title: "station", name: "substation", sort: get("substation"), classes: "tag", cell: (row) => stationLink(MISSING.get(row, "substation")) },
    { title: "asset", name: "asset", sort: get("asset"), classes: "tag", cell: (row) => put(document.createDocumentFragment(), [
      MISSING.get(row, "asset"), " ", make("span", { class: "quiet" }, MISSING.get(row, "kind"))]) },
    { title: "could not be checked", name: "rule", classes: "said", sort: (row) => titleOf(MISSING.get(row, "rule")), cell: (row) => put(document.createDocumentFragment(), [
      "whether: ", titleOf(MISSING.get(row, "rule")), " ", make("span", { class: "quiet" }, MISSING.get(row, "rule"))]) },
    { title: "what is missing", name: "missing", classes: "said", sort: get("missing"), cell: lines("missing") },
    { title: "cell to fill in", name: "place", classes: "said", sort: get("place"), cell: lines("place") },
  ];
  const text = (row) => ["district", "substation", "kind", "asset", "rule", "missing", "place"].map((name) => MISSING.get(row, name)).join(" ") + " " + titleOf(MISSING.get(row, "rule"));
  const follow = filterForm(byId("missing-filters"), ["district", "subject", "rule", "field"], MISSING, "Search all text");
  missingTable = listing("missing", MISSING.length, columns, text, (state) => testOf(MISSING_TESTS, state), {
    room: "missing-told",
    words: (left, all) => (left === all ? `${counted(all, "check")} could not be made.` : `${counted(left, "check")} of ${all.toLocaleString("en-US")} ${left === 1 ? "passes" : "pass"} the filters.`),
  }, (state) => { follow(state); showChips(byId("missing-chips"), state, MISSING_TESTS); });
}
