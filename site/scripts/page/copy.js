// Copying a text, also where the browser offers no clipboard.

/** A promise of whether the text was copied. */
export async function copied(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const field = document.createElement("textarea");
    field.value = text;
    field.className = "unseen";
    const before = document.activeElement;
    document.body.append(field);
    field.select();
    let done = false;
    try {
      done = document.execCommand("copy");
    } catch {
      done = false;
    }
    field.remove();
    before?.focus();
    return done;
  }
}
