"""The shop's side: accounts, jobs, trailers, customers and the links that a customer is given."""

from __future__ import annotations

from flask import Flask

from webapp.app_files import addresses
from webapp.follow_up import schedule
from webapp.shop import (
    accounts,
    bench_photos,
    checks,
    comebacks,
    customers,
    files,
    find,
    fleet,
    forget,
    forms,
    history,
    inbox,
    intake,
    jobs,
    links,
    measures,
    merging,
    one_time,
    phones,
    photos,
    recall,
    refused,
    session,
    signs,
    stands,
    times,
    trailers,
    undoing,
)

PARTS = (
    *(accounts, bench_photos, checks, comebacks, customers, files, find, fleet, forget, history),
    *(inbox, intake, jobs, links, merging, one_time, photos, recall, trailers, undoing),
)


def init_app(app: Flask) -> None:
    session.init_app(app)
    refused.init_app(app)
    app.jinja_env.globals["is_doubtful"] = addresses.is_doubtful
    app.jinja_env.globals.update(signs=signs.SIGNS, disc=signs.DISC)
    app.jinja_env.globals.update(day_text=times.day_text, clock_text=times.clock_text)
    app.jinja_env.globals["form_number"] = forms.number
    app.jinja_env.globals["due_text"] = times.due_text
    app.jinja_env.globals.update(miles=measures.distance, distance_word=measures.distance_word)
    app.jinja_env.globals["in_unit"] = measures.text
    app.jinja_env.globals.update(what_due=schedule.what_due, still_open=stands.warning)
    app.jinja_env.globals.update(found_text=stands.found_to, each_open=stands.each)
    app.jinja_env.filters["dial"] = phones.dial
    for part in PARTS:
        app.register_blueprint(part.blueprint)
    app.register_blueprint(files.feeds)
