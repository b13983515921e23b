// What is shown, as it stands in the address: view, filters, search, an open finding. Going back works by itself.

const FILTER_KEYS = ["severity", "status", "district", "subject", "rule", "certainty", "since", "asset_kind",
  "substation", "field", "outcome", "run"];
const VIEWS = ["fleet", "findings", "missing", "stations", "station", "rules", "about"];
const STATE_KEYS = ["view", "station", "finding", "q", ...FILTER_KEYS];
const watchers = [];

function readState() {
  const parts = new URLSearchParams(location.hash.slice(1));
  const state = {};
  for (const key of STATE_KEYS) if (parts.get(key)) state[key] = parts.get(key);
  if (!VIEWS.includes(state.view)) state.view = "fleet";
  return state;
}

let STATE = readState();

function addressOf(state) {
  const parts = new URLSearchParams();
  for (const key of STATE_KEYS) if (state[key]) parts.set(key, state[key]);
  return `#${parts}`;
}

// `change` names what is to be otherwise; null takes a key away. `quietly` leaves no step to go back to.
function change(change_, quietly = false) {
  const next = { ...STATE, ...change_ };
  for (const key of Object.keys(next)) if (!next[key]) delete next[key];
  const address = addressOf(next);
  if (address === addressOf(STATE)) return;
  history[quietly ? "replaceState" : "pushState"](null, "", address);
  adopt();
}

// Links within the page name a whole state; a link to anything else, such as the content, is no state.
function adopt() {
  if (location.hash && !location.hash.includes("=")) return;
  const before = STATE;
  STATE = readState();
  for (const watch of watchers) watch(STATE, before);
}

const filtersOf = (state) => FILTER_KEYS.filter((key) => state[key]);

// Sets these filters; where all of them are set already, takes them away.
function toggleFilters(wanted, more = {}) {
  const keys = Object.keys(wanted);
  const set = keys.length > 0 && keys.every((key) => STATE[key] === wanted[key]);
  change({ ...(set ? Object.fromEntries(keys.map((key) => [key, null])) : wanted), ...more });
}
