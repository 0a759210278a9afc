// Run repack.py inside the browser's own Python:  node repack.mjs RUNTIME SOURCE TARGET OURS
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const [runtime, source, target, ours] = process.argv.slice(2);
const here = dirname(fileURLToPath(import.meta.url));
const { loadPyodide } = await import(pathToFileURL(join(runtime, "pyodide.mjs")));
const python = await loadPyodide({ stdout: (line) => console.log(line) });
for (const [name, folder] of [["/source", source], ["/target", target]]) {
  python.FS.mkdirTree(name);
  python.FS.mount(python.FS.filesystems.NODEFS, { root: folder }, name);
}
python.runPython(readFileSync(join(here, "repack.py"), "utf8"));
python.globals.get("repack_all")("/source", "/target", ours);
