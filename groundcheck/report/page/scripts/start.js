// The beginning: unpack, show what the address asks for, follow the address.

function choosePaper() {
  const choice = byId("paper");
  const keep = (value) => { try { localStorage.setItem("groundcheck-paper", value); } catch { /* a file without storage */ } };
  let kept = "";
  try { kept = localStorage.getItem("groundcheck-paper") || ""; } catch { /* likewise */ }
  const adoptPaper = (value) => {
    if (value) document.documentElement.dataset.theme = value;
    else delete document.documentElement.dataset.theme;
    if (DATA) redrawPictures();
  };
  choice.value = ["light", "dark"].includes(kept) ? kept : "";
  adoptPaper(choice.value);
  choice.addEventListener("change", () => { keep(choice.value); adoptPaper(choice.value); });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => adoptPaper(choice.value));
}

byId("skip").addEventListener("click", (event) => { event.preventDefault(); byId("content").focus(); byId("content").scrollIntoView(); });
choosePaper();
for (const button of document.querySelectorAll("#severities button")) {
  button.addEventListener("click", () => toggleFilters({ severity: button.dataset.value }, VIEWS.indexOf(STATE.view) > 1 ? { view: "findings" } : {}));
}
unpack(byId("data").textContent).then((data) => {
  byId("data").remove();
  adoptData(data);
  byId("waiting").remove();
  watchers.push(showState);
  addEventListener("popstate", adopt);
  addEventListener("hashchange", adopt);
  showState(STATE);
  document.documentElement.dataset.ready = String(Math.round(performance.now()));
}).catch((problem) => {
  byId("waiting")?.replaceChildren(`The report can't be opened: ${problem.message}`);
  throw problem;
});
