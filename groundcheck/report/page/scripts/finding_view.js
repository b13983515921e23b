// One finding, opened over the table it stands in.

let opener = null;

async function showFinding(identity) {
  const dialog = byId("finding");
  if (dialog.dataset.finding === identity && dialog.open) return;
  const place = placeOfFinding.get(identity);
  dialog.dataset.finding = identity;
  if (!dialog.open) {
    opener = document.activeElement;
    dialog.showModal();
  }
  const close = make("button", { type: "button", class: "close", on: { click: () => change({ finding: null }) } }, "Close");
  const head = (title) => make("div", { class: "dialog-head" }, make("h2", { id: "h-finding", tabindex: "-1" }, title), close);
  if (place === undefined) {
    refill(dialog, head(`No finding ${identity}`), make("p", {}, "This audit holds no finding of that identity. It may have been cleared."));
    return;
  }
  const get = (name) => FINDINGS.get(place, name);
  refill(dialog, head(get("message") || titleOf(get("rule"))), make("p", { class: "quiet" }, "Reading the details."));
  dialog.scrollTop = 0;
  dialog.querySelector("h2").focus();
  let told;
  try {
    told = (await stationChunk(chunkOf(get("substation")))).findings.find((each) => each.finding === identity) || {};
  } catch (problem) {
    if (dialog.dataset.finding === identity) refill(dialog, head(get("message")), standsIn(get), findingFacts(get, {}), make("p", { class: "problem" }, problem.message));
    return;
  }
  if (dialog.dataset.finding !== identity) return;
  refill(dialog, head(get("message") || titleOf(get("rule"))), findingBody(get, told));
  dialog.querySelector("h2").focus();
}

function findingFacts(get, told) {
  const rule = DATA.rules[get("rule")] || {};
  const margin = marginWords(get("margin"));
  const within = (side) => [withUnit(get(side), get("unit")), told[`${side}_within`] ? `, within its tolerances ${told[`${side}_within`]}` : ""].join("");
  const rows = [
    ["severity", marked(get("severity"))],
    ["status", get("status") + (SINCE[get("change")] ? `; ${SINCE[get("change")]} since the audit before` : "")],
    ["waiver", told.waiver],
    ["station", [stationLink(get("substation")), get("name") ? `, ${get("name")}` : "", `; district ${get("district")}`]],
    ["asset", `${get("kind")} ${get("asset")}`],
    ["actual", within("actual")],
    ["required", within("required")],
    ["margin", margin],
    ["certainty", get("certainty")],
    ["rule", make("a", { href: `rulebook.html#${rule.anchor || ""}` }, rule.title || get("rule"))],
    ["identity", get("finding")],
  ];
  return definitions(rows);
}

// The cell of the district's own workbook that the finding is about.
function standsIn(get) {
  const place = get("place");
  return make("p", { class: "stands" }, make("strong", {}, "Where it stands: "), place || "no cell; it concerns what several records say together, listed under Evidence");
}

const definitions = (rows) => make("dl", {}, rows.filter(([, said]) => said && said.length !== 0).map(([name, said]) => [make("dt", {}, name), make("dd", {}, said)]));

function findingBody(get, told) {
  const rule = DATA.rules[get("rule")] || {};
  const part = (title, ...inside) => (inside.flat().some(Boolean) ? [make("h3", {}, title), inside] : []);
  const formula = rule.formula ? make("p", { class: "formula" }, rule.formula) : null;
  const working = (told.working || []).length ? make("ol", { class: "working" }, told.working.map((line) => make("li", {}, line))) : null;
  const remedy = get("remedy");
  return [
    standsIn(get),
    findingFacts(get, told),
    part("Remedy", remedy ? make("p", {}, remedy) : null, told.caution ? make("p", { class: "caution" }, `Caution: ${told.caution}`) : null),
    part("Why it matters", rule.why ? make("p", {}, rule.why) : null),
    part("Working", formula, working),
    part("Evidence", evidenceTable(told)),
    part("Assumed, for want of a record", assumedTable(told.assumed)),
    part("Basis and limits of the rule", definitions([["basis", rule.basis], ["cannot see", rule.cannot_see]])),
    part("History", historyTable(told.history)),
    part("The rest of the evidence", make("p", {}, "In exceptions.xlsx, sheet Evidence, or by ", make("code", {}, `groundcheck finding ${get("finding")} --store FILE`),
      told.evidence_left_out ? `: ${counted(told.evidence_left_out, "more row")} of what the computed inputs come from.` : ".")),
  ];
}

function evidenceTable(told) {
  if (!(told.evidence || []).length) return null;
  const rows = told.evidence.map((each) => [
    inWords(each.input.replace(".", ": ")) + (each.asset ? ` of ${each.asset}` : ""),
    withUnit(each.value, each.unit) || (each.computed ? "not known" : "not on record"),
    each.computed ? "computed" : [each.file, each.sheet, each.cell].filter(Boolean).join(" · "),
    each.found ?? "", each.role === "input" ? "input" : "behind an input"]);
  return plainTable("Evidence", ["what", "value", "file · sheet · cell", "text found there", "role"], rows, [0, 2, 3, 4]);
}

function assumedTable(assumed) {
  if (!(assumed || []).length) return null;
  return plainTable("Assumed values", ["field", "of", "value", "why"], assumed.map((each) => [inWords(each.field.replace(".", ": ")), each.asset, String(each.value ?? ""), each.why]), [0, 1, 3]);
}

function historyTable(history) {
  if (!(history || []).length) return null;
  return plainTable("What each audit said", ["from audit", "made", "status", "severity", "message"], history.map((each) => [
    String(each.run), String(each.made_at).slice(0, 10), each.message ? each.status || "" : "no finding", each.message ? each.severity || "" : "", [each.message, each.waiver].filter(Boolean).join("; ")]), [0, 1, 2, 3, 4]);
}

function hideFinding() {
  const dialog = byId("finding");
  if (dialog.open) dialog.close();
  const identity = dialog.dataset.finding;
  delete dialog.dataset.finding;
  dialog.replaceChildren();
  const again = opener && opener.isConnected ? opener : document.querySelector(`[data-finding="${CSS.escape(identity || "")}"]`);
  if (again) again.focus();
  opener = null;
}

byId("finding").addEventListener("cancel", (event) => { event.preventDefault(); change({ finding: null }); });
byId("finding").addEventListener("click", (event) => { if (event.target === byId("finding")) change({ finding: null }); });
