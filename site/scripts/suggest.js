// The sheet for suggestions: what is filled in becomes an entry in Turtle, checked here, to be sent to an editor.

import { Shards } from "./look-up/shards.js";
import { copied } from "./page/copy.js";
import { given } from "./page/given.js";
import { make } from "./page/make.js";
import { say } from "./page/texts.js";
import { nameFormEntry } from "./suggest/name-form.js";
import { termEntry } from "./suggest/term.js";

class Sheet {
  #form;
  #make;
  #status;
  #out;
  #turn = 0;

  /** `makeEntry` gives findings and text for the values of the fields. */
  constructor(form, makeEntry) {
    this.#form = form;
    this.#make = makeEntry;
    this.#status = form.querySelector(".lacking");
    this.#out = form.querySelector("pre");
    form.addEventListener("input", () => this.#changed());
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("reset", () => setTimeout(() => this.#changed()));
    form.addEventListener("focusin", () => this.#fillSources(), { once: true });
    form.querySelector("button.copy").addEventListener("click", () => this.#copy());
    form.hidden = false;
    this.#changed();
  }

  #values() {
    const values = {};
    for (const field of this.#form.elements) {
      if (field.name && (field.type !== "radio" || field.checked)) values[field.name] = field.value.trim().replace(/\s+/g, " ");
    }
    return values;
  }

  async #changed() {
    this.#turn += 1;
    const turn = this.#turn;
    const values = this.#values();
    for (const part of this.#form.querySelectorAll("[data-when]")) part.hidden = part.dataset.when !== values.standing;
    const { found, text } = await this.#make(values);
    if (turn !== this.#turn) return;
    this.#out.textContent = text;
    this.#form.querySelector(".made").hidden = !text;
    this.#form.querySelector(".copied").textContent = "";
    const begun = Object.entries(values).some(([name, value]) => value && this.#form.elements.namedItem(name).dataset?.own !== undefined);
    this.#status.replaceChildren(
      ...(begun ? found : []).map(({ field, text: name, values: blanks }) =>
        make("li", {}, make("span", { class: "of" }, this.#label(field)), ": ", say(name, blanks)),
      ),
    );
    for (const field of this.#form.elements) {
      if (field.name) field.setAttribute("aria-invalid", String(begun && found.some((each) => each.field === field.name)));
    }
  }

  #label(name) {
    const field = this.#form.elements.namedItem(name);
    return field.labels?.[0]?.textContent ?? name;
  }

  /** The sources that may be cited, which are many, are loaded when somebody begins. */
  async #fillSources() {
    const titles = await given("sources", "data/sources.js").catch(() => ({}));
    const choice = this.#form.elements.namedItem("source");
    for (const [slug, title] of Object.entries(titles)) choice.append(make("option", { value: slug }, title));
  }

  async #copy() {
    const done = await copied(this.#out.textContent);
    this.#form.querySelector(".copied").textContent = say(done ? "copied" : "not-copied");
  }
}

const shards = new Shards();

/** Whether that very form is a form of a word in that language already. */
async function known(form, lang) {
  try {
    await shards.ready();
    const key = shards.key(form);
    if (!key) return false;
    const { rows } = await shards.beginningWith(key);
    return rows.some((row) => row.page.startsWith(`term/${lang}-`) && row.form.toLowerCase() === form.toLowerCase());
  } catch {
    return false; // without the list the editor's own check finds it
  }
}

for (const form of document.querySelectorAll("form.suggested")) {
  const { base } = form.dataset;
  new Sheet(form, form.dataset.kind === "term" ? (values) => termEntry(values, base, known) : (values) => nameFormEntry(values, base));
}
for (const part of document.querySelectorAll(".scripted")) part.hidden = false;
