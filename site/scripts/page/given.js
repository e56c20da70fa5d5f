// Data that `margent publish` wrote as scripts. A page opened from a disk may load scripts but no data, so both a disk and
// a web server are asked in this one way, and nothing is ever sent: connections are forbidden by the page's own policy.

/** The address of the site's root, from that of the script that runs. */
export const ROOT = new URL("..", document.currentScript.src).href;

// Every script of a page has its own copy of this module; what was loaded is kept once for all of them.
const shelf = (globalThis.margentShelf ??= { data: new Map(), loads: new Map() });
globalThis.margentGive ??= (name, data) => shelf.data.set(name, data);

/** A promise of the data of that name, which lies in the file at `path` below the site's root; each file is loaded once. */
export function given(name, path) {
  if (!shelf.loads.has(name)) {
    const load = new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = ROOT + path;
      script.onload = () => {
        script.remove();
        if (shelf.data.has(name)) resolve(shelf.data.get(name));
        else reject(new Error(`${path} does not hold ${name}`));
      };
      script.onerror = () => {
        script.remove();
        shelf.loads.delete(name); // the next key tries again
        reject(new Error(`${path} could not be loaded`));
      };
      document.head.append(script);
    });
    shelf.loads.set(name, load);
  }
  return shelf.loads.get(name);
}
