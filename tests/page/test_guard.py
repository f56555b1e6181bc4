"""Attacks on the page's server: another host, another origin, no key, huge and odd bodies."""

from __future__ import annotations

import json
import socket
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from starlette.testclient import TestClient

from dovelayout.page.folder import Folder
from dovelayout.page.guard import MOST_BYTES
from dovelayout.page.server import app_for, free_socket, serve

HOST = "127.0.0.1:4711"
KEY = "a-key-that-is-long-enough"
HEADERS = {"origin": f"http://{HOST}", "host": HOST}
SCRIPT = '<script>alert(1)</script><img src=x onerror="alert(1)">'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = tmp_path / "jobs"
    inside.mkdir()
    sample = Path(__file__).parents[2] / "samples" / "sewing-chest.toml"
    (inside / "chest.toml").write_bytes(sample.read_bytes())
    (tmp_path / "secret.toml").write_text("secret")
    return inside


@pytest.fixture
def client(folder: Path) -> Iterator[TestClient]:
    app = app_for(Folder(folder, "chest.toml"), hosts=frozenset({HOST}), key=KEY)
    with TestClient(app, base_url=f"http://{HOST}", follow_redirects=False) as found:
        found.cookies.set("dovelayout", KEY)
        yield found


def _post(client: TestClient, path: str, body: Any, **headers: str) -> Any:
    return client.post(
        path, content=json.dumps(body), headers={**HEADERS, "content-type": "application/json", **headers}
    )


def test_the_page_itself_is_answered(client: TestClient) -> None:
    assert client.get("/").status_code == 200
    assert client.get("/static/main.js").status_code == 200
    assert _post(client, "/api/start", {}).json()["files"] == ["chest.toml"]


def test_the_opened_address_is_swapped_for_a_cookie(folder: Path) -> None:
    app = app_for(Folder(folder), hosts=frozenset({HOST}), key=KEY)
    with TestClient(app, base_url=f"http://{HOST}", follow_redirects=False) as fresh:
        assert fresh.get("/").status_code == 403
        assert fresh.get("/?key=wrong").status_code == 403
        answer = fresh.get(f"/?key={KEY}")
        assert (answer.status_code, answer.headers["location"]) == (303, "/")
        assert "HttpOnly" in answer.headers["set-cookie"]
        assert "SameSite=Strict" in answer.headers["set-cookie"]
        assert fresh.get("/").status_code == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:4711", "127.0.0.1", "127.0.0.1:80", "localhost.evil.example:4711", ""]
)
def test_a_foreign_host_is_refused(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 403
    assert _post(client, "/api/start", {}, host=host).status_code == 403


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "https://127.0.0.1:4711", f"http://{HOST}.evil.example", "file://"]
)
def test_a_foreign_origin_is_refused(client: TestClient, origin: str) -> None:
    assert _post(client, "/api/start", {}, origin=origin).status_code == 403


def test_what_a_form_of_another_site_could_send_is_refused(client: TestClient) -> None:
    body = json.dumps({"text": "x"})
    no_origin = client.post("/api/look", content=body, headers={"host": HOST, "content-type": "application/json"})
    assert no_origin.status_code == 403
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""):
        assert client.post("/api/look", content=body, headers={**HEADERS, "content-type": kind}).status_code == 415
    assert _post(client, "/api/look", {}, **{"sec-fetch-site": "cross-site"}).status_code == 403
    assert client.put("/api/look", headers=HEADERS).status_code == 405
    client.cookies.clear()
    assert _post(client, "/api/look", {"text": ""}).status_code == 403


def test_a_huge_body_is_refused_with_and_without_its_length(client: TestClient) -> None:
    huge = b'{"text": "' + b"x" * MOST_BYTES + b'"}'
    headers = {**HEADERS, "content-type": "application/json"}
    assert client.post("/api/look", content=huge, headers=headers).status_code == 413
    chunks = (huge[start : start + 65536] for start in range(0, len(huge), 65536))
    assert client.post("/api/look", content=chunks, headers=headers).status_code == 413
    assert client.post("/api/look", content=b"{}", headers={**headers, "content-length": "-5"}).status_code == 413


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"nonsense",
        b"[]",
        b"7",
        b"\xff\xfe",
        b"[" * 5000,
        b'{"text": 7}',
        b'{"text": null}',
        b"{}",
        b'{"text": "\\ud800"}',
    ],
)
@pytest.mark.parametrize("path", ["look", "edit", "suggest", "save", "read", "state", "new", "print"])
def test_odd_bodies_are_answered_and_never_break_the_server(client: TestClient, path: str, body: bytes) -> None:
    answer = client.post(f"/api/{path}", content=body, headers={**HEADERS, "content-type": "application/json"})
    assert answer.status_code in (200, 400, 422)
    assert "Traceback" not in answer.text


def test_deep_toml_is_told(client: TestClient) -> None:
    deep = "x = " + "[" * 20_000 + "]" * 20_000
    assert "nested" in _post(client, "/api/look", {"text": deep}).json()["error"]["problem"]
    assert _post(client, "/api/edit", {"text": deep, "edits": [{"op": "unset", "key": "x"}]}).status_code == 422


@pytest.mark.parametrize(
    "name", ["../secret.toml", "/etc/passwd", "..%2fsecret.toml", "....//secret.toml", "jobs/../../secret.toml"]
)
def test_no_path_leads_out_of_the_folder(client: TestClient, folder: Path, name: str) -> None:
    for path in ("read", "state", "save"):
        answer = _post(client, f"/api/{path}", {"name": name, "text": "x", "state": ""})
        assert answer.status_code == 422
        assert "secret" not in answer.text.replace(name, "")
    assert (folder.parent / "secret.toml").read_text() == "secret"
    for path in ("/static/../server.py", "/static/%2e%2e/server.py", "/static//etc/passwd"):
        assert client.get(path).status_code in (403, 404)


def test_script_in_every_text_field_comes_back_inert(client: TestClient, folder: Path) -> None:
    text = (folder / "chest.toml").read_text(encoding="utf-8")
    for old in ('"Sewing chest"', '"chest"', '"side"', '"front"'):
        text = text.replace(old, json.dumps(old.strip('"') + SCRIPT))
    seen = _post(client, "/api/look", {"text": text, "name": "chest.toml"})
    assert seen.headers["content-type"] == "application/json"
    view = seen.json()
    assert view["error"] is None
    svg = view["drawing"]["svg"]
    assert "<script" not in svg
    assert "<img" not in svg
    assert "&lt;script" in svg
    page = client.get("/")
    policy = page.headers["content-security-policy"]
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy
    assert "<script>" not in page.text.replace('<script type="module" src="/static/main.js"></script>', "")


def test_every_answer_carries_the_policy(client: TestClient) -> None:
    for answer in (
        client.get("/"),
        client.get("/static/page.css"),
        client.get("/", headers={"host": "evil"}),
        client.get("/none"),
    ):
        assert answer.headers["content-security-policy"].startswith("default-src 'none'")
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cache-control"] == "no-store"


def test_the_static_files_use_no_inline_script_or_style_and_ask_nobody_else() -> None:
    static = Path(__file__).parents[2] / "dovelayout" / "page" / "static"
    for path in static.rglob("*"):
        if path.suffix not in (".js", ".html", ".css", ".svg"):
            continue
        text = path.read_text(encoding="utf-8")
        bare = text.replace("http://www.w3.org/2000/svg", "")
        assert "http://" not in bare, path.name
        assert "https://" not in bare, path.name
        assert "innerHTML" not in text, path.name
        assert "eval(" not in text, path.name
        if path.suffix == ".html":
            assert " style=" not in text
            assert " onclick=" not in text


@pytest.mark.parametrize("on_the_path", [False, True], ids=["started by its script", "started by python -m"])
def test_printing_runs_no_python_file_of_the_makers_folder(
    client: TestClient, folder: Path, monkeypatch: pytest.MonkeyPatch, on_the_path: bool
) -> None:
    """`python -m` puts the working directory first on the module path; a random.py among the jobs was run by it."""
    proof = folder / "was-run"
    for name in ("random", "tomlkit", "pydantic", "reportlab", "sitecustomize", "dovelayout"):
        (folder / f"{name}.py").write_text(f"open({str(proof)!r}, 'a').write({name!r})\n")
    monkeypatch.chdir(folder)
    monkeypatch.setattr("sys.path", [str(folder)] * on_the_path + sys.path)
    answer = _post(client, "/api/print", {"text": (folder / "chest.toml").read_text(), "name": "chest.toml"})
    assert answer.status_code == 200, answer.text
    assert answer.content.startswith(b"%PDF-1.7")
    assert not proof.exists(), proof.read_text()


def test_a_browser_that_is_quicker_than_the_server_is_not_refused(folder: Path) -> None:
    class Stop(Exception):
        """Ends the serving before it begins."""

    def opened(address: str) -> None:
        host = urlsplit(address)
        with socket.create_connection((host.hostname, host.port), timeout=5):
            raise Stop

    with pytest.raises(Stop), free_socket() as sock:
        serve(Folder(folder, "chest.toml"), opened=opened, sock=sock)
