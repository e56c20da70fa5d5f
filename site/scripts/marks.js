// The finder of marks: letters in any order, what is shown, how the letters stand, and a year, as far as they are known.

import { Names } from "./desk/names.js";
import { Marks } from "./marks/finding.js";
import { comparedRows, toldOf } from "./marks/files.js";
import { ROOT, given } from "./page/given.js";
import { keepForOffline } from "./page/keep.js";
import { joined, make } from "./page/make.js";
import { LANGUAGE, say } from "./page/texts.js";

const MOST = 24;

class Finder {
  #form;
  #found;
  #count;
  #marks = null;
  #names = null;
  #starts = [];
  #asking = 0;

  constructor(form) {
    this.#form = form;
    this.#found = document.querySelector(".marks-found");
    this.#count = form.querySelector(".count");
    form.addEventListener("input", () => this.#asked());
    form.addEventListener("reset", () => setTimeout(() => this.#asked()));
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("focusin", () => this.#load().catch(() => {}), { once: true });
    form.hidden = false;
  }

  async #load() {
    if (this.#marks) return;
    const [data, devices, labels] = await Promise.all([given("marks", "data/marks.js"), given("marks devices", "data/marks/devices.js"), given("labels", "data/labels.js")]);
    const rows = await comparedRows(data.compared);
    this.#starts = data.told;
    this.#names = new Names(labels, new URL(this.#form.dataset.root || "./", location.href).href);
    this.#marks = new Marks(data, devices, rows);
  }

  async #asked() {
    const asking = ++this.#asking;
    try {
      await this.#load();
    } catch {
      this.#count.textContent = say("look-up-not-loaded");
      return;
    }
    const value = (name) => this.#form.elements.namedItem(name).value;
    const asked = { letters: value("letters"), device: value("device"), arrangement: value("arrangement"), date: value("date").trim() };
    const only = !asked.letters.trim() && !asked.device.trim() && !asked.arrangement.trim();
    const empty = Object.values(asked).every((text) => !text.trim());
    document.body.classList.toggle("marks-asked", !empty);
    let found = [];
    try {
      found = empty ? [] : this.#marks.find(asked);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.#show([], say("mark-no-date"));
      return;
    }
    let shown;
    try {
      shown = await Promise.all(found.slice(0, MOST).map(async (each) => ({ ...each, mark: await toldOf(each.number, this.#starts) })));
    } catch {
      this.#show([], say("look-up-not-loaded"));
      return;
    }
    if (asking !== this.#asking) return; // something else has been asked meanwhile
    this.#show(shown, empty ? "" : only ? say("mark-more") : found.length ? say("mark-found", { number: found.length }) : say("mark-none"));
  }

  #show(found, message) {
    this.#count.textContent = message;
    this.#found.replaceChildren(...found.map((each) => this.#figure(each)));
  }

  #figure({ mark, because }) {
    const tree = this.#form.dataset.root;
    const page = `${tree}${mark.page}.html`;
    const picture = mark.drawing
      ? make("a", { class: "drawn", href: page, tabindex: "-1", "aria-hidden": "true" }, make("img", { src: ROOT + mark.drawing, width: 120, height: 120, alt: "" }))
      : null;
    const whom = (mark.whom ?? []).map(([path, name]) => (path ? make("a", { href: `${tree}${path}.html` }, name) : name));
    const states = (mark.states ?? []).map((role) => this.#names.link("role", role));
    return make(
      "figure",
      { class: "mark" },
      picture,
      make(
        "figcaption",
        {},
        make("p", {}, make("a", { href: page, dir: "auto" }, mark.label)),
        make("p", { class: "why", lang: LANGUAGE === "en" ? null : "en" }, because.join("; "), "."),
        make("p", {}, say(`kind-${mark.kind}`), whom.length ? [": ", joined(whom, "; ")] : null, "."),
        states.length ? make("p", {}, say("mark-states"), " ", joined(states), ".") : null,
      ),
    );
  }
}

const form = document.querySelector("form.marks-wanted");
if (form) new Finder(form);
keepForOffline();
