// The table of findings.

let findingsTable = null;

const withUnit = (value, unit) => (value && unit && /\d$/.test(value) ? `${value} ${unit}` : value);
const asNumber = (text) => { const number = parseFloat(text); return Number.isNaN(number) ? -Infinity : number; };
const marginWords = (share) => (share === null ? "" : `${Math.abs(share).toLocaleString("en-US")} % ${share < 0 ? "below" : "above"}`);
const RANKS = { high: 0, medium: 1, low: 2 };

function openFindings() {
  if (findingsTable) return;
  const get = (name) => (row) => FINDINGS.get(row, name);
  const plain = (title, name, more) => ({ title, name, cell: get(name), sort: get(name), ...more });
  const columns = [
    { title: "severity", name: "severity", cell: (row) => marked(FINDINGS.get(row, "severity")), sort: (row) => RANKS[FINDINGS.get(row, "severity")] ?? 2, number: false },
    plain("district", "district", { narrow: false }),
    plain("station", "substation", { classes: "tag" }),
    { title: "asset", name: "asset", sort: get("asset"), classes: "tag", cell: (row) => put(document.createDocumentFragment(), [
      FINDINGS.get(row, "asset"), " ", make("span", { class: "quiet" }, FINDINGS.get(row, "kind"))]) },
    { title: "what is wrong", name: "message", classes: "said", sort: get("message"), cell: (row) => make("a", {
      class: "opens", href: addressOf({ ...STATE, finding: FINDINGS.get(row, "finding") }), "data-finding": FINDINGS.get(row, "finding"),
      on: { click: (event) => { event.preventDefault(); change({ finding: FINDINGS.get(row, "finding") }); } } }, FINDINGS.get(row, "message") || titleOf(FINDINGS.get(row, "rule"))) },
    { title: "actual", name: "actual", number: true, narrow: false, sort: (row) => asNumber(FINDINGS.get(row, "actual")), cell: (row) => withUnit(FINDINGS.get(row, "actual"), FINDINGS.get(row, "unit")) },
    { title: "required", name: "required", number: true, narrow: false, sort: (row) => asNumber(FINDINGS.get(row, "required")), cell: (row) => withUnit(FINDINGS.get(row, "required"), FINDINGS.get(row, "unit")) },
    { title: "margin", name: "margin", number: true, narrow: false, sort: (row) => FINDINGS.get(row, "margin") ?? -Infinity, cell: (row) => marginWords(FINDINGS.get(row, "margin")) },
    { title: "status", name: "status", narrow: false, sort: get("status"), cell: (row) => FINDINGS.get(row, "status") + (SINCE[FINDINGS.get(row, "change")] && FINDINGS.get(row, "change") !== "persisting" ? `, ${SINCE[FINDINGS.get(row, "change")]}` : "") },
  ];
  const text = (row) => ["finding", "severity", "status", "certainty", "district", "substation", "name", "kind", "asset", "rule", "message", "actual", "required", "place", "remedy"]
    .map((name) => FINDINGS.get(row, name)).join(" ") + " " + titleOf(FINDINGS.get(row, "rule"));
  const follow = filterForm(byId("filters"), ["severity", "district", "subject", "rule", "status", "certainty", "since"], FINDINGS, "Search all text");
  findingsTable = listing("findings", FINDINGS.length, columns, text, (state) => testOf(FINDING_TESTS, state), {
    room: "told",
    words: (left, all) => (left === all ? `${counted(all, "finding")}, open ones first.` : `${counted(left, "finding")} of ${all.toLocaleString("en-US")} ${left === 1 ? "passes" : "pass"} the filters.`),
  }, (state) => { follow(state); showChips(byId("chips"), state, FINDING_TESTS); });
}
