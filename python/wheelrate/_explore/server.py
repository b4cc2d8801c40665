"""A page in the browser: one bike file, served on this machine to whoever has the token.

Only the loopback address listens unless another is named. The token stands in the path of every address; without it
nothing is said but 404. The host that is asked for has to be this one, which keeps out pages that point a name of
theirs here, and a question has to come from this page and be JSON of bounded size. Answers carry a policy that lets
the page load nothing from elsewhere and run no script but its own two.
"""

from __future__ import annotations

import hmac
import json
import secrets
import socket
import sys
import threading
from contextlib import suppress
from functools import cache
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from typing import Any, cast

from wheelrate._explore.desk import Desk

# What a page sends at its longest: two hundred readings and every point moved, some times over.
_MOST_BYTES = 256 * 1024
# A connection that says nothing for so long is closed.
_PATIENCE_S = 60.0
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
_TYPES = {
    "html": "text/html; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "svg": "image/svg+xml",
}


@cache
def module() -> str:
    """Give the page's one ES module, joined of its parts."""
    parts = (part for part in files("wheelrate._explore").joinpath("module").iterdir() if part.name[0].isdigit())
    return "".join(part.read_text(encoding="utf-8") for part in sorted(parts, key=lambda part: part.name))


@cache
def resource(name: str) -> str:
    """Give a file of the page."""
    return files("wheelrate._explore").joinpath("module", name).read_text(encoding="utf-8")


def _resources() -> dict[str, bytes]:
    named = {name: resource(name) for name in ("page.html", "page.js", "explore.css", "icon.svg")}
    found = {"": named.pop("page.html"), "explore.js": module(), **named}
    return {name: text.encode() for name, text in found.items()}


class Server(ThreadingHTTPServer):
    """Serves one desk; `address` is where its page is."""

    daemon_threads = True

    def __init__(self, path: Path, *, units: str = "metric", host: str = "127.0.0.1", port: int = 0) -> None:
        self.token = secrets.token_urlsafe(24)
        self.desk = Desk(path=path, units=units)
        self.resources = _resources()
        # A bike is worked on by one thread at a time: the page asks one question at a time anyway.
        self.at_work = threading.Lock()
        self.address_family = socket.AF_INET6 if ":" in host else socket.AF_INET
        super().__init__((host, port), _Handler)
        port = self.server_address[1]
        shown = f"[{host}]" if ":" in host else host
        names = {shown, "localhost"} if host in ("127.0.0.1", "::1") else {shown}
        self.hosts = {f"{name}:{port}" for name in names}
        self.anywhere = host in ("0.0.0.0", "::")
        self.address = f"http://{shown}:{port}/{self.token}/"

    def seen_from_elsewhere(self) -> str:
        """Give the address under which another machine sees the page, where this one listens to all."""
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            # Nothing is sent: it only chooses the network that would be used, to an address kept for examples.
            probe.connect(("192.0.2.1", 9))
            here = probe.getsockname()[0]
        return f"http://{here}:{self.server_address[1]}/{self.token}/"

    def knows(self, host: str | None) -> bool:
        """Say whether a request is meant for this server: by its address, or by any number where it hears all."""
        if host is None:
            return False
        return host in self.hosts or (self.anywhere and _is_number(host.rsplit(":", 1)[0]))

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Let a browser go that went away; anything else is shown."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


def _is_number(host: str) -> bool:
    """Say whether a host is an address and not a name, which anybody can point here."""
    try:
        socket.inet_pton(socket.AF_INET6 if ":" in host else socket.AF_INET, host.strip("[]"))
    except OSError:
        return False
    return True


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server_version, sys_version = "wheelrate", ""
    disable_nagle_algorithm = True
    timeout = _PATIENCE_S

    @property
    def _of(self) -> Server:
        return cast(Server, self.server)

    def do_GET(self) -> None:
        """Give a file of the page."""
        name = self._asked()
        if name is None:
            return
        body = self._of.resources.get(name)
        if body is None:
            self._refuse(HTTPStatus.NOT_FOUND, "there is no such page")
        else:
            self._answer(HTTPStatus.OK, _TYPES[name.rpartition(".")[2] or "html"], body)

    def do_POST(self) -> None:
        """Answer a question of the page."""
        name = self._asked()
        if name is None:
            return
        kind = name.removeprefix("ask/")
        length = self.headers.get("Content-Length", "")
        if self.headers.get("Origin") not in {f"http://{self.headers['Host']}"}:
            self._refuse(HTTPStatus.FORBIDDEN, "the question comes from another page")
        elif self.headers.get_content_type() != "application/json":
            self._refuse(HTTPStatus.UNSUPPORTED_MEDIA_TYPE, "wanted JSON")
        elif not length.isdecimal():
            self._refuse(HTTPStatus.LENGTH_REQUIRED, "wanted the length of the question")
        elif int(length) > _MOST_BYTES:
            self._refuse(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, f"wanted {_MOST_BYTES} bytes at most")
        elif kind == name or kind not in ("start", "answer", "preview", "save"):
            self._refuse(HTTPStatus.NOT_FOUND, "there is no such question")
        else:
            self._work(kind, self.rfile.read(int(length)))

    def _work(self, kind: str, body: bytes) -> None:
        try:
            question = json.loads(body)
        except (ValueError, RecursionError):
            self._refuse(HTTPStatus.BAD_REQUEST, "wanted JSON")
            return
        with self._of.at_work:
            try:
                found: Any = self._of.desk.ask(kind, question)
            except OSError as error:
                found = {"faults": [{"field": "version", "message": f"the bike file: {error.strerror or error}"}]}
            except UnicodeDecodeError:
                found = {"faults": [{"field": "version", "message": "the bike file is not UTF-8 text"}]}
        page = json.dumps(found, ensure_ascii=False, allow_nan=False).encode()
        self._answer(HTTPStatus.OK, "application/json", page)

    def _asked(self) -> str | None:
        """Find what is asked for under the token; anything else is refused, and the connection closed."""
        if not self._of.knows(self.headers.get("Host")):
            self._refuse(HTTPStatus.FORBIDDEN, "this is not the host that was asked for")
            return None
        _, token, *rest = self.path.split("?", 1)[0].split("/", 2) if self.path.count("/") > 1 else ("", "")
        if not rest or not hmac.compare_digest(token.encode(), self._of.token.encode()):
            self._refuse(HTTPStatus.NOT_FOUND, "the address lacks its token: `wheelrate open` prints the whole of it")
            return None
        return rest[0]

    def _refuse(self, status: HTTPStatus, why: str) -> None:
        # What was sent along is not read: nothing may be mistaken for a next request.
        self.close_connection = True
        self._answer(status, "text/plain; charset=utf-8", why.encode())

    def _answer(self, status: HTTPStatus, kind: str, body: bytes) -> None:
        self.send_response(status)
        headers = {
            "Content-Type": kind,
            "Content-Length": str(len(body)),
            "Content-Security-Policy": _POLICY,
            "Cache-Control": "no-store",
            "Referrer-Policy": "no-referrer",
            "X-Content-Type-Options": "nosniff",
            "Cross-Origin-Resource-Policy": "same-origin",
            "Cross-Origin-Opener-Policy": "same-origin",
        }
        if self.close_connection:
            headers["Connection"] = "close"
        for name, value in headers.items():
            self.send_header(name, value)
        self.end_headers()
        # A window that is closed while its answer is worked out wants it no more.
        with suppress(ConnectionError):
            self.wfile.write(body)

    def log_message(self, *_: Any) -> None:
        """Keep quiet: the address would print the token with every request."""
