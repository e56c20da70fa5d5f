"""How long after a key the desk has told what stands there: the longest of many keys, in a browser without a screen.

margent publish --to public --authority demo && python tests/speed/desk.py public
"""

import importlib.util
import sys
import tempfile
from pathlib import Path

LETTERING = (
    "A. Verrou inuentor. B. Holm sculpsit et excudit Antuerpiae\nCum priuilegio Regis 1612\n"
    "Illustrissimo Domino Cornelio Vosmeer patrono suo D.D.D. Petrus Verrou\n"
    "Quid iuvat aspectis si non licet amplius uti"
)

# A key is an `input` event; what it changes is on the sheet when the next frame but one begins.
TYPE = """(async (text) => {
  const field = document.getElementById('below');
  const frame = () => new Promise(requestAnimationFrame);
  const times = [];
  for (let length = 1; length <= text.length; length += 1) {
    field.value = text.slice(0, length);
    await frame();
    const began = performance.now();
    field.dispatchEvent(new Event('input', { bubbles: true }));
    const read = performance.now() - began;
    await frame();
    await frame();
    times.push([performance.now() - began, read]);
  }
  return times;
})"""


def main():
    spec = importlib.util.spec_from_file_location(
        "chromium_pipe", Path(__file__).resolve().parent.parent / "browser" / "chromium_pipe.py"
    )
    driver = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(driver)
    with tempfile.TemporaryDirectory() as profile:
        browser = driver.Browser("chromium", profile)
        with browser.page() as page:
            page.open((Path(sys.argv[1]).resolve() / "index.html").as_uri())
            page.until("!document.querySelector('form.margin').hidden")
            page.ask(f"{TYPE}('B. Holm')")  # the reader is loaded now, which happens once
            page.until("document.querySelector('.glossed').textContent !== ''")
            times = page.ask(f"{TYPE}({LETTERING!r})")
        browser.close()
    shown, read = sorted(each[0] for each in times), sorted(each[1] for each in times)
    half = len(times) // 2
    sys.stdout.write(f"{len(times)} keys; read and written: median {read[half]:.0f} ms, longest {read[-1]:.0f} ms\n")
    sys.stdout.write(f"until the second frame after: median {shown[half]:.0f} ms, longest {shown[-1]:.0f} ms\n")


if __name__ == "__main__":
    main()
