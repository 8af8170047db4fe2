"""The application as `make run` serves it, on a copy of its files: to be made another release.

gunicorn is told ``tests.support.on_files:serve('FOLDER')``.
"""

from __future__ import annotations

from pathlib import Path

from flask import Flask

from tests.support import packed
from webapp import create_app, logs
from webapp.commands import mail


def serve(folder: str) -> Flask:
    packed.share()
    logs.write_to_standard_error()
    app = create_app({"STATIC": Path(folder)})
    mail.start(app)
    return app
