// Keeps the site for use without a network. Only the desk and the finder of marks ask for it, for it loads a megabyte.

import { ROOT } from "./given.js";

/** Asks the browser to keep the desk and the look-up; over plain http, and from a disk, browsers do not offer it. */
export function keepForOffline() {
  if (location.protocol.startsWith("http")) navigator.serviceWorker?.register(`${ROOT}offline.js`).catch(() => {});
}
