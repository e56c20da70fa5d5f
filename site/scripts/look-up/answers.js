// Which entries answer what was typed, the best first: exact forms, truncations that an entry allows, what begins so, and
// where nothing does, what begins with a little less, for endings of cases that no form has.

const KINDS = ["term", "role", "notice", "place", "mark", "maker"];
const MOST = 14;
const MOST_OF_A_KIND = 6; // as long as there are answers of other kinds
const LEAST = 4; // letters that must remain when an ending is dropped
const DROPPED = 3;

/** The answers to a query, and whether there are more; `near` where only something near it was found. */
export async function answersTo(query, shards) {
  await shards.ready();
  const typed = plain(query.trim());
  const key = shards.key(query);
  if (!key) return null;
  const direct = await shards.beginningWith(key);
  const words = key.split(" ");
  if (words.length === 1 || direct.rows.some((row) => row.whole === key)) {
    if (direct.rows.length) return listed(direct.rows, key, { typed, more: direct.more });
  } else {
    const { rows, head } = await aboutOneWord(words, shards);
    const near = !direct.rows.length;
    if (rows.length || !near) return listed([...direct.rows, ...rows], near ? head : key, { typed, more: direct.more, near, head });
  }
  for (let dropped = 1; dropped <= DROPPED && key.length - dropped >= LEAST; dropped += 1) {
    const shorter = key.slice(0, -dropped).trimEnd();
    const { rows, more } = await shards.beginningWith(shorter);
    if (rows.length) return listed(rows, shorter, { typed, more, near: true });
  }
  return { found: [], more: false, near: false };
}

/** The rows that begin with the longest word: those that have most of the others too, and those that are no more than it. */
async function aboutOneWord(words, shards) {
  const longest = [...words].sort((one, other) => other.length - one.length)[0];
  const others = words.filter((word) => word !== longest);
  let rows = [];
  let head = longest;
  for (let dropped = 0; dropped <= DROPPED && !rows.length; dropped += 1) {
    head = longest.slice(0, longest.length - dropped);
    if (dropped && head.length < LEAST) break;
    rows = (await shards.beginningWith(head)).rows;
  }
  const fit = (row) => others.filter((word) => row.whole.split(" ").some((own) => meets(own, word))).length;
  const best = Math.max(0, ...rows.map(fit));
  return { head, rows: rows.filter((row) => (best && fit(row) === best) || row.whole === head) };
}

/** Whether one word is the beginning of the other: `io` of `ioanes`, or the ending differs: `anae` and `ana`. */
function meets(own, word) {
  return own.startsWith(word) || word.startsWith(own) || (own.length > LEAST && own.slice(0, LEAST) === word.slice(0, LEAST));
}

function listed(rows, key, { typed, more = false, near = false, head = key }) {
  const best = new Map();
  for (const row of rows) {
    const ranked = { ...row, rank: rankOf(row, key, head, typed) };
    const before = best.get(row.page);
    if (!before || ranked.rank < before.rank) best.set(row.page, ranked);
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
function rankOf(row, key, head, typed) {
  const kind = KINDS.indexOf(kindOf(row));
  const own = kind < 0 ? KINDS.length : kind;
  if (row.whole === key || row.whole === head) return own;
  const cut = row.shortest && key.startsWith(row.shortest) && row.at === 0;
  const spelt = plain(row.form).split(/[\s,.]+/).slice(row.at).join(" ").startsWith(typed) ? 0 : 70;
  return (cut ? 100 : row.at === 0 ? 200 : 300) + spelt + own * 10 + Math.min(9, Math.floor((row.key.length - key.length) / 4));
}

/** The kind of entry: the folder of its page. */
export function kindOf({ page }) {
  return page.split("/")[0];
}
