"""The shop's side: accounts, jobs, trailers, customers and the links that a customer is given."""

from __future__ import annotations

from flask import Flask

from webapp.shop import accounts, customers, jobs, links, session, trailers


def init_app(app: Flask) -> None:
    session.init_app(app)
    for part in (accounts, customers, jobs, links, trailers):
        app.register_blueprint(part.blueprint)
