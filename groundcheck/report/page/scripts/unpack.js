// Data as it stands in the file: JSON, compressed, in base 64.

async function unpack(text) {
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let place = 0; place < raw.length; place += 1) bytes[place] = raw.charCodeAt(place);
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return JSON.parse(await new Response(stream).text());
}

// The details of a station: from this file, or from its own, which a script tag loads.
const openedChunks = new Map();
const awaitedChunks = new Map();

window.groundcheckStation = (name, text) => {
  const waiting = awaitedChunks.get(name);
  awaitedChunks.delete(name);
  if (waiting) waiting(text);
};

function stationChunk(name) {
  if (!openedChunks.has(name)) {
    openedChunks.set(name, fetchChunk(name).then(unpack));
    openedChunks.get(name).catch(() => openedChunks.delete(name));
    if (openedChunks.size > 20) openedChunks.delete(openedChunks.keys().next().value);
  }
  return openedChunks.get(name);
}

function fetchChunk(name) {
  const here = byId(`station-${name}`);
  if (here) return Promise.resolve(here.textContent);
  if (!DATA.folder) return Promise.reject(new Error("This station has no details in this file."));
  return new Promise((resolve, reject) => {
    awaitedChunks.set(name, resolve);
    const path = `${DATA.folder}/${name}.js`;
    const tag = make("script", { src: path });
    tag.addEventListener("error", () => reject(new Error(
      `${path} is not there. Keep the folder ${DATA.folder} beside this file, and open both from the same place.`)));
    tag.addEventListener("load", () => tag.remove());
    document.head.append(tag);
  });
}
