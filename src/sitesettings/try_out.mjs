// Run a line in the Python of a site, and tell which modules it has then:
//   node try_out.mjs FOLDER LINE             all packages in one zip
//   node try_out.mjs FOLDER LINE GOAL NAMES  the later parts from where the site has them
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [folder, line, goal, names] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(folder, "pyodide.mjs")));
const python = await loadPyodide({ indexURL: folder });
if (goal) {
  const files = JSON.parse(names);
  const read = (part) => new Uint8Array(readFileSync(join(goal, files[part])));
  python.pyimport("later_parts").begin(read);
}
python.runPython(line);
console.log(python.runPython("import json, sys; json.dumps(sorted(sys.modules))"));
