"""A Chromium without a screen, driven by its own protocol over two pipes.

Pipes need neither a port nor a driver program nor a library: one JSON object a message, ended by a zero byte.  What a
real reader does (typing, printing, a narrow window, scripts switched off) the protocol does too.
"""

import base64
import json
import os
import select
import subprocess
import sys
import time
from contextlib import contextmanager, suppress

SWITCHES = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-extensions",
    "--disable-dev-shm-usage",
    "--hide-scrollbars",
    "--remote-debugging-pipe",
)

# Chromium reads file descriptor 3 and writes 4; a fresh Python puts the ends of our pipes there, whatever their numbers.
SHIM = """
import fcntl, os, sys
down, up = int(sys.argv[1]), int(sys.argv[2])
down, up = (fcntl.fcntl(each, fcntl.F_DUPFD, 10) for each in (down, up))
os.dup2(down, 3); os.dup2(up, 4)
os.execvp(sys.argv[3], sys.argv[3:])
"""

PATIENCE = 60.0


class BrowserError(Exception):
    """The browser said that something is wrong, or said nothing in time."""


class Browser:
    """One running browser; `page()` opens a page of its own in it."""

    def __init__(self, program, profile):
        down, self._to = os.pipe()
        self._from, up = os.pipe()
        command = [sys.executable, "-c", SHIM, str(down), str(up), program, *SWITCHES, f"--user-data-dir={profile}"]
        self._process = subprocess.Popen(
            command, pass_fds=(down, up), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        os.close(down)
        os.close(up)
        self._buffer = b""
        self._number = 0
        self.events = []

    def close(self):
        with suppress(BrowserError, OSError):
            self.send("Browser.close")
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait(10)
        os.close(self._to)
        os.close(self._from)

    def send(self, method, session=None, **params):
        """The answer to one command; what happens meanwhile is kept in `events`."""
        self._number += 1
        message = {"id": self._number, "method": method, "params": params}
        if session:
            message["sessionId"] = session
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self._to, data) :]
        deadline = time.monotonic() + PATIENCE
        while True:
            answer = self._next(deadline)
            if answer is None:
                msg = f"no answer to {method}"
                raise BrowserError(msg)
            if answer.get("id") == self._number:
                if "error" in answer:
                    msg = f"{method}: {answer['error']['message']}"
                    raise BrowserError(msg)
                return answer["result"]
            if "method" in answer:
                self.events.append(answer)

    def wait_for(self, method, session):
        """The next event of that name, which may have come already."""
        deadline = time.monotonic() + PATIENCE
        while True:
            for event in self.events:
                if event["method"] == method and event.get("sessionId") == session:
                    self.events.remove(event)
                    return event["params"]
            answer = self._next(deadline)
            if answer is None:
                msg = f"{method} did not happen"
                raise BrowserError(msg)
            if "method" in answer:
                self.events.append(answer)

    def _next(self, deadline):
        """The next message, or None when the time is over or the browser is gone."""
        while b"\0" not in self._buffer:
            ready, _, _ = select.select([self._from], [], [], max(0.0, deadline - time.monotonic()))
            data = os.read(self._from, 1 << 20) if ready else b""
            if not data:
                return None
            self._buffer += data
        message, _, self._buffer = self._buffer.partition(b"\0")
        return json.loads(message)

    @contextmanager
    def page(self, *, width=1280, height=900, dark=False, scripts=True, still=False):
        """A page of that size, in a profile of its own."""
        context = self.send("Target.createBrowserContext")["browserContextId"]
        target = self.send("Target.createTarget", url="about:blank", browserContextId=context)["targetId"]
        session = self.send("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        try:
            yield Page(self, session, width, height, dark, scripts, still)
        finally:
            self.send("Target.disposeBrowserContext", browserContextId=context)
            self.events.clear()


class Page:
    """One page: what it shows, what it asks for, and what it complains of."""

    def __init__(self, browser, session, width, height, dark, scripts, still):
        self._browser = browser
        self._session = session
        for domain in ("Page", "Network", "Log", "Runtime", "DOM", "Accessibility"):
            self.send(f"{domain}.enable")
        self.send("Emulation.setScriptExecutionDisabled", value=not scripts)
        self._still = still
        self.colours(dark=dark)
        self.resize(width, height)

    def send(self, method, **params):
        return self._browser.send(method, session=self._session, **params)

    def colours(self, *, dark):
        """Nothing comes back: the page is shown to somebody who wants it dark, or light."""
        features = [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]
        features += [{"name": "prefers-reduced-motion", "value": "reduce"}] if self._still else []
        self.send("Emulation.setEmulatedMedia", features=features)

    def resize(self, width, height):
        self.send("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False)

    def open(self, address):
        self._browser.events.clear()
        found = self.send("Page.navigate", url=str(address))
        if "errorText" in found:
            msg = f"{address}: {found['errorText']}"
            raise BrowserError(msg)
        self._browser.wait_for("Page.loadEventFired", self._session)
        return self

    def ask(self, expression):
        """The value of a JavaScript expression, waited for where it is a promise."""
        found = self.send("Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in found:
            msg = found["exceptionDetails"].get("exception", {}).get("description", str(found["exceptionDetails"]))
            raise BrowserError(msg)
        return found["result"].get("value")

    def until(self, expression):
        """The value of the expression as soon as it is true."""
        deadline = time.monotonic() + PATIENCE
        while time.monotonic() < deadline:
            value = self.ask(expression)
            if value:
                return value
            time.sleep(0.05)
        msg = f"never came true: {expression}"
        raise BrowserError(msg)

    def press(self, key, modifiers=0):
        """One key, by its name in the standard for key events."""
        codes = {"Tab": 9, "Enter": 13, "Escape": 27, "ArrowUp": 38, "ArrowDown": 40}
        more = {"text": "\r"} if key == "Enter" else {}
        about = {"key": key, "code": key, "windowsVirtualKeyCode": codes[key], "modifiers": modifiers}
        self.send("Input.dispatchKeyEvent", type="keyDown", **about, **more)
        self.send("Input.dispatchKeyEvent", type="keyUp", **about)

    def type(self, text):
        self.send("Input.insertText", text=text)

    def visible_text(self):
        """The words of the page as assistive technology is given them, which works without scripts too."""
        nodes = self.send("Accessibility.getFullAXTree")["nodes"]
        return " ".join(
            node["name"]["value"]
            for node in nodes
            if node.get("role", {}).get("value") == "StaticText" and not node.get("ignored") and "name" in node
        )

    def complaints(self):
        """What the console was told: faults of scripts, refusals by the content security policy, failed requests."""
        self.send("Page.getNavigationHistory")  # everything before this has arrived
        found = []
        for event in self._browser.events:
            if event.get("sessionId") != self._session:
                continue
            params = event["params"]
            if event["method"] == "Log.entryAdded" and params["entry"]["level"] in ("error", "warning"):
                found.append(params["entry"]["text"] + " " + params["entry"].get("url", ""))
            elif event["method"] == "Runtime.exceptionThrown":
                found.append(params["exceptionDetails"].get("exception", {}).get("description", "exception"))
            elif event["method"] == "Runtime.consoleAPICalled" and params["type"] in ("error", "warning"):
                found.append(str(params["args"]))
            elif event["method"] == "Network.loadingFailed" and not params.get("canceled"):
                found.append(params["errorText"])
        return found

    def requests(self):
        """The addresses that the page has asked for."""
        self.send("Page.getNavigationHistory")
        return [
            event["params"]["request"]["url"]
            for event in self._browser.events
            if event["method"] == "Network.requestWillBeSent" and event.get("sessionId") == self._session
        ]

    def picture(self, path, *, whole=True):
        """Nothing comes back: the page is written to a PNG file, as far as it goes."""
        data = self.send("Page.captureScreenshot", format="png", captureBeyondViewport=whole)["data"]
        path.write_bytes(base64.b64decode(data))

    def printed(self, path):
        """Nothing comes back: the page is written as a PDF, as it would be printed on A4."""
        data = self.send(
            "Page.printToPDF", paperWidth=8.27, paperHeight=11.69, preferCSSPageSize=True, printBackground=True
        )
        path.write_bytes(base64.b64decode(data["data"]))
