// Looks up names as a page does: node look_up_with_node.mjs SCRIPTS SITE < names.json > pages.json
// SCRIPTS is site/scripts/, SITE a folder with the published look-up/. The answer has a list of pages for each name.

import { readFileSync, readdirSync } from "node:fs";
import { pathToFileURL } from "node:url";
import vm from "node:vm";

const [scripts, site] = process.argv.slice(2);
// What a browser would have loaded is there already; nothing else of a page is needed.
globalThis.document = { currentScript: { src: "file:///site/scripts/look-up.js" } };
const data = new Map();
const loads = { has: () => true, get: async (name) => data.get(name) };
globalThis.margentShelf = { data, loads };
globalThis.margentGive = (name, value) => data.set(name, value);
for (const file of readdirSync(`${site}/look-up`)) vm.runInThisContext(readFileSync(`${site}/look-up/${file}`, "utf-8"));

const load = (name) => import(pathToFileURL(`${scripts}/look-up/${name}.js`));
const [{ Shards }, { answersTo }] = await Promise.all(["shards", "answers"].map(load));
const shards = new Shards();
const answers = [];
for (const name of JSON.parse(readFileSync(0, "utf-8"))) {
  answers.push(((await answersTo(name, shards))?.found ?? []).map((row) => row.page));
}
process.stdout.write(JSON.stringify(answers));
