// Which entries answer what was typed, the best first: exact forms, truncations that an entry allows, what begins so, and
// where nothing does, what begins with a little less, for endings of cases that no form has.

const KINDS = ["term", "role", "notice", "place", "mark", "maker"];
const MOST = 14;
const MOST_OF_A_KIND = 6; // as long as there are answers of other kinds
const LEAST = 4; // letters that must remain when an ending is dropped
const DROPPED = 3;
const SHORTEST_HEAD = 3; // letters of a word that is looked for by itself
const MOST_HEADS = 5;
const LEAST_LIKE = 0.35; // of 1: below that too little of what was asked is there
const AS_GOOD = 0.6; // of the best: what is less like it is left out

/** The answers to a query, and whether there are more; `near` where only something near it was found. */
export async function answersTo(query, shards) {
  await shards.ready();
  const typed = plain(query.trim());
  const key = shards.key(query);
  if (!key) return null;
  const direct = await shards.beginningWith(key);
  const ranked = direct.rows.map((row) => ({ ...row, rank: rankOf(row, key, typed) }));
  if (direct.rows.some((row) => row.whole === key)) return listed(ranked, direct.more);
  const words = key.split(" ");
  if (words.length > 1) ranked.push(...(await byWords(words, shards)));
  if (ranked.length) return listed(ranked, direct.more, !direct.rows.length);
  for (const shorter of withoutEnding(key)) {
    const { rows, more } = await shards.beginningWith(shorter);
    if (rows.length) return listed(rows.map((row) => ({ ...row, rank: rankOf(row, shorter, typed) })), more, true);
  }
  return { found: [], more: false, near: false };
}

/** The text with its last letters dropped, for endings of cases that no form has. */
function withoutEnding(key) {
  const shorter = [];
  for (let dropped = 1; dropped <= DROPPED && key.length - dropped >= LEAST; dropped += 1) shorter.push(key.slice(0, -dropped).trimEnd());
  return shorter;
}

/** The rows that have the most of several words, in whatever order, each word long enough looked for by itself. */
async function byWords(words, shards) {
  const rows = new Set();
  for (const head of words.filter((word) => word.length >= SHORTEST_HEAD).slice(0, MOST_HEADS)) {
    for (const row of await headedBy(head, words, shards)) rows.add(row);
  }
  const scored = [...rows].map((row) => ({ row, score: likeness(row.whole.split(" "), words) * (kindOf(row) === "forename" ? 0.7 : 1) }));
  const best = Math.max(0, ...scored.map(({ score }) => score));
  return scored
    .filter(({ score }) => score >= LEAST_LIKE && score >= best * AS_GOOD)
    .map(({ row, score }) => ({ ...row, rank: Math.round(1000 - 500 * score) }));
}

/** The rows that begin with a word, or with a little less of it; where these are too many, those that go on with another. */
async function headedBy(head, words, shards) {
  for (const beginning of [head, ...withoutEnding(head)]) {
    const { rows, more } = await shards.beginningWith(beginning);
    if (!rows.length) continue;
    const further = more ? words.filter((word) => word !== head).map((word) => `${head} ${word}`) : [];
    for (const each of further) rows.push(...(await shards.beginningWith(each)).rows);
    return rows;
  }
  return [];
}

/** How much of what was asked a form has, from 0 to 1: long words count more, and words that it has besides a little less. */
function likeness(own, words) {
  let met = 0;
  let total = 0;
  const used = new Set();
  for (const word of words) {
    const weight = Math.min(word.length, 8);
    const [best, other] = own.map((each) => [meets(each, word), each]).reduce((one, next) => (next[0] > one[0] ? next : one), [0, null]);
    if (best) used.add(other);
    met += best * weight;
    total += weight;
  }
  const besides = own.filter((each) => !used.has(each)).reduce((sum, each) => sum + Math.min(each.length, 8), 0);
  return met / (total + besides / 3);
}

/** How well two words meet: the same, one the beginning of the other (`io` of `ioanes`), or of another ending. */
function meets(own, word) {
  if (own === word) return 1;
  if (own.startsWith(word) || word.startsWith(own)) return 0.8;
  return own.length > LEAST && word.length > LEAST && own.slice(0, LEAST) === word.slice(0, LEAST) ? 0.6 : 0;
}

function listed(rows, more = false, near = false) {
  const best = new Map();
  for (const row of rows) {
    const before = best.get(row.page);
    if (!before || row.rank < before.rank) best.set(row.page, row);
  }
  const all = [...best.values()].sort((one, other) => one.rank - other.rank || (one.key < other.key ? -1 : 1));
  return { found: mixed(all), more: more || all.length > MOST, near };
}

/** The first answers, without one kind crowding out the others. */
function mixed(all) {
  const counts = new Map();
  const few = new Set();
  for (const row of all) {
    const count = (counts.get(kindOf(row)) ?? 0) + 1;
    counts.set(kindOf(row), count);
    if (count <= MOST_OF_A_KIND && few.size < MOST) few.add(row);
  }
  for (const row of all) if (few.size < MOST) few.add(row);
  return all.filter((row) => few.has(row));
}

/** A text without case and accents, its letters as they were typed: what begins so too is likelier meant. */
const plain = (text) => text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();

/** Lower is better: what fits comes before its kind, and its kind before how long it is. */
function rankOf(row, key, typed) {
  const kind = KINDS.indexOf(kindOf(row));
  const own = kind < 0 ? KINDS.length : kind;
  if (row.whole === key) return own;
  const cut = row.shortest && key.startsWith(row.shortest) && row.at === 0;
  const spelt = plain(row.form).split(/[\s,.]+/).slice(row.at).join(" ").startsWith(typed) ? 0 : 70;
  return (cut ? 100 : row.at === 0 ? 200 : 300) + spelt + own * 10 + Math.min(9, Math.floor((row.key.length - key.length) / 4));
}

/** The kind of entry: the folder of its page. */
export function kindOf({ page }) {
  return page.split("/")[0];
}
