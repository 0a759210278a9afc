// Run repack.py inside the browser's own Python:  node repack.mjs RUNTIME FOLDER PART OF [text]
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const [runtime, folder, part, of, text] = process.argv.slice(2);
const here = dirname(fileURLToPath(import.meta.url));
const { loadPyodide } = await import(pathToFileURL(join(runtime, "pyodide.mjs")));
const python = await loadPyodide({ stdout: (line) => console.log(line) });
python.FS.mkdirTree("/work");
python.FS.mount(python.FS.filesystems.NODEFS, { root: folder }, "/work");
python.runPython(readFileSync(join(here, "repack.py"), "utf8"));
python.globals.get("repack_part")("/work", Number(part), Number(of), text === "text");
