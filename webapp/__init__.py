"""The server: it hands out the app and keeps the records that phones send."""

from __future__ import annotations

from typing import Any

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from webapp import allowance, errors, logs, security, shop, wording
from webapp import config as settings
from webapp.api import held, links, pairing, photos, records
from webapp.app_files import pages, watching
from webapp.app_files.shell import Shell
from webapp.engine import Engine
from webapp.follow_up import upkeep
from webapp.shop import session
from webapp.storage import finds, releases
from webapp.storage.migrate import bring_up_to_date
from webapp.storage.store import Store

BLUEPRINTS = (
    held.blueprint,
    links.blueprint,
    pages.blueprint,
    pairing.blueprint,
    photos.blueprint,
    records.blueprint,
    watching.blueprint,
)


def create_app(config: dict[str, Any] | None = None) -> Flask:
    """Build the application; ``config`` wins over the environment (tests pass theirs).

    Raises ``config.BadSetting`` when a setting cannot be used.
    """
    app = Flask(__name__, static_folder=None)
    app.config.from_mapping(settings.from_environment(config or {}))
    if app.config["PROXIES"]:
        hops = app.config["PROXIES"]
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=hops, x_proto=hops, x_host=hops)  # type: ignore[method-assign]
    app.extensions["store"] = Store(
        app.config["DATABASE_URL"], app.config["DATA"], app.config["PHOTOS"]
    )
    app.extensions["engine"] = Engine(app.config.get("RULEBOOK"), app.config.get("JUDGE"))
    app.extensions["shell"] = Shell(app.config["STATIC"], app.extensions["engine"])
    bring_up_to_date(app.extensions["store"])
    finds.fill(app.extensions["store"])
    upkeep.fill(app.extensions["store"])
    for rules, said in app.extensions["engine"].parts():
        releases.keep(app.extensions["store"], rules, said)
    app.extensions["store"].photos.tidy()
    app.jinja_env.globals.update(
        say=wording.say,
        say_to=wording.say_to,
        region=wording.region_of_page,
        language=wording.language,
        day_text=wording.day_text,
    )
    allowance.init_app(app)
    watching.init_app(app)
    logs.init_app(app)
    app.before_request(session.guard)  # first: who refuses a form says so in the shop's language
    security.init_app(app)
    errors.init_app(app)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)
    shop.init_app(app)
    app.add_url_rule("/static/<path:filename>", "static", pages.static_file)
    return app
