// The words of the interface, which stand in the page (in its language) inside <template class="texts">, one
// element each.

const texts = new Map();
for (const template of document.querySelectorAll("template.texts")) {
  for (const element of template.content.querySelectorAll("[data-text]")) {
    texts.set(element.dataset.text, element.textContent.trim().replace(/\s+/g, " "));
  }
}

/** The text of that name, with {blanks} filled; a missing one shows as its name, so that it is seen. */
export function say(name, values = {}) {
  let text = texts.get(name) ?? name;
  for (const [key, value] of Object.entries(values)) text = text.replaceAll(`{${key}}`, value);
  return text;
}

/** The language of the page. */
export const LANGUAGE = document.documentElement.lang || "en";
