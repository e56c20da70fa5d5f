// The desk: a lettering typed into the lower margin is read while it is typed. Everything happens in this page.

import { glossed } from "./desk/gloss.js";
import { Margin } from "./desk/margin.js";
import { Names } from "./desk/names.js";
import { makersLike, makersTold } from "./desk/makers.js";
import { restTold, statementsTold } from "./desk/told.js";
import { asCsv, asJson, asText } from "./desk/written.js";
import { Shards } from "./look-up/shards.js";
import { copied } from "./page/copy.js";
import { given } from "./page/given.js";
import { keepForOffline } from "./page/keep.js";
import { say } from "./page/texts.js";
import { Fault } from "./reader/fault.js";
import { letteringFrom } from "./reader/letterings.js";
import { Reader } from "./reader/reader.js";

const SPOKEN_AFTER = 900; // milliseconds without a key before the result is told to those who listen

const ASKED_AFTER = 150; // before the authority is asked who bears such a name

class Desk {
  #form;
  #section;
  #margin;
  #reader = null;
  #names = null;
  #record = null;
  #reading = null;
  #telling = 0;
  #asking = 0;
  #shards = new Shards();

  constructor(form, section) {
    this.#form = form;
    this.#section = section;
    this.#margin = new Margin(form);
    form.addEventListener("input", () => this.#changed());
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("reset", () => setTimeout(() => this.#changed()));
    for (const button of section.querySelectorAll("button[data-copy]")) {
      button.addEventListener("click", () => this.#copy(button.dataset.copy));
    }
    addEventListener("hashchange", () => this.#fromLink());
    form.hidden = false;
    for (const part of document.querySelectorAll(".scripted")) part.hidden = false;
    document.querySelector(".desk .signatures").hidden = true;
    if (!this.#fromLink()) this.#later();
  }

  /** Loads the reader while nobody waits for it. */
  #later() {
    (globalThis.requestIdleCallback ?? setTimeout)(() => this.#load().catch(() => {}));
  }

  async #load() {
    if (this.#reader) return;
    const [compiled, labels] = await Promise.all([given("reader", "data/reader.js"), given("labels", "data/labels.js")]);
    if (this.#reader) return;
    this.#names = new Names(labels, new URL(this.#form.dataset.root || "./", location.href).href);
    this.#reader = new Reader(compiled);
    this.#reader.read(letteringFrom({ lines: [{ text: "A. B. sculp." }] })); // the first reading warms the engine
  }

  #fromLink() {
    if (!this.#margin.fill(location.hash.slice(1))) return false;
    this.#changed();
    return true;
  }

  #changed() {
    for (const field of this.#margin.places) fit(field);
    if (this.#reader) this.#read();
    else this.#load().then(() => this.#read(), () => this.#fault(say("not-loaded")));
  }

  #read() {
    const record = this.#margin.record();
    this.#section.hidden = record.lines.length === 0;
    document.body.classList.toggle("at-work", record.lines.length > 0);
    if (!record.lines.length) return;
    try {
      this.#reading = this.#reader.read(letteringFrom(record)).asDict();
    } catch (error) {
      if (!(error instanceof Fault)) throw error;
      this.#fault(error.message);
      return;
    }
    this.#record = record;
    this.#show();
  }

  #show() {
    const [record, reading, names] = [this.#record, this.#reading, this.#names];
    this.#part(".glossed", ...glossed(record, reading, names));
    this.#part(".statements", ...statementsTold(reading, names));
    const rest = restTold(reading, names);
    this.#part(".rest", ...rest);
    const nothing = !reading.statements.length && !rest.length;
    this.#part(".fault", nothing ? say("nothing") : "");
    this.#section.querySelector(".copying").hidden = nothing;
    this.#section.querySelector("a.link").href = `#${this.#margin.fragment()}`;
    this.#part(".copied", "");
    clearTimeout(this.#telling);
    this.#telling = setTimeout(() => this.#part(".count", this.#summary()), SPOKEN_AFTER);
    clearTimeout(this.#asking);
    if (this.#form.dataset.makers !== undefined) this.#asking = setTimeout(() => this.#askForMakers(reading), ASKED_AFTER);
  }

  /** Puts beneath each statement the makers of the authority who bear such a name. */
  async #askForMakers(reading) {
    for (const [index, statement] of reading.statements.entries()) {
      const makers = await makersLike(statement.name, this.#shards).catch(() => []);
      if (reading !== this.#reading) return; // something else has been typed meanwhile
      const line = makersTold(makers, this.#form.dataset.root);
      if (line) this.#section.querySelectorAll(".statement .noted > div:first-child")[index]?.append(line);
    }
  }

  #summary() {
    const { statements } = this.#reading;
    const all = statements.length === 1 ? say("one-statement") : say("statements", { number: statements.length });
    const doubtful = statements.filter((each) => each.doubtful).length;
    return doubtful ? `${all} ${say("of-them-doubtful", { number: doubtful })}` : all;
  }

  #fault(message) {
    this.#section.hidden = false;
    for (const name of [".glossed", ".statements", ".rest"]) this.#part(name);
    this.#section.querySelector(".copying").hidden = true;
    this.#part(".fault", message);
  }

  #part(name, ...content) {
    this.#section.querySelector(name).replaceChildren(...content);
  }

  async #copy(form) {
    const text = {
      text: () => asText(this.#record, this.#reading, this.#names),
      csv: () => asCsv(this.#reading),
      json: () => asJson(this.#reading),
      link: () => new URL(`#${this.#margin.fragment()}`, location.href).href,
    }[form]();
    this.#part(".copied", say((await copied(text)) ? "copied" : "not-copied"));
  }
}

/** Lets a field be as high as its text. */
function fit(field) {
  field.rows = Math.max(Number(field.dataset.rows) || 1, field.value.split("\n").length);
}

const form = document.querySelector("form.margin");
if (form) new Desk(form, document.querySelector(".reading"));
keepForOffline();
