// Opens the browser's Python. Its parts lie beside this file, compressed, each under a name that
// changes with what it holds: a browser keeps them for good, and fetches what is new alone.
const PARTS = /* parts */ {};
const TYPES = { wasm: "application/wasm", mjs: "text/javascript", zip: "application/zip" };
const place = (name) => new URL(PARTS[name], import.meta.url);

/** A part, unpacked, as an answer of the server. */
async function part(name) {
  const answer = await fetch(place(name));
  if (!answer.ok) throw new Error(`${PARTS[name]} did not come: the server said ${answer.status}`);
  const body = answer.body.pipeThrough(new DecompressionStream("gzip"));
  return new Response(body, { headers: { "Content-Type": TYPES[name.split(".").pop()] } });
}

/** A part that Python asks for while it works: it must have it before it goes on. */
function partAtOnce(name) {
  const asked = new XMLHttpRequest();
  asked.open("GET", place(name), false);
  asked.responseType = "arraybuffer";
  asked.send();
  if (asked.status !== 200) throw new Error(`the server said ${asked.status}`);
  return new Uint8Array(asked.response);
}

/** In place of the runtime's own: its files come from here, and no package needs fetching. */
export async function loadPyodide({ packages, ...options }) {
  const names = ["pyodide.asm.wasm", "pyodide.asm.mjs", "python_stdlib.zip"];
  const coming = Object.fromEntries(names.map((name) => [name, part(name)]));
  const plain = globalThis.fetch;
  globalThis.fetch = (asked, ...more) =>
    coming[String(asked.url ?? asked).split("/").pop()] ?? plain(asked, ...more);
  try {
    const runtime = import(place("pyodide.mjs"));
    const loader = URL.createObjectURL(await (await coming["pyodide.asm.mjs"]).blob());
    const python = await (await runtime).loadPyodide({
      ...options,
      createPyodideModule: (await import(loader)).default,
      lockFileContents: /* lock */ {},
      packageBaseUrl: new URL(".", import.meta.url).href,
    });
    python.pyimport("later_parts").begin(partAtOnce);
    return python;
  } finally {
    globalThis.fetch = plain;
  }
}
