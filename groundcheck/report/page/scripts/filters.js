// Filters: what each lets pass, how it is told in words, the selects and the removable marks that stand for it.

const FILTER_NAMES = {
  severity: "severity", status: "status", district: "district", subject: "subject", rule: "rule",
  certainty: "certainty", since: "since the audit before", asset_kind: "kind of asset", substation: "station",
  field: "missing field", outcome: "outcome", run: "also in audit",
};
const SINCE = { new: "new", worsened: "worse", improved: "better", persisting: "as before" };

const inWords = (value) => value.replaceAll("_", " ");

function valueInWords(key, value) {
  if (key === "run") {
    const run = DATA.runs.find((each) => String(each[0]) === value);
    return run ? `${run[0]} of ${run[1]}` : value;
  }
  if (key === "since") return SINCE[value] || value;
  if (key === "rule") return titleOf(value);
  if (key === "field") return value.includes(".") ? inWords(value.replace(".", ": ")) : inWords(value);
  return inWords(value);
}

// Bare words of a field, without its unit: charts name 'rated_current', tables 'neutral device: rated current (A)'.
function sameField(line, wanted) {
  const bare = (text) => inWords(text).replace(/ \([^)]*\)$/, "").trim();
  const [kind, field] = line.split(": ");
  const want = bare(wanted.replace(".", ": "));
  return bare(line) === want || bare(field || kind) === want || inWords(line) === inWords(wanted);
}

const FINDING_TESTS = {
  severity: (value) => FINDINGS.passing("severity", (word) => word === value),
  status: (value) => FINDINGS.passing("status", (word) => word === value),
  district: (value) => FINDINGS.passing("district", (word) => word === value),
  subject: (value) => FINDINGS.passing("rule", (word) => subjectOf(word) === value),
  rule: (value) => FINDINGS.passing("rule", (word) => word === value),
  certainty: (value) => FINDINGS.passing("certainty", (word) => word.split(", ").includes(value)),
  since: (value) => FINDINGS.passing("change", (word) => word === value),
  asset_kind: (value) => FINDINGS.passing("kind", (word) => word === inWords(value)),
  substation: (value) => FINDINGS.passing("substation", (word) => word === value),
  run: (value) => FINDINGS.passing("runs", (word) => word.split(" ").includes(value)),
};
const MISSING_TESTS = {
  district: (value) => MISSING.passing("district", (word) => word === value),
  subject: (value) => MISSING.passing("rule", (word) => subjectOf(word) === value),
  rule: (value) => MISSING.passing("rule", (word) => word === value),
  asset_kind: (value) => MISSING.passing("kind", (word) => word === inWords(value)),
  substation: (value) => MISSING.passing("substation", (word) => word === value),
  field: (value) => MISSING.passing("field", (word) => word.split("\n").some((line) => sameField(line, value))),
};
const STATION_TESTS = {
  district: (value) => STATIONS.passing("district", (word) => word === value),
};

function testOf(tests, state) {
  const all = Object.keys(tests).filter((key) => state[key]).map((key) => tests[key](state[key]));
  return (row) => all.every((test) => test(row));
}

function optionsOf(key) {
  const sorted = (words) => [...new Set(words)].filter(Boolean).sort((a, b) => a.localeCompare(b, "en"));
  const inOrder = (order, words) => order.filter((word) => words.includes(word)).concat(
    sorted(words).filter((word) => !order.includes(word)));
  switch (key) {
    case "severity": return inOrder(["high", "medium", "low"], FINDINGS.words("severity"));
    case "status": return sorted(FINDINGS.words("status"));
    case "district": return sorted([...STATIONS.words("district"), ...FINDINGS.words("district")]);
    case "subject": return sorted(Object.values(DATA.rules).map((rule) => rule.subject));
    case "certainty": return ["firm", "marginal", "provisional"];
    case "since": return DATA.runs.length > 1 ? Object.keys(SINCE) : [];
    case "asset_kind": return sorted([...FINDINGS.words("kind"), ...MISSING.words("kind")]);
    case "field": return sorted(MISSING.words("field").flatMap((word) => word.split("\n")));
    default: return [];
  }
}

// The rules that found something, or could not be assessed, under their subjects.
function ruleOptions(words) {
  const groups = new Map();
  for (const rule of [...words].sort()) {
    if (!groups.has(subjectOf(rule))) groups.set(subjectOf(rule), []);
    groups.get(subjectOf(rule)).push(make("option", { value: rule }, titleOf(rule)));
  }
  return [...groups].map(([subject, options]) => make("optgroup", { label: subject }, options));
}

function filterForm(form, keys, columns, search) {
  const field = (id, name, input) => make("div", { class: "field" }, make("label", { for: id }, name), input);
  const words = make("input", { type: "search", id: `${form.id}-q`, autocomplete: "off" });
  let waiting = 0;
  words.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => change({ q: words.value.trim() }, true), 150);
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  const selects = {};
  const fields = [field(words.id, search, words)];
  fields[0].classList.add("wide");
  for (const key of keys) {
    const options = key === "rule" ? ruleOptions(columns.words("rule"))
      : optionsOf(key).map((value) => make("option", { value }, valueInWords(key, value)));
    if (!options.length) continue;
    selects[key] = make("select", { id: `${form.id}-${key}`, on: { change: (event) => change({ [key]: event.target.value }) } },
      make("option", { value: "" }, "any"), options);
    fields.push(field(selects[key].id, FILTER_NAMES[key], selects[key]));
  }
  put(form, fields);
  return (state) => {
    if (document.activeElement !== words || !state.q) words.value = state.q || "";
    for (const [key, select] of Object.entries(selects)) {
      select.value = state[key] || "";
      if (select.selectedIndex < 0) select.value = "";
    }
  };
}

// A removable mark for each filter that is set; one that this table does not know says so.
function showChips(room, state, tests) {
  const keys = filtersOf(state).filter((key) => tests[key]);
  const chips = keys.map((key) => chip(`${FILTER_NAMES[key]}: ${valueInWords(key, state[key])}`, { [key]: null }));
  if (state.q) chips.push(chip(`text: ${state.q}`, { q: null }));
  if (chips.length) {
    const all = { q: null, ...Object.fromEntries(FILTER_KEYS.map((key) => [key, null])) };
    chips.push(make("li", {}, make("button", { type: "button", class: "plain-button", on: { click: () => clear(room, all) } }, "Clear all filters")));
  }
  refill(room, chips.length ? make("ul", { "aria-label": "Filters that are set" }, chips) : null);

  function chip(text, without) {
    return make("li", {}, make("button", { type: "button", class: "chip", "aria-label": `Remove filter ${text}`,
      on: { click: () => clear(room, without) } }, text, make("span", { "aria-hidden": "true", class: "cross" }, "×")));
  }
}

// The button that was pressed goes with its filter: the focus passes to what is left, or to the table's heading.
function clear(room, without) {
  change(without);
  const next = room.querySelector("button") || room.closest("section").querySelector("h2");
  next.focus();
}
