"""The local page's server: loopback only, stateless but for the folder it was opened on.

The browser holds the text of the job; every request carries it and gets back what the rooms make of it. One request is
computed at a time in a thread, so that a slow one doesn't stop the others from being told to wait.
"""

from __future__ import annotations

import asyncio
import json
import secrets
import socket
import sys
import tempfile
from collections.abc import Awaitable, Callable, Mapping
from pathlib import Path
from typing import Any

import anyio
from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from dovelayout.errors import DovelayoutError, JobError
from dovelayout.page import answers
from dovelayout.page.folder import ChangedOnDisk, Folder
from dovelayout.page.guard import Guard, TooLarge
from dovelayout.page.requests import name_of, text_of
from dovelayout.render.files import safe_name

STATIC = Path(__file__).parent / "static"
MOST_WAITING = 8
PRINT_SECONDS = 300.0


class _Work:
    """One computation at a time; when too many wait, the next is turned away."""

    def __init__(self) -> None:
        self._limiter = anyio.CapacityLimiter(1)
        self._waiting = 0

    async def run(self, answer: Callable[[], dict[str, Any]]) -> dict[str, Any] | None:
        if self._waiting >= MOST_WAITING:
            return None
        self._waiting += 1
        try:
            return await anyio.to_thread.run_sync(answer, limiter=self._limiter)
        finally:
            self._waiting -= 1


def app_for(folder: Folder, *, hosts: frozenset[str], key: str) -> Guard:
    """The page for one folder, answering to `hosts` and to those who know the `key`."""
    work = _Work()
    static = StaticFiles(directory=STATIC)

    async def index(_: Request) -> Response:
        return HTMLResponse((STATIC / "index.html").read_text(encoding="utf-8"))

    def route(path: str, answer: answers.Answer) -> Route:
        async def answered(request: Request) -> Response:
            table = await _table_of(request)
            if isinstance(table, Response):
                return table
            try:
                result = await work.run(lambda: answer(table))
            except ChangedOnDisk:
                return JSONResponse({"changed": True, "error": "the file was changed on disk meanwhile"}, 409)
            except JobError as error:
                return JSONResponse({"error": str(error)}, 422)
            except DovelayoutError as error:
                return JSONResponse({"error": " ".join(str(error).split())}, 422)
            if result is None:
                return JSONResponse({"error": "busy: too much is waiting already"}, 503)
            return JSONResponse(result)

        return Route(path, answered, methods=["POST"])

    async def printed(request: Request) -> Response:
        table = await _table_of(request)
        return table if isinstance(table, Response) else await _pdf(request, table)

    routes = [
        Route("/", index),
        *(route(f"/api/{name}", answer) for name, answer in answers.answers_for(folder).items()),
        Route("/api/print", printed, methods=["POST"]),
        Mount("/static", static),
    ]
    return Guard(Starlette(routes=routes), hosts=hosts, key=key)


async def _table_of(request: Request) -> dict[str, Any] | Response:
    """The JSON table of a request, or the answer that it is none."""
    try:
        body = await request.body()
        table = json.loads(body)
    except TooLarge:
        return JSONResponse({"error": "too large"}, 413)
    except ClientDisconnect:
        return Response(status_code=400)
    except (ValueError, RecursionError):
        return JSONResponse({"error": "not JSON"}, 400)
    if not isinstance(table, dict):
        return JSONResponse({"error": "a JSON table is wanted"}, 400)
    return table


_START = "import sys; sys.path.append(sys.argv.pop(1)); from dovelayout.cli.main import main; main()"
_COMMAND = (sys.executable, "-P", "-c", _START, str(Path(__file__).parents[2]))
"""The command line in a process of its own. -P keeps the working directory off the module path, so that a Python file lying
among the maker's jobs is never run; the package is found where this one was, after everything that is installed."""


async def _pdf(request: Request, table: Mapping[str, Any]) -> Response:
    """The PDF that `dovelayout draw` writes for this text, made by that very command; stopped when the browser leaves."""
    try:
        text, name = text_of(table), name_of(table)
    except JobError as error:
        return JSONResponse({"error": str(error)}, 422)
    options = ["--as", "pdf", *(["--anyway"] if table.get("anyway") is True else [])]
    for key in ("paper", "printer"):
        value = table.get(key)
        if isinstance(value, str) and value:
            options += [f"--{key}", value[:60]]
    with tempfile.TemporaryDirectory(prefix="dovelayout-") as folder:
        job = Path(folder) / (safe_name(Path(name).stem) + ".toml")
        job.write_bytes(text.encode("utf-8", "replace"))
        process = await asyncio.create_subprocess_exec(
            *_COMMAND,
            *("draw", str(job), "-o", str(Path(folder) / "out"), *options),
            stdin=asyncio.subprocess.DEVNULL,
            stdout=asyncio.subprocess.DEVNULL,
            stderr=asyncio.subprocess.PIPE,
            cwd=folder,
        )
        ended = await _ended(request, process)
        if ended is None:
            return Response(status_code=499)
        code, output = ended
        made = sorted((Path(folder) / "out").glob("*.pdf"))
        if made:
            return Response(made[0].read_bytes(), media_type="application/pdf")
        words = output.replace(str(job), name).removeprefix("dovelayout: ")
        stopped = "the checks say stop; draw it all the same, and every sheet is stamped with it"
        return JSONResponse({"error": words or stopped, "stopped": code == 1}, 422)


async def _ended(request: Request, process: asyncio.subprocess.Process) -> tuple[int, str] | None:
    """The exit code and what was said on stderr; None when the browser left or it took too long."""
    reading = asyncio.ensure_future(process.communicate())
    waited = 0.0
    try:
        while not reading.done():
            await asyncio.wait({reading}, timeout=0.2)
            waited += 0.2
            if waited > PRINT_SECONDS or await request.is_disconnected():
                return None
        _, output = reading.result()
        return process.returncode or 0, " ".join(output.decode("utf-8", "replace").split())[:2000]
    finally:
        if process.returncode is None:
            process.kill()
            await process.wait()
        reading.cancel()


def free_socket() -> socket.socket:
    """A socket on a free port of loopback, not reachable from another machine."""
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    found.bind(("127.0.0.1", 0))
    return found


def serve(
    folder: Folder, *, opened: Callable[[str], Awaitable[None] | None], sock: socket.socket | None = None
) -> None:
    """Serves the page until it is interrupted; `opened` is told the address once the socket is there."""
    import uvicorn

    listening = sock or free_socket()
    listening.listen()  # a browser that is quicker than the server waits instead of being refused
    port = listening.getsockname()[1]
    key = secrets.token_urlsafe(24)
    hosts = frozenset({f"127.0.0.1:{port}", f"localhost:{port}"})
    app = app_for(folder, hosts=hosts, key=key)
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False, timeout_graceful_shutdown=2
    )
    opened(f"http://127.0.0.1:{port}/?key={key}")
    uvicorn.Server(config).run(sockets=[listening])
