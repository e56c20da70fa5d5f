// The letters of marks, compared without order: I and J, U and V are one letter, as on old plates, and W is two Vs.

/** The letters of a text, in capitals, as a list. */
export function lettersOf(text) {
  const plain = text.normalize("NFD").toUpperCase().replaceAll("W", "VV").replaceAll("J", "I").replaceAll("U", "V");
  return Array.from(plain).filter((char) => /\p{L}|\p{N}/u.test(char));
}

/** How alike two lists of letters are, from 0 to 1: twice the letters they share, to all that both have. */
export function alike(one, other) {
  const rest = [...other];
  let shared = 0;
  for (const letter of one) {
    const at = rest.indexOf(letter);
    if (at >= 0) {
      rest.splice(at, 1);
      shared += 1;
    }
  }
  return one.length + other.length ? (2 * shared) / (one.length + other.length) : 0;
}
