// Elements made from plain text: nothing that somebody typed or that stands in an entry is ever taken for markup.

/** An element with attributes and children; a child is an element or a text, null is left out. */
export function make(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== null && value !== undefined && value !== false) element.setAttribute(key, value === true ? "" : value);
  }
  element.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined));
  return element;
}

/** The items with `between` before each but the first. */
export function joined(items, between = ", ") {
  return items.flatMap((item, index) => (index ? [between, item] : [item]));
}
