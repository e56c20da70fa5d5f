// Looks up words, roles, names, marks and places from the head of every page. Nothing is sent: what was typed only
// decides which of the site's own small files is loaded.

import { answersTo, kindOf } from "./look-up/answers.js";
import { Shards } from "./look-up/shards.js";
import { make } from "./page/make.js";
import { LANGUAGE, say } from "./page/texts.js";

/** The language of what is English in the list, where the page is not. */
const ENGLISH = LANGUAGE === "en" ? null : "en";

class LookUp {
  #form;
  #field;
  #count;
  #answers;
  #shards = new Shards();
  #asked = 0;

  constructor(form) {
    this.#form = form;
    this.#field = form.querySelector("input");
    this.#count = form.querySelector(".count");
    this.#answers = form.querySelector(".answers");
    this.#field.addEventListener("input", () => this.#ask());
    this.#field.addEventListener("focus", () => this.#shards.ready().catch(() => {}), { once: true });
    form.addEventListener("keydown", (event) => this.#key(event));
    form.addEventListener("submit", (event) => this.#first(event));
    form.addEventListener("focusin", () => this.#form.classList.toggle("asked", this.#count.textContent !== ""));
    form.addEventListener("focusout", (event) => {
      // Some browsers give a link no focus when it is clicked: its answer must not vanish under the pointer.
      const clicked = form.querySelector(".found").matches(":hover");
      if (!form.contains(event.relatedTarget) && !clicked) form.classList.remove("asked");
    });
    document.addEventListener("click", (event) => {
      if (!form.contains(event.target)) form.classList.remove("asked");
    });
    form.hidden = false;
  }

  async #ask() {
    this.#asked += 1;
    const asked = this.#asked;
    let answer = null;
    try {
      answer = await answersTo(this.#field.value, this.#shards);
    } catch {
      if (asked === this.#asked) this.#show([], say("look-up-not-loaded"));
      return;
    }
    if (asked === this.#asked) this.#tell(answer); // else something else has been typed meanwhile
  }

  #tell(answer) {
    if (!answer) this.#show([], "");
    else if (!answer.found.length) this.#show([], say("look-up-none"));
    else {
      const name = answer.near ? "look-up-near" : answer.more ? "look-up-more" : answer.found.length === 1 ? "look-up-one" : "look-up-some";
      this.#show(answer.found, say(name, { number: answer.found.length }));
    }
  }

  #show(found, message) {
    this.#count.textContent = message;
    this.#form.classList.toggle("asked", message !== "");
    this.#answers.replaceChildren(...found.map((row) => this.#answer(row)));
    this.#answers.hidden = !found.length;
  }

  #answer(row) {
    const kind = kindOf(row);
    const form = (text, lang) => make("i", { class: "form", lang: lang || null, dir: "auto" }, text);
    const through =
      row.form === row.label ? null : make("span", { class: "through" }, " ", say("look-up-for"), " ", form(row.form, row.lang));
    return make(
      "li",
      {},
      make(
        "a",
        { href: `${this.#form.dataset.root}${row.page}.html` },
        make(kind === "term" ? "i" : "span", { class: "entry", lang: row.lang || ENGLISH, dir: "auto" }, row.label),
        " ",
        row.said ? make("span", { lang: ENGLISH }, row.said) : make("span", {}, say(`look-up-${kind}`)),
        through,
      ),
    );
  }

  #links() {
    return [...this.#answers.querySelectorAll("a")];
  }

  #key(event) {
    const all = this.#links();
    const at = all.indexOf(document.activeElement);
    if (event.key === "ArrowDown" && at + 1 < all.length) all[at + 1].focus();
    else if (event.key === "ArrowUp" && at >= 0) (all[at - 1] ?? this.#field).focus();
    else if (event.key === "Escape") {
      this.#field.value = "";
      this.#field.focus();
      this.#asked += 1;
      this.#show([], "");
    } else return;
    event.preventDefault();
  }

  async #first(event) {
    event.preventDefault();
    await this.#ask();
    this.#links()[0]?.click();
  }
}

const form = document.querySelector("form.look-up");
if (form) new LookUp(form);
