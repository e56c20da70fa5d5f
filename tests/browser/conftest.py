"""One browser, one published site and one server for all tests of this folder."""

import functools
import http.server
import importlib.util
import os
import shutil
import subprocess
import threading
from pathlib import Path

import pytest

from margent.publishing.publish import publish

HERE = Path(__file__).resolve().parent


def _driver():
    """The module beside this file, which has no package to be imported from."""
    spec = importlib.util.spec_from_file_location("chromium_pipe", HERE / "chromium_pipe.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def browser(chromium, tmp_path_factory):
    running = _driver().Browser(chromium, tmp_path_factory.mktemp("profile"))
    yield running
    running.close()


@pytest.fixture(scope="session")
def published(root, tmp_path_factory):
    """The folder of the site of the checkout, with the invented authority."""
    target = tmp_path_factory.mktemp("published") / "site"
    publish(root / "vocab", root / "site", target, [root / "vocab" / "demo"])
    return target


@pytest.fixture(scope="session")
def site(published):
    """The address of the site as it lies on a disk."""
    return published.as_uri()


class Quiet(http.server.SimpleHTTPRequestHandler):
    """Serves files and says nothing."""

    def log_message(self, format, *arguments):  # noqa: A002 (the name that the library gives)
        pass


class Served:
    """A web server that can be switched off."""

    def __init__(self, folder):
        self._server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=folder))
        self.address = f"http://127.0.0.1:{self._server.server_port}"
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def stop(self):
        self._server.shutdown()
        self._server.server_close()


@pytest.fixture
def served(published):
    server = Served(published)
    yield server
    server.stop()


@pytest.fixture(scope="session")
def axe(tmp_path_factory):
    """The text of axe-core, which looks for barriers; npm brings it in the version that the lock file names."""
    npm = shutil.which("npm")
    message = "npm is not installed"
    if npm:
        folder = tmp_path_factory.mktemp("axe")
        for name in ("package.json", "package-lock.json"):
            shutil.copy(HERE / name, folder)
        command = [npm, "ci", "--no-audit", "--no-fund", "--ignore-scripts", "--prefer-offline"]
        done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=60, check=False)
        if done.returncode == 0:
            return (folder / "node_modules" / "axe-core" / "axe.min.js").read_text(encoding="utf-8")
        message = f"npm could not bring axe-core: {done.stderr.strip()[-200:]}"
    if os.environ.get("CI", "").lower() in {"1", "true"}:
        pytest.fail(message)
    pytest.skip(message)
