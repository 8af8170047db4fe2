"""What the process of ``tests.support.warm`` does once: to import this is to have done it."""

from __future__ import annotations

import gc
from pathlib import Path
from tempfile import TemporaryDirectory

import gunicorn.app.wsgiapp  # noqa: F401

import webapp.connections  # noqa: F401
from tests.support import whole_suite
from webapp import create_app, workers

if whole_suite.ON:
    whole_suite.offer()
workers.on_starting(None)
with TemporaryDirectory() as folder:
    app = create_app({"DATA": Path(folder), "DATABASE_URL": ""})
    app.extensions["engine"].whole  # noqa: B018
    app.extensions["store"].engine.dispose()
gc.freeze()
