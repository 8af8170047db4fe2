"""Finding by name, phone, plate, work order and what was worked on, and the lists, page by page."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from flask import Blueprint, jsonify, render_template, request
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, Select, String, Table, cast, func, or_, select

from checks.words import finished, words
from webapp.follow_up import schedule
from webapp.shop import session, stands
from webapp.storage.finds import words_in
from webapp.storage.models import customers, finds, jobs, trailers
from webapp.storage.store import AnyRow, store

blueprint = Blueprint("find", __name__, url_prefix="/shop")
Json = dict[str, Any]
PICKS = 20  # in a list to pick from; the rest is found by typing
SHOWN = 30  # of each kind
MOST_WORDS = 6
# So many rows of a word are looked at: a word that more have in common finds nobody by itself.
LOOKED_AT = 1000
WEIGHED = 150  # rows by which it is seen which word is the rarest
AT_ONCE = 100  # ids in one statement: what many have in common fills a page at once
LEAST_LETTERS = 3  # of a word for what was worked on: with less than that names are meant
KINDS = ("trailer", "customer", "job")
DIGITS = re.compile(r"(?<![\w-])[0-9][0-9 ().+-]{3,}[0-9](?!\w)")


@blueprint.get("/find")
def show() -> ResponseReturnValue:
    text = request.args.get("q", "")[:80].strip()
    shop_id = session.me()["shop_id"]
    with store().reading() as connection:
        found = {kind: found_of(connection, shop_id, kind, text) for kind in KINDS}
        found["job"] = together(found["job"], by_work(connection, shop_id, text))
        rows = {kind: ROWS[kind](connection, ids) for kind, (ids, _) in found.items()}
        shown = {row.id for row in rows["trailer"]} | {row.trailer_id for row in rows["job"]}
        stand = stands.signs(connection, shop_id, shown)
    return render_template(
        "shop/find.html",
        text=text,
        rows=rows,
        more=any(more for _, more in found.values()),
        stand=stand,
        starts="jobs.new" if request.args.get("for") == "job" else "trailers.show",
    )


@blueprint.get("/find/customers")
def people() -> ResponseReturnValue:
    """For the list to pick from: ``{"found": [{"id", "name", "phone"}]}``."""
    text, shop_id = request.args.get("q", "")[:80].strip(), session.me()["shop_id"]
    with store().reading() as connection:
        ids, _ = found_of(connection, shop_id, "customer", text)
        rows = found_customers(connection, ids)
    return jsonify(found=[{"id": row.id, "name": row.name, "phone": row.phone} for row in rows])


def asked(text: str) -> list[str]:
    """What is looked for: words, and a phone number as its digits."""
    numbers = {"".join(filter(str.isdigit, one)) for one in DIGITS.findall(text)}
    words = words_of_rest(DIGITS.sub(" ", text))
    return sorted(numbers | words, key=lambda word: (-len(word), word))[:MOST_WORDS]


def words_of_rest(text: str) -> set[str]:
    """Each word by itself; one that is written in parts as they stand together."""
    return {max(words_in(one), key=len) for one in text.split() if words_in(one)}


def found_of(connection: Connection, shop_id: int, kind: str, text: str) -> tuple[list[int], bool]:
    """Ids of what all words are found in, the newest first, and whether there may be more.

    The rarest word leads; of no word more than ``LOOKED_AT`` rows are read.
    """
    words = asked(text)
    if not words:
        return [], False
    leads = {word: leading(connection, shop_id, kind, word, WEIGHED) for word in words}
    rarest = min(words, key=lambda word: len(leads[word]))
    lead = leads[rarest]
    if len(words) > 1 and len(lead) == WEIGHED:
        lead = leading(connection, shop_id, kind, rarest, LOOKED_AT)
    newest = sorted(set(lead), reverse=True)
    found: list[int] = []
    for start in range(0, len(newest), AT_ONCE):
        some = newest[start : start + AT_ONCE]
        for word in words:
            if word != rarest:
                some = holding(connection, shop_id, kind, word, leads[word], some)
        found += some
        if len(found) > SHOWN:
            break
    return found[:SHOWN], len(found) > SHOWN or len(lead) >= LOOKED_AT


def leading(connection: Connection, shop_id: int, kind: str, word: str, most: int) -> list[int]:
    """Ids of rows with the word itself, the newest first, then of those with a longer one; a row
    with several such words stands several times."""
    here = (finds.c.shop_id == shop_id, finds.c.kind == kind)
    exact = select(finds.c.row_id).where(*here, finds.c.word == word)
    exact = exact.order_by(finds.c.row_id.desc()).limit(most)
    found = list(connection.execute(exact).scalars())
    if len(found) < most:
        after = word[:-1] + chr(ord(word[-1]) + 1)
        longer = select(finds.c.row_id).where(*here, finds.c.word > word, finds.c.word < after)
        found += connection.execute(longer.limit(most - len(found))).scalars()
    return found


def holding(
    connection: Connection, shop_id: int, kind: str, word: str, lead: list[int], ids: list[int]
) -> list[int]:
    """Those of the ids that have the word too. Where ``lead`` is not all that has it, the words of
    each are looked at: asked for the range, a database may walk all rows that have it instead."""
    if len(lead) < WEIGHED:
        have = set(lead)
    else:
        mine = (finds.c.shop_id == shop_id, finds.c.kind == kind, finds.c.row_id.in_(ids))
        begins = func.substr(finds.c.word, 1, len(word)) == word
        have = set(connection.execute(select(finds.c.row_id).where(*mine, begins)).scalars())
    return [one for one in ids if one in have]


# ---- jobs by what was worked on -----------------------------------------------------------------


def by_work(connection: Connection, shop_id: int, text: str) -> tuple[list[int], bool]:
    """Jobs on what some of the words name; by the other words their trailers are found."""
    mine: list[Any] = [jobs.c.shop_id == shop_id]
    rest = []
    for word in text.split():
        if works := works_called(word):
            worked = [cast(jobs.c.work, String).contains(f'"{one}"') for one in works]
            mine.append(or_(*worked))
        else:
            rest.append(word)
    if len(mine) == 1:
        return [], False
    if rest:
        ids, _ = found_of(connection, shop_id, "trailer", " ".join(rest))
        mine.append(jobs.c.trailer_id.in_(ids))
    wanted = select(jobs.c.id).where(*mine).order_by(jobs.c.id.desc()).limit(SHOWN + 1)
    found = list(connection.execute(wanted).scalars())
    return found[:SHOWN], len(found) > SHOWN


def works_called(word: str) -> set[str]:
    """What may have been worked on that has a name beginning so, or is its plural."""
    typed = max(words_in(word), key=len, default="")
    if len(typed) < LEAST_LETTERS:
        return set()
    return {
        work
        for work, names in called().items()
        if any(one.startswith(typed) or typed in (f"{one}s", f"{one}es") for one in names)
    }


@cache
def called() -> dict[str, set[str]]:
    """By each work the words for it, in every language: a desk may be shared by two."""
    said = [words(one).say for one in finished()]
    return {
        work: words_in(*(one for say in said for one in say(f"shop-find-work-{work}").split(", ")))
        for work in schedule.WORK
    }


def together(one: tuple[list[int], bool], other: tuple[list[int], bool]) -> tuple[list[int], bool]:
    ids = sorted({*one[0], *other[0]}, reverse=True)
    return ids[:SHOWN], one[1] or other[1] or len(ids) > SHOWN


# ---- rows -------------------------------------------------------------------------------------


def trailer_rows() -> Select[Any]:
    return select(
        trailers, customers.c.name.label("customer"), customers.c.phone.label("phone")
    ).outerjoin(customers, trailers.c.customer_id == customers.c.id)


def found_trailers(connection: Connection, ids: list[int]) -> list[AnyRow]:
    wanted = trailer_rows().where(trailers.c.id.in_(ids))
    return list(connection.execute(wanted.order_by(trailers.c.touched.desc())).all())


def found_customers(connection: Connection, ids: list[int]) -> list[AnyRow]:
    wanted = select(customers).where(customers.c.id.in_(ids))
    return list(connection.execute(wanted.order_by(customers.c.sort_name)).all())


def found_jobs(connection: Connection, ids: list[int]) -> list[AnyRow]:
    wanted = job_rows().where(jobs.c.id.in_(ids))
    return list(connection.execute(wanted.order_by(jobs.c.id.desc())).all())


def job_rows() -> Select[Any]:
    return (
        select(jobs, trailers.c.name.label("trailer"), customers.c.name.label("customer"))
        .join(trailers, jobs.c.trailer_id == trailers.c.id)
        .outerjoin(customers, jobs.c.customer_id == customers.c.id)
    )


ROWS = {"trailer": found_trailers, "customer": found_customers, "job": found_jobs}


# ---- lists ------------------------------------------------------------------------------------


def pickable(connection: Connection, table: Table, shop_id: int) -> list[AnyRow]:
    """The last ones, to pick from without typing."""
    latest = table.c.touched if "touched" in table.c else table.c.id
    mine = (table.c.shop_id == shop_id, table.c.merged_into.is_(None))
    wanted = select(table).where(*mine).order_by(latest.desc()).limit(PICKS)
    return list(connection.execute(wanted).all())


def counted(connection: Connection, table: Table, shop_id: int) -> int:
    wanted = select(func.count()).where(table.c.shop_id == shop_id)
    return int(connection.execute(wanted).scalar_one())
