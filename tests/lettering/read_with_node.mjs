// Reads letterings as the browser does: node read_with_node.mjs FOLDER READER.JSON < records.jsonl > readings.jsonl
// FOLDER holds the modules of site/scripts/reader/. Every line of the input is answered by one line, in order: the
// reading, or {"fault": "..."} where the record is refused.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [folder, compiled] = process.argv.slice(2);
const load = (name) => import(pathToFileURL(`${folder}/${name}.js`));
const [{ Reader }, { letteringFrom }, { Fault }] = await Promise.all(["reader", "letterings", "fault"].map(load));
const reader = new Reader(JSON.parse(readFileSync(compiled, "utf-8")));

function answer(line) {
  try {
    return reader.read(letteringFrom(JSON.parse(line))).asDict();
  } catch (error) {
    if (error instanceof Fault) return { fault: error.message };
    throw new Error(`${error.stack}\nat the record ${line.slice(0, 500)}`);
  }
}

// Only a line feed ends a line: Node's own line reader would break at U+2028, which may stand in a lettering.
for (const line of readFileSync(0, "utf-8").split("\n")) {
  if (line) process.stdout.write(JSON.stringify(answer(line)) + "\n");
}
