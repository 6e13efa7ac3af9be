"""A browser that a test drives over pipes: pages opened from disk, scripts run in them, sizes and media set, pictures taken.

The protocol is the browser's own for its developer tools (Chrome DevTools Protocol), one JSON object at a time, each ended by a zero
byte, read from descriptor 4 and written to descriptor 3. Nothing is listened to on a network.
"""

from __future__ import annotations

import base64
import fcntl
import json
import os
import select
import signal
import time
from pathlib import Path
from typing import Any

from tests.browser_page import FLAGS

WAIT_S = 60.0


class Browser:
    """One run of the browser with one tab. `problems`: what its console and its policy complained about since the page was opened."""

    def __init__(self, program: str, folder: Path) -> None:
        to_read, self._write = os.pipe()
        self._read, to_write = os.pipe()
        # Out of the way of 3 and 4, where the child must find its ends.
        ends = [fcntl.fcntl(end, fcntl.F_DUPFD_CLOEXEC, 10) for end in (to_read, to_write)]
        command = [program, *FLAGS, f"--user-data-dir={folder / 'profile'}", "--remote-debugging-pipe", "about:blank"]
        actions = [(os.POSIX_SPAWN_OPEN, out, os.devnull, os.O_RDWR, 0o600) for out in (0, 1, 2)]
        actions += [(os.POSIX_SPAWN_DUP2, end, place) for place, end in zip((3, 4), ends, strict=True)]
        self._process = os.posix_spawn(program, command, os.environ, file_actions=actions)
        for end in (to_read, to_write, *ends):
            os.close(end)
        self._rest = b""
        self._last = 0
        self._session = ""
        self._loaded = False
        self.problems: list[str] = []
        targets = self.send("Target.getTargets")["targetInfos"]
        page = next(item for item in targets if item["type"] == "page")
        self._session = self.send("Target.attachToTarget", targetId=page["targetId"], flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log"):
            self.send(f"{domain}.enable")
        # Without it nothing in the page has the focus while the window has not.
        self.send("Emulation.setFocusEmulationEnabled", enabled=True)

    def close(self) -> None:
        """End the browser."""
        try:
            self.send("Browser.close")
        except (OSError, AssertionError):
            os.kill(self._process, signal.SIGKILL)
        os.close(self._write)
        os.close(self._read)
        os.waitpid(self._process, 0)

    def send(self, method: str, **parameters: Any) -> dict[str, Any]:
        """One command and its answer."""
        self._last += 1
        message: dict[str, Any] = {"id": self._last, "method": method, "params": parameters}
        if self._session and not method.startswith(("Target.", "Browser.")):
            message["sessionId"] = self._session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._next()
            if answer.get("id") == message["id"]:
                assert "error" not in answer, (method, answer["error"])
                found: dict[str, Any] = answer["result"]
                return found

    def _next(self) -> dict[str, Any]:
        until = time.monotonic() + WAIT_S
        while b"\0" not in self._rest:
            ready, _, _ = select.select([self._read], [], [], max(0.0, until - time.monotonic()))
            assert ready, "the browser does not answer"
            read = os.read(self._read, 1 << 20)
            assert read, "the browser has ended"
            self._rest += read
        data, _, self._rest = self._rest.partition(b"\0")
        found: dict[str, Any] = json.loads(data)
        self._hear(found)
        return found

    def _hear(self, message: dict[str, Any]) -> None:
        method, params = message.get("method"), message.get("params", {})
        if method == "Page.loadEventFired":
            self._loaded = True
        elif method == "Runtime.exceptionThrown":
            details = params["exceptionDetails"]
            self.problems.append(details.get("exception", {}).get("description", details["text"]))
        elif method == "Runtime.consoleAPICalled" and params["type"] in ("error", "warning"):
            self.problems.append(str(params["args"]))
        elif method == "Log.entryAdded" and params["entry"]["level"] in ("error", "warning"):
            self.problems.append(params["entry"]["text"])

    def open(self, page: Path) -> None:
        """Load a page from disk, and wait until it has loaded."""
        self.problems.clear()
        self._loaded = False
        self.send("Page.navigate", url=page.absolute().as_uri())
        while not self._loaded:
            self._next()

    def run(self, expression: str) -> Any:
        """The value of an expression in the page; promises are waited for."""
        answer = self.send("Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in answer, answer["exceptionDetails"]
        return answer["result"].get("value")

    def size(self, width: int, height: int = 900) -> None:
        """The width and height of the window's inside, CSS px."""
        self.send("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False)
        self.send("Emulation.setScrollbarsHidden", hidden=True)

    def media(self, **features: str) -> None:
        """Media features such as `prefers_color_scheme="dark"`; `kind` is `screen` or `print`, as the browser likes where empty."""
        kind = features.pop("kind", "")
        named = [{"name": name.replace("_", "-"), "value": value} for name, value in features.items()]
        self.send("Emulation.setEmulatedMedia", media=kind, features=named)

    def scripts(self, on: bool) -> None:
        """Whether pages may run scripts."""
        self.send("Emulation.setScriptExecutionDisabled", value=not on)

    def key(self, name: str) -> None:
        """Press and let go a key, named as in the DOM."""
        codes = {
            "ArrowRight": 39,
            "ArrowLeft": 37,
            "PageUp": 33,
            "PageDown": 34,
            "End": 35,
            "Home": 36,
            "Tab": 9,
            "Enter": 13,
            " ": 32,
        }
        for kind in ("rawKeyDown", "keyUp"):
            self.send("Input.dispatchKeyEvent", type=kind, key=name, code=name, windowsVirtualKeyCode=codes[name])

    def picture(self, path: Path) -> None:
        """The whole page as PNG."""
        box = self.send("Page.getLayoutMetrics")["cssContentSize"]
        clip = {"x": 0, "y": 0, "width": box["width"], "height": box["height"], "scale": 1}
        data = self.send("Page.captureScreenshot", captureBeyondViewport=True, clip=clip)["data"]
        path.write_bytes(base64.b64decode(data))

    def printed(self, path: Path) -> None:
        """The page as it is printed, as PDF."""
        data = self.send("Page.printToPDF", printBackground=True, preferCSSPageSize=True)["data"]
        path.write_bytes(base64.b64decode(data))
