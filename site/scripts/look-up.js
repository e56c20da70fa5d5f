// Looks up a word as it stands on a print, in the list that `margent publish` writes to data/look-up.json.
// Nothing is sent anywhere: the list is loaded once, when somebody begins to type.
"use strict";

(() => {
  const MOST = 12;
  const form = document.querySelector(".look-up");
  if (!form) return;
  const root = form.dataset.root;
  const field = form.querySelector("input");
  const count = form.querySelector(".count");
  const answers = form.querySelector(".answers");
  let list = null;
  let loading = null;

  // Pages opened from a disk may load scripts but no data, so the same list is there as a script too.
  globalThis.margentLookUp = (data) => {
    list = data;
    list.keys = Object.keys(data.forms);
    list.whole = data.words.map((word) => folded(word[0]));
  };

  function load() {
    if (list) return Promise.resolve();
    if (loading) return loading;
    loading = location.protocol === "file:" ? loadScript() : loadData();
    loading.catch(() => {
      loading = null;
      count.textContent = "The list of words could not be loaded.";
    });
    return loading;
  }

  async function loadData() {
    const answer = await fetch(`${root}data/look-up.json`);
    if (!answer.ok) throw new Error(String(answer.status));
    globalThis.margentLookUp(await answer.json());
  }

  function loadScript() {
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = `${root}data/look-up.js`;
      script.onload = resolve;
      script.onerror = reject;
      document.head.append(script);
    });
  }

  // The same letters as margent/publishing/folding.py: by the table in the list, not by the browser's own rules.
  function folded(text) {
    let out = "";
    for (const char of text) {
      if (Object.hasOwn(list.fold, char)) out += list.fold[char];
      else if (/[a-z0-9]/.test(char)) out += char;
      else if (char === "&") out += " & ";
      else if (!/['’ʼ\u0300-\u036f]/.test(char)) out += " ";
    }
    return out.trim().replace(/ +/g, " ");
  }

  // Exact forms first, then truncations that the word allows, then forms that begin so.
  function found(query) {
    const places = new Set(Object.hasOwn(list.forms, query) ? list.forms[query] : []);
    list.words.forEach((word, place) => {
      const shortest = word[3];
      if (shortest && query.startsWith(shortest) && list.whole[place].startsWith(query)) places.add(place);
    });
    for (const key of list.keys) {
      if (places.size >= MOST) break;
      if (key.startsWith(query)) list.forms[key].forEach((place) => places.add(place));
    }
    return [...places].slice(0, MOST);
  }

  function show() {
    const query = list ? folded(field.value) : "";
    answers.replaceChildren();
    answers.hidden = true;
    if (!query) {
      count.textContent = "";
      return;
    }
    const places = found(query);
    count.textContent = places.length
      ? `${places.length === MOST ? "The first " : ""}${places.length} ${places.length === 1 ? "answer" : "answers"}`
      : "Not in the vocabulary. It may be a name.";
    for (const place of places) {
      const [text, language, slug, , says] = list.words[place];
      const link = document.createElement("a");
      link.href = `${root}term/${slug}.html`;
      const word = document.createElement("i");
      word.className = "form";
      word.lang = language;
      word.dir = "auto";
      word.textContent = text;
      const said = document.createElement("span");
      said.textContent = says.slice(0, 4).join(", ");
      link.append(word, " ", said);
      const item = document.createElement("li");
      item.append(link);
      answers.append(item);
    }
    answers.hidden = places.length === 0;
  }

  const links = () => [...answers.querySelectorAll("a")];

  form.addEventListener("keydown", (event) => {
    const all = links();
    const at = all.indexOf(document.activeElement);
    if (event.key === "ArrowDown" && at + 1 < all.length) all[at + 1].focus();
    else if (event.key === "ArrowUp" && at >= 0) (all[at - 1] ?? field).focus();
    else if (event.key === "Escape") {
      field.value = "";
      field.focus();
      show();
    } else return;
    event.preventDefault();
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    load().then(() => {
      show();
      links()[0]?.click();
    }, () => {});
  });
  field.addEventListener("input", () => load().then(show, () => {}));
  field.addEventListener("focus", load, { once: true });
  form.hidden = false;
})();
