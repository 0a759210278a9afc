// Run a line in the Python of a finished site:  node try_out.mjs FOLDER LINE
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [folder, line] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(folder, "pyodide.mjs")));
const python = await loadPyodide();
python.runPython(line);
