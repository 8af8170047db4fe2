"""Serve: bring the data folder up to date, say where, and hand over to gunicorn."""

from __future__ import annotations

import os
import shutil
import socket
import sys
from pathlib import Path

from flask import Flask

from checks.words import of_terminal
from webapp import create_app, logs
from webapp.commands import mail
from webapp.config import BadSetting
from webapp.wording import say, speaking

FIRST_ACCOUNT = ".venv/bin/python -m webapp.commands.accounts add"
WORKERS, CONNECTIONS = 2, 1000  # connections a process; beyond them new ones wait to be taken


def lan_address() -> str | None:
    """This machine's address on its network; opens no connection."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # reserved for documentation (RFC 5737)
        except OSError:
            return None
        return str(probe.getsockname()[0])


def announcement(host: str, port: str, data: str) -> str:
    """What whoever started the server reads: where it is, and how a shop begins."""
    lines = [say("cli-start-data", folder=data)]
    if host in ("0.0.0.0", "::"):
        lines.append(say("cli-start-here", address=f"http://localhost:{port}/"))
        if lan := lan_address():
            lines.append(say("cli-start-network", address=f"http://{lan}:{port}/"))
        lines.append(say("cli-start-https"))
    else:
        lines.append(say("cli-start-address", address=f"http://{host}:{port}/"))
    lines.append(say("cli-start-account"))
    named = f'"{say("cli-start-shop")}" --login {say("cli-start-login")}'
    lines.append(f"    TWENTYMILE_DATA={data} {FIRST_ACCOUNT} {named}")
    return "\n".join(lines)


def gunicorn_arguments(host: str, port: str) -> list[str]:
    bind = f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
    return [
        sys.executable,
        *("-m", "gunicorn", "--bind", bind),
        *("--workers", str(WORKERS), "--worker-class", "webapp.connections.Worker"),
        *("--worker-connections", str(CONNECTIONS)),
        *("--timeout", "60", "--graceful-timeout", "20", "--keep-alive", "5"),
        *("--no-control-socket", "--log-level", "warning", "--config", "python:webapp.workers"),
        "webapp.__main__:serve()",
    ]


def serve() -> Flask:
    """The application as each worker runs it; mail goes out beside it."""
    logs.write_to_standard_error()
    app = create_app()
    app.extensions["engine"].whole  # noqa: B018  (loads the rules before the first check comes in)
    mail.start(app)
    return app


def refuse_taken(host: str, port: int) -> None:
    """End with a plain word where gunicorn would try for five seconds and then give up."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            why = str(error.strerror)
            sys.exit(say("cli-start-taken", host=host, port=str(port), why=why))


def count_together(folder: Path) -> None:
    """Let all processes of this start count into one folder; the counts of the last start go."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    os.environ["PROMETHEUS_MULTIPROC_DIR"] = str(folder)


def main() -> None:
    with speaking(of_terminal()):
        command = ready()
    os.execv(command[0], command)


def ready() -> list[str]:
    """Look at what the server starts with, say where it is, and give the command that serves."""
    host, port = os.environ.get("HOST", "0.0.0.0"), os.environ.get("PORT", "8020")
    if not (port.isascii() and port.isdigit() and 0 < int(port) < 65536):
        sys.exit(say("cli-start-port", port=repr(port)))
    refuse_taken(host, int(port))
    try:
        app = create_app()
    except BadSetting as error:
        sys.exit(str(error))
    print(announcement(host, port, str(app.config["DATA"])), flush=True)
    app.extensions["store"].engine.dispose()
    if app.config["METRICS"]:
        count_together(app.config["DATA"] / "metrics")
    return gunicorn_arguments(host, port)


if __name__ == "__main__":
    main()
