"""What keeps the page private to its user: loopback, its own host and origin only, a key, bounded bodies, a strict policy.

A page of another site can reach a server on loopback through the browser. It can't name our host (checked against DNS
rebinding), its requests carry its own origin, and it doesn't know the key that the opened address carried.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES = 2_000_000
"""A job is 1 MB at most; JSON may write some of its letters as six."""

COOKIE = "dovelayout"

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; "
    "form-action 'none'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = (
    (b"content-security-policy", POLICY.encode("ascii")),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


class Guard:
    """Lets through what the opened page itself asks, and adds the headers that keep it so.

    `hosts` are the names the server answers to, with their port; `key` is what the opened address carries.
    """

    def __init__(self, app: ASGIApp, *, hosts: frozenset[str], key: str) -> None:
        self._app = app
        self._hosts = hosts
        self._key = key

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
            await send(message)

        headers = {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}
        if self._opens(scope):
            await _answer(send_guarded, 303, b"", ((b"location", b"/"), (b"set-cookie", self._cookie())))
            return
        refused = self._refused(scope, headers)
        if refused is not None:
            status, why = refused
            await _answer(send_guarded, status, json.dumps({"error": why}).encode("ascii"))
            return
        await self._app(scope, _bounded(receive), send_guarded)

    def _opens(self, scope: Scope) -> bool:
        """The address as it was opened: it carries the key, and is swapped for a cookie."""
        if scope["method"] != "GET" or scope["path"] != "/" or not scope["query_string"]:
            return False
        headers = dict(scope["headers"])
        given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
        return headers.get(b"host", b"").decode("latin-1") in self._hosts and self._is_key(given)

    def _is_key(self, given: str) -> bool:
        return secrets.compare_digest(given.encode("utf-8"), self._key.encode("utf-8"))

    def _cookie(self) -> bytes:
        return f"{COOKIE}={self._key}; HttpOnly; SameSite=Strict; Path=/".encode("ascii")

    def _refused(self, scope: Scope, headers: Mapping[str, str]) -> tuple[int, str] | None:
        """Why a request isn't answered, or None."""
        if headers.get("host") not in self._hosts:
            return 403, "this page answers on this machine only"
        if scope["method"] not in ("GET", "HEAD", "POST"):
            return 405, "not offered"
        origin = headers.get("origin")
        if origin is not None and origin.removeprefix("http://") not in self._hosts:
            return 403, "asked by another site"
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return 403, "asked by another site"
        if scope["method"] == "POST":
            if origin is None:
                return 403, "no origin given"
            if headers.get("content-type", "").partition(";")[0].strip() != "application/json":
                return 415, "JSON is wanted"
            length = headers.get("content-length", "")
            if length and (not length.isdecimal() or int(length) > MOST_BYTES):
                return 413, f"too large: {MOST_BYTES // 1_000_000} MB is the most"
        if not self._is_key(_cookie_of(headers)):
            return 403, "open the page from the address that dovelayout printed"
        return None


class TooLarge(Exception):
    """A body that goes on beyond what is read."""


def _bounded(receive: Receive) -> Receive:
    """A body that says nothing of its length, or lies about it, is cut off as well."""
    got = 0

    async def counted() -> Message:
        nonlocal got
        message = await receive()
        got += len(message.get("body", b""))
        if got > MOST_BYTES:
            raise TooLarge
        return message

    return counted


def _cookie_of(headers: Mapping[str, str]) -> str:
    try:
        morsel = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return ""
    return "" if morsel is None else morsel.value


async def _answer(send: Send, status: int, body: bytes, extra: tuple[tuple[bytes, bytes], ...] = ()) -> None:
    length = str(len(body)).encode("ascii")
    headers = [(b"content-type", b"application/json"), (b"content-length", length), *extra]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
