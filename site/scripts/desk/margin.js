// What is typed at the desk: the fields of the lower margin, as the record that a lettering is read from, and as the
// fragment of a link.

const PLACES = ["left", "centre", "right", "below"];
const WHERE = { left: "lower left", centre: "lower centre", right: "lower right", below: null };
const ABOUT = ["date", "technique"];

/** The fields of a form: `record()` for the reader, `fragment()` for a link, `fill(fragment)` from one. */
export class Margin {
  #fields;
  #complete;

  constructor(form) {
    this.#fields = new Map([...PLACES, ...ABOUT].map((name) => [name, form.elements.namedItem(name)]));
    this.#complete = form.elements.namedItem("complete");
  }

  /** The fields in which somebody writes the lettering. */
  get places() {
    return PLACES.map((name) => this.#fields.get(name));
  }

  /** What was typed, as one record of a batch; lines without any sign are left out. */
  record() {
    const lines = PLACES.flatMap((name) =>
      this.#fields
        .get(name)
        .value.split("\n")
        .filter((text) => text.trim())
        .map((text) => ({ text, place: WHERE[name] })),
    );
    const record = { lines };
    for (const name of ABOUT) record[name] = this.#fields.get(name).value.trim() || null;
    record.complete = this.#complete.checked ? "yes" : null;
    return record;
  }

  /** The same as the part of a link behind #, which a browser keeps to itself. */
  fragment() {
    const said = new URLSearchParams();
    for (const [name, field] of this.#fields) if (field.value.trim()) said.set(name, field.value);
    if (this.#complete.checked) said.set("complete", "yes");
    return said.toString();
  }

  /** Fills the fields from a fragment; false where it holds no lettering. */
  fill(fragment) {
    const said = new URLSearchParams(fragment);
    if (!PLACES.some((name) => said.has(name))) return false;
    for (const [name, field] of this.#fields) field.value = said.get(name) ?? "";
    this.#complete.checked = said.get("complete") === "yes";
    return true;
  }

  /** Empties every field. */
  clear() {
    for (const field of this.#fields.values()) field.value = "";
    this.#complete.checked = false;
  }
}
