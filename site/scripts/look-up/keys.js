// Answers to margent/publishing/look_up_keys.py: the key under which a text is looked up, by the table in the data.

/** A function that makes the key of a text, from the letters of look-up/index.js. */
export function keysOf(letters) {
  const table = new Map(Object.entries(letters));
  return (text) => {
    let out = "";
    let last = "";
    for (const char of text) {
      for (const each of table.get(char) ?? (/[0-9a-z]/.test(char) ? char : " ")) {
        if (each !== last || /[0-9]/.test(each)) out += each;
        last = each;
      }
    }
    return out.trim();
  };
}
