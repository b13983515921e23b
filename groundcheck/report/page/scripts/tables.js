// The table library, set up alike for every table: rows are numbers, cells are made when they are shown.

const PAGE_LENGTH = 25;
const PRINTED_AT_MOST = 2000;
const tables = new Map();

const literal = (text) => String(text ?? "").replaceAll("&", "&amp;").replaceAll("<", "&lt;");

// `columns`: {title, cell(row) -> text or node, sort(row), name, width, number}; `text(row)` is what search looks at.
function listing(id, count, columns, text, test, told, controls) {
  const rows = Array.from({ length: count }, (_, place) => [place]);
  const defs = columns.map((column) => ({
    title: column.title,
    name: column.name,
    className: [column.number ? "number" : "", column.narrow === false ? "wide-only" : "", column.classes || ""].join(" ").trim(),
    type: column.number ? "num" : "string",
    orderSequence: column.number ? ["desc", "asc"] : ["asc", "desc"],
    searchable: false,
    data: ([row], kind) => {
      if (kind === "sort" || kind === "type") return column.sort(row);
      if (kind === "filter") return "";
      const cell = column.cell(row);
      return cell instanceof Node ? cell : document.createTextNode(cell ?? "");
    },
  }));
  // The library takes text with an ampersand for markup, so what search looks at is written as markup.
  defs.push({ title: "all text", visible: false, orderable: false, type: "string",
    data: ([row], kind) => (kind === "filter" ? literal(text(row)) : "") });
  const table = new DataTable(`#${id}`, {
    data: rows,
    columns: defs,
    order: [],
    pageLength: PAGE_LENGTH,
    lengthMenu: [25, 50, 100, 250],
    autoWidth: false,
    deferRender: true,
    orderClasses: false,
    typeDetect: false,
    layout: { topStart: null, topEnd: null, bottomStart: "pageLength", bottomEnd: "paging" },
    language: {
      emptyTable: "None on record.", zeroRecords: "None passes the filters.", lengthMenu: "rows a page _MENU_",
      aria: { orderable: ": sort by this column", orderableReverse: ": sort the other way", orderableRemove: ": back to the first order",
        paginate: { first: "first page", last: "last page", next: "next page", previous: "page before" } },
    },
  });
  let filtered = () => true;
  let wanted = "";
  table.search.fixed("filters", (_, __, place) => filtered(place));
  const entry = {
    table,
    show(state) {
      const key = addressOf({ ...state, view: null, station: null, finding: null });
      if (key !== wanted) {
        wanted = key;
        filtered = test(state);
        table.search(state.q || "").draw();
      }
      byId(told.room).textContent = told.words(table.rows({ search: "applied" }).count(), count);
      controls(state);
    },
  };
  const cut = make("p", { class: "printed-only", hidden: true });
  byId(told.room).after(cut);
  entry.cut = cut;
  byId(id).tBodies[0].addEventListener("click", (event) => {
    if (event.target.closest("a, button") || String(getSelection())) return;
    const link = event.target.closest("tr")?.querySelector("a.opens");
    if (link) link.click();
  });
  tables.set(id, entry);
  return entry;
}

// On paper stands the whole list that the filters leave, not the page of it that the screen shows.
addEventListener("beforeprint", () => {
  for (const [id, entry] of tables) {
    if (!byId(id).closest("section").hidden) {
      entry.length = entry.table.page.len();
      entry.page = entry.table.page();
      entry.table.page.len(PRINTED_AT_MOST).draw();
      const left = entry.table.rows({ search: "applied" }).count();
      entry.cut.hidden = left <= PRINTED_AT_MOST;
      entry.cut.textContent = `On paper stand the first ${PRINTED_AT_MOST.toLocaleString("en-US")} of ${left.toLocaleString("en-US")} rows. Filter the table to print others; exceptions.xlsx and findings.csv hold all findings.`;
    }
  }
});
addEventListener("afterprint", () => {
  for (const entry of tables.values()) {
    if (entry.length) entry.table.page.len(entry.length).page(entry.page).draw("page");
    entry.cut.hidden = true;
    entry.length = 0;
  }
});
