// The coded columns of the file, read row by row without being spelled out.

let DATA = null;

class Columns {
  constructor(table) {
    this.length = table.rows;
    this.columns = table.columns;
  }

  get(row, name) {
    const column = this.columns[name];
    return column.words[column.codes[row]];
  }

  words(name) {
    return this.columns[name].words;
  }

  codes(name) {
    return this.columns[name].codes;
  }

  // For each different value whether it passes; so a test is made once a value, not once a row.
  passing(name, test) {
    const column = this.columns[name];
    const passes = column.words.map(test);
    return (row) => passes[column.codes[row]];
  }
}

let FINDINGS = null;
let MISSING = null;
let STATIONS = null;
const placeOfStation = new Map();
const placeOfFinding = new Map();

function adoptData(data) {
  DATA = data;
  FINDINGS = new Columns(data.findings);
  MISSING = new Columns(data.missing);
  STATIONS = new Columns(data.stations);
  STATIONS.codes("substation").forEach((code, row) => placeOfStation.set(STATIONS.words("substation")[code], row));
  FINDINGS.codes("finding").forEach((code, row) => placeOfFinding.set(FINDINGS.words("finding")[code], row));
}

function chunkOf(substation) {
  const row = placeOfStation.get(substation);
  return row === undefined ? DATA.elsewhere[substation] : STATIONS.get(row, "file");
}

const subjectOf = (rule) => (DATA.rules[rule] || {}).subject || "of no subject";
const titleOf = (rule) => (DATA.rules[rule] || {}).title || rule;
