"""The recipes of docs/recipes do what they say, as far as this machine has the programs for it."""

from __future__ import annotations

import json
import os
import re
import shutil
import socket
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.records import DEVICE, envelope, record
from tests.support.serve import ROOT, free_port, serving, wait_until_healthy

RECIPES = ROOT / "docs" / "recipes"

pytestmark = pytest.mark.sqlite


def needs(program: str) -> pytest.MarkDecorator:
    return pytest.mark.skipif(shutil.which(program) is None, reason=f"there is no {program} here")


@pytest.fixture
def proxied(tmp_path: Path) -> Iterator[tuple[str, str]]:
    """nginx by the recipe before a real server: its addresses over HTTPS and HTTP."""
    secure, plain = free_port(), free_port()
    subprocess.run(
        [
            "openssl",
            "req",
            "-x509",
            "-newkey",
            "rsa:2048",
            "-nodes",
            "-days",
            "2",
            "-subj",
            "/CN=trailers.example.org",
            "-keyout",
            "privkey.pem",
            "-out",
            "fullchain.pem",
        ],
        cwd=tmp_path,
        check=True,
        capture_output=True,
    )
    settings = {"TWENTYMILE_HTTPS": "1", "TWENTYMILE_PROXIES": "1", "TWENTYMILE_CONNECTIONS": "0"}
    with serving(tmp_path, **settings) as behind:
        recipe = (RECIPES / "nginx.conf").read_text("utf-8")
        recipe = re.sub(r" *listen \[::\].*\n", "", recipe)  # not every machine has IPv6
        for said, here in (
            ("listen 80;", f"listen 127.0.0.1:{plain};"),
            ("listen 443 ", f"listen 127.0.0.1:{secure} "),
            ("http://127.0.0.1:8020", behind),
            ("/etc/ssl/twentymile", str(tmp_path)),
        ):
            assert said in recipe
            recipe = recipe.replace(said, here)
        whole = f"pid {tmp_path}/nginx.pid;\nerror_log stderr;\nevents {{}}\nhttp {{\n"
        for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi"):
            whole += f"{kind}_temp_path {tmp_path}/{kind};\n"
        (tmp_path / "nginx.conf").write_text(f"{whole}access_log off;\n{recipe}\n}}\n")
        command = ["nginx", "-c", str(tmp_path / "nginx.conf"), "-g", "daemon off;"]
        log = tmp_path / "nginx.log"
        with log.open("wb") as output:
            process = subprocess.Popen(command, stdout=output, stderr=output)
        try:
            wait_until_up(secure, process, log)
            yield f"https://127.0.0.1:{secure}", f"http://127.0.0.1:{plain}"
        finally:
            process.terminate()
            process.wait(20)


def wait_until_up(port: int, process: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(200):
        if process.poll() is not None:
            break
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.05)
    raise RuntimeError(log.read_text())


def ask(address: str, body: bytes | None = None, **headers: str) -> tuple[int, dict[str, str]]:
    """Status and headers of an answer; redirects are not followed."""

    class Stay(urllib.request.HTTPRedirectHandler):
        def redirect_request(self, *_: object) -> None:
            return None

    trusting = ssl.create_default_context()
    trusting.check_hostname, trusting.verify_mode = False, ssl.CERT_NONE
    opener = urllib.request.build_opener(Stay, urllib.request.HTTPSHandler(context=trusting))
    request = urllib.request.Request(address, body, {"Host": "trailers.example.org"} | headers)
    try:
        with opener.open(request, timeout=20) as answer:
            return answer.status, dict(answer.headers)
    except urllib.error.HTTPError as refused:
        return refused.code, dict(refused.headers)


@pytest.mark.long
@needs("nginx")
@needs("openssl")
def test_the_proxy_serves_over_https_and_keeps_to_itself_what_is_not_for_all(proxied):
    secure, plain = proxied
    status, headers = ask(f"{secure}/")
    assert status == 200
    assert "Strict-Transport-Security" in headers
    assert ask(f"{secure}/metrics")[0] == 404
    sent = json.dumps(envelope(record(kind="photo", body={"note": "by the proxy"}))).encode()
    as_json = {"Content-Type": "application/json", "X-Twentymile-Device": DEVICE}
    assert ask(f"{secure}/api/records", sent, **as_json)[0] == 200
    assert ask(f"{plain}/api/records", sent, **as_json)[0] == 403
    status, headers = ask(f"{plain}/shop/sign-in")
    assert (status, headers["Location"]) == (301, "https://trailers.example.org/shop/sign-in")


@pytest.mark.long
@needs("nginx")
@needs("openssl")
def test_who_forges_where_a_request_came_from_is_not_believed_behind_the_proxy(proxied):
    """Sixty links that are none shut out their sender; another name for oneself is of no help."""
    secure, _ = proxied
    as_json = {"Content-Type": "application/json", "X-Twentymile-Device": DEVICE}
    tried = []
    for n in range(62):
        body = json.dumps({"secret": f"{n:043d}"}).encode()
        forged = {"X-Forwarded-For": f"198.51.100.{n}"}
        tried.append(ask(f"{secure}/api/links/read", body, **as_json, **forged)[0])
    assert tried[0] == 404
    assert tried[-1] == 429


@needs("systemd-analyze")
def test_the_unit_is_one_that_systemd_reads_without_a_remark(tmp_path):
    unit = (RECIPES / "twentymile.service").read_text("utf-8")
    here = unit.replace("/opt/twentymile/.venv/bin/python", sys.executable)
    assert here != unit
    path = tmp_path / "twentymile.service"
    path.write_text(here)
    read = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", str(path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert [line for line in read.stderr.splitlines() if "twentymile" in line] == []


@pytest.mark.long
def test_what_the_container_copies_is_all_that_the_server_needs(tmp_path):
    """The image itself is not built here: that takes a container engine and a base image."""
    recipe = (RECIPES / "Containerfile").read_text("utf-8")
    copied = re.findall(r"^COPY (\S+) \S+$", recipe, re.MULTILINE)
    for name in copied:
        source, target = ROOT / name, tmp_path / "app" / name
        if source.is_dir():
            shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            target.parent.mkdir(exist_ok=True)
            shutil.copy(source, target)
    port, log = free_port(), tmp_path / "server.log"
    settings = {"HOST": "127.0.0.1", "PORT": str(port), "TWENTYMILE_DATA": str(tmp_path / "data")}
    with log.open("wb") as output:
        process = subprocess.Popen(
            [sys.executable, "-m", "webapp"],
            cwd=tmp_path / "app",
            env={k: v for k, v in os.environ.items() if k != "PYTHONPATH"} | settings,
            stdout=output,
            stderr=output,
        )
    try:
        wait_until_healthy(f"http://127.0.0.1:{port}", process, log)
        assert ask(f"http://127.0.0.1:{port}/readyz")[0] == 200
        assert ask(f"http://127.0.0.1:{port}/rulebook.json")[0] == 200
    finally:
        process.terminate()
        process.wait(40)
