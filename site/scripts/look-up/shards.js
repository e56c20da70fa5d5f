// Answers to margent/publishing/look_up_shards.py: which file holds the keys that begin with a text, and what it holds.

import { given } from "../page/given.js";
import { keysOf } from "./keys.js";

/** The files of the look-up, each loaded when it is first needed. */
export class Shards {
  #index = null;
  #keys = null;

  /** Loads the list of files and the table of letters. */
  async ready() {
    if (this.#index) return;
    const index = await given("look-up", "look-up/index.js");
    this.#keys = keysOf(index.letters);
    this.#index = parsed(index.shards);
  }

  /** The key of a text, once `ready` has been waited for. */
  key(text) {
    return this.#keys(text);
  }

  /** What may begin with the key: the rows of its file, and whether these are only the most wanted of more. */
  async beginningWith(key) {
    const { name, more } = this.#fileOf(key);
    const shard = await given(`look-up ${name}`, `look-up/${fileName(name)}.js`);
    shard.made ??= shard.rows.map((row) => this.#row(row, shard.entries));
    return { rows: shard.made.filter((row) => row.key.startsWith(key)), more };
  }

  /** The file with the longest name that the key begins with; `more` where files of longer names begin so too. */
  #fileOf(key) {
    let node = this.#index;
    let name = "";
    for (const letter of key) {
      const below = node.get(letter);
      if (!below) return { name, more: false };
      name += letter;
      if (below === true) return { name, more: false };
      node = below;
    }
    return { name, more: node.size > 0 };
  }

  #row([entry, form, at], entries) {
    const [page, label, lang, said, shortest] = entries[entry];
    const text = form || label;
    const words = this.#keys(text).split(" ");
    const turned = at ?? 0;
    return {
      page,
      label,
      lang: lang ?? "",
      said: said ?? "",
      shortest: shortest ?? "",
      form: text,
      at: turned,
      whole: words.join(" "),
      key: [...words.slice(turned), ...words.slice(0, turned)].join(" "),
    };
  }
}

/** The tree of names: `a` is a file, `b(..)` one with others of longer names, within the brackets. */
function parsed(text) {
  const root = new Map();
  const open = [root];
  let last = "";
  for (const sign of text) {
    if (sign === "(") {
      const below = new Map();
      open.at(-1).set(last, below);
      open.push(below);
    } else if (sign === ")") open.pop();
    else {
      open.at(-1).set(sign, true);
      last = sign;
    }
  }
  return root;
}

function fileName(name) {
  const sign = (char) => (char === " " ? "_" : /[0-9A-Za-z]/.test(char) ? char : `.${char.codePointAt(0).toString(16)}`);
  return `s-${Array.from(name, sign).join("")}`;
}
