// Which part of the page is shown, its title, and where the focus goes.

const TITLES = { fleet: "Fleet", findings: "Findings", missing: "Not assessable", stations: "Stations", rules: "Rules", about: "About this audit" };
let shownView = null;

// The table comes first; what takes longer waits until it can be seen and used.
const afterPaint = (act) => requestAnimationFrame(() => setTimeout(act));

function showView(state) {
  const view = state.view;
  for (const section of document.querySelectorAll("main > section")) section.hidden = !section.dataset.views.split(" ").includes(view);
  for (const link of document.querySelectorAll("nav.views a")) {
    const here = link.dataset.view === view || (view === "station" && link.dataset.view === "stations");
    if (here) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
    // The filters go along from one view to the next.
    link.href = addressOf({ ...state, view: link.dataset.view, station: null, finding: null });
  }
  document.title = `${view === "station" ? `Station ${state.station || ""}` : TITLES[view]} – neutral grounding of the fleet`;
  if (view === "fleet" || view === "findings") { openFindings(); findingsTable.show(state); }
  if (view === "fleet") afterPaint(() => { if (!byId("matrix").firstChild) openMatrix(); markMatrix(STATE); afterPaint(openPictures); });
  if (view === "missing") { openMissing(); missingTable.show(state); }
  if (view === "stations") { openStations(); stationsTable.show(state); }
  if (view === "rules" && state.rule) openRule(state.rule);
  for (const button of document.querySelectorAll("#severities button")) button.setAttribute("aria-pressed", String(state.severity === button.dataset.value));
  const station = view === "station" ? showStation(state.station) : null;
  const key = view === "station" ? `station ${state.station}` : view;
  if (shownView !== null && shownView !== key) {
    const heading = document.querySelector("main > section:not([hidden]) h2");
    scrollTo(0, Math.min(scrollY, document.querySelector("nav.views").offsetTop));
    heading?.focus({ preventScroll: true });
  }
  shownView = key;
  return station;
}

function openRule(rule) {
  for (const details of document.querySelectorAll("details.rule")) if (details.dataset.rule === rule) { details.open = true; details.scrollIntoView({ block: "center" }); }
}

function showState(state) {
  const station = showView(state);
  if (state.finding) showFinding(state.finding);
  else if (byId("finding").open) hideFinding();
  return station;
}
