// Lay compressed copies (.gz, .br) beside the files of a site that shrink by it:
//   node compress.mjs FOLDER
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { extname, join } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

const SHRINK = new Set([".js", ".mjs", ".json", ".css", ".html", ".svg", ".ipynb", ".md", ".txt"]);
const LEAST = 1000; // below that a copy saves nothing
const brotli = { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } };

for (const one of readdirSync(process.argv[2], { recursive: true, withFileTypes: true })) {
  const path = join(one.parentPath ?? one.path, one.name);
  if (!one.isFile() || !SHRINK.has(extname(one.name))) continue;
  const data = readFileSync(path);
  if (data.length < LEAST) continue;
  writeFileSync(`${path}.gz`, gzipSync(data, { level: 9 }));
  writeFileSync(`${path}.br`, brotliCompressSync(data, brotli));
}
