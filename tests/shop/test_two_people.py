"""Two people on one job: whoever saves second sees both versions, and nothing is lost."""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.effort import effort
from tests.support.floor import add
from tests.support.shops import JOB, PASSWORD, Shop, a_shop, fields_of, sign_in
from webapp import create_app
from webapp.shop import accounts
from webapp.storage import audit

PAGE = "/shop/jobs/1/edit"


def two(app: Any) -> tuple[Shop, Shop]:
    """Dana and Rob of one shop, with an open job of theirs."""
    dana = a_shop(app)
    with app.extensions["store"].writing() as connection:
        accounts.add_staff(connection, dana.id, "rob", "Rob", PASSWORD)
    rob = Shop(dana.id, "rob", sign_in(app, "rob"))
    assert dana.post("/shop/jobs/new", JOB | {"keep": "1"}).status_code == 302
    return dana, rob


@pytest.fixture
def people(app):
    return two(app)


def opened(one: Shop, page: str = PAGE) -> dict[str, str]:
    return fields_of(one.client.get(page).text)


def save(one: Shop, fields: dict[str, str], page: str = PAGE, **more: str) -> Any:
    return one.answered(one.client.post(page, data=fields | more | {"keep": "1"}))


def state(app: Any) -> dict[str, Any]:
    """What is stored of the job, as its history has it."""
    with app.extensions["store"].reading() as connection:
        return dict(audit.of(connection, 1, "job", 1)[0]["after"])


@pytest.mark.slow
def test_the_second_save_shows_both_and_stores_neither(app, people):
    dana, rob = people
    first, second = opened(dana), opened(rob)
    assert save(dana, first, note="Dana saw a crack.").status_code == 302
    answer = save(rob, second, note="Rob turned the drums.")
    assert answer.status_code == 409
    page = html.unescape(answer.text)
    assert "Changed by Dana meanwhile" in page
    assert page.count(">Dana saw a crack.<") == 1
    assert "both changed it" in page
    assert fields_of(answer.text)["note"] == "Rob turned the drums."
    assert state(app)["note"] == "Dana saw a crack."


@pytest.mark.slow
def test_what_one_of_them_left_alone_comes_from_the_other(app, people):
    dana, rob = people
    first, second = opened(dana), opened(rob)
    save(dana, first, **{"note": "Dana saw a crack.", "part:seal": "10-19"})
    answer = save(
        rob, second, **{"work:lamps": "1", "1L:race_found": "clean", "all:race_found": ""}
    )
    assert answer.status_code == 409
    assert "both changed it" not in answer.text
    again = save(rob, fields_of(answer.text))
    assert again.status_code == 302, again.text
    found = state(app)
    assert (found["note"], found["part:seal"]) == ("Dana saw a crack.", "10-19")
    assert (found["work:lamps"], found["bench:race_found@1L"]) == (True, "clean")


@pytest.mark.slow
def test_what_is_saved_after_finishing_is_not_lost(app, people):
    dana, rob = people
    second = opened(rob)
    assert dana.post(PAGE, {"finish": "1"}).status_code == 302
    answer = save(rob, second, note="The left drum is scored.")
    assert answer.status_code == 409
    assert "The job is finished" in answer.text
    assert save(rob, fields_of(answer.text)).status_code == 302
    assert (state(app)["note"], state(app)["finished"]) == ("The left drum is scored.", True)
    page = dana.client.get("/shop/jobs/1").text
    assert "The left drum is scored." in page
    assert "Rob" in page
    assert "corrected it" in page


def test_a_trailer_changed_beside_the_job_is_not_painted_over(app, people):
    dana, rob = people
    second = opened(rob)
    assert dana.post("/shop/trailers/1/edit", {"fact:axles": "2"}).status_code == 302
    answer = save(rob, second, note="Rob turned the drums.")
    assert answer.status_code == 409
    assert fields_of(answer.text)["fact:axles"] == "2"


@pytest.mark.slow
@pytest.mark.parametrize("written", ["68149 / 44649", "12192TB", "12192"])
def test_a_parts_number_stays_as_it_was_written(app, people, written):
    """It holds a number and is none: no unit, no space of ours gets into it."""
    dana, rob = people
    given = {"fact:bearing_numbers": written}
    assert dana.post("/shop/trailers/1/edit", given).status_code == 302
    assert opened(rob)["fact:bearing_numbers"] == written


@pytest.mark.slow
def test_a_form_that_came_second_waits_on_the_job_until_it_is_saved(people):
    dana, rob = people
    first, second = opened(dana), opened(rob)
    save(dana, first, note="Dana saw a crack.")
    save(rob, second, note="Rob turned the drums.")
    for one, link in ((dana, 0), (rob, 1)):
        page = one.client.get("/shop/jobs/1").text
        assert "Rob has a form of this job that is not stored" in page
        assert page.count("?refused=") == link, "only whose it is opens it"
    back = re.search(r'href="(/shop/jobs/1/edit\?refused=\d+)"', page)
    kept = rob.client.get(html.unescape(back[1]))
    assert kept.status_code == 409
    assert fields_of(kept.text)["note"] == "Rob turned the drums."
    assert save(rob, fields_of(kept.text)).status_code == 302
    assert "not stored" not in rob.client.get("/shop/jobs/1").text


# The page, what Rob changes on it while Dana has it before her, what she types, what stands then.
ON_A_PAGE: dict[str, tuple[str, dict[str, str], dict[str, str], dict[str, str]]] = {
    "another field": (
        "customers/1",
        {"phone": "555 0177"},
        {"email": "a@lund.example"},
        {"phone": "555 0177", "email": "a@lund.example", "name": "Ada Lund"},
    ),
    "her field emptied": (
        "customers/1",
        {"phone": ""},
        {"email": "a@lund.example"},
        {"phone": "", "email": "a@lund.example"},
    ),
    "the same by both": (
        "customers/1",
        {"phone": "555 0177"},
        {"phone": "555 0177"},
        {"phone": "555 0177"},
    ),
    "nothing": ("customers/1", {}, {"email": "a@l.example"}, {"email": "a@l.example"}),
    "another answer of a trailer": (
        "trailers/1/edit",
        {"fact:brakes": "electric"},
        {"plate": "TM 7"},
        {"fact:brakes": "electric", "plate": "TM 7", "fact:axles": "1"},
    ),
    "whose a trailer is": (
        "trailers/1/edit",
        {"customer": ""},
        {"vin": "1ALDER"},
        {"customer": "", "vin": "1ALDER"},
    ),
    "another setting": (
        "details",
        {"phone": "555 0177"},
        {"place": "4 Pell Street", "mail_mend": "y"},
        {"phone": "555 0177", "place": "4 Pell Street", "mail_mend": "y"},
    ),
    "one of two choices": ("details", {"units": "metric"}, {"place": "4"}, {"units": "metric"}),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", ON_A_PAGE)
def test_what_was_saved_meanwhile_is_not_set_back_by_an_older_page(people, case):
    """Whoever is called about a *Stop now* is called on what was written last."""
    dana, rob = people
    where, theirs, mine, then = ON_A_PAGE[case]
    page = f"/shop/{where}"
    form = opened(dana, page)
    assert rob.client.post(page, data=opened(rob, page) | theirs).status_code == 302
    assert dana.client.post(page, data=form | mine).status_code == 302
    now = opened(dana, page)
    assert then == {name: now.get(name) for name in then}


NAMES = ("Green hauler", "Old hauler")
PHONES = ("555 0177", "555 0188")
ZONES = ("America/Denver", "America/Chicago")
# The page, the field, what Rob and Dana make of it, and what both are called.
CLASHES = {
    "a customer's phone": ("customers/1", "phone", PHONES, PHONES),
    "a customer's language": ("customers/1", "language", ("es", "en"), ("español", "English")),
    "a trailer's name": ("trailers/1/edit", "name", NAMES, NAMES),
    "a trailer's axles": ("trailers/1/edit", "fact:axles", ("3", "2"), ("3", "2")),
    "a trailer's brakes": (
        "trailers/1/edit",
        "fact:brakes",
        ("electric", "surge"),
        ("Electric", "Surge"),
    ),
    "the shop's phone": ("details", "phone", PHONES, PHONES),
    "the shop's time zone": ("details", "zone", ZONES, ZONES),
}
TAKES = {"mine": False, "theirs": True}


@pytest.mark.slow
@pytest.mark.parametrize("take", TAKES)
@pytest.mark.parametrize("case", CLASHES)
def test_of_what_both_changed_the_second_is_asked_and_nothing_is_lost(people, case, take):
    dana, rob = people
    where, field, (theirs, mine), (stored, typed) = CLASHES[case]
    page = f"/shop/{where}"
    form = opened(dana, page)
    assert rob.client.post(page, data=opened(rob, page) | {field: theirs}).status_code == 302
    answer = dana.answered(dana.client.post(page, data=form | {field: mine}))
    assert answer.status_code == 409
    told = html.unescape(answer.text)
    assert "Changed by Rob meanwhile" in told
    assert f'Stored now: <strong class="typed">{stored}' in told
    assert f'Yours, in the form: <strong class="typed">{typed}' in told
    assert opened(rob, page)[field] == theirs
    again = answered(answer.text, field)
    assert again[field] == mine
    chosen = {"theirs": field} if TAKES[take] else {}
    assert dana.client.post(page, data=again | chosen).status_code == 302
    assert opened(dana, page)[field] == (theirs if TAKES[take] else mine)


SAID = {"text": "", "reply": "Stay there.", "decided": ""}


@pytest.mark.slow
@pytest.mark.parametrize("take", TAKES)
def test_so_is_whoever_rewords_a_reply_second(people, take):
    dana, rob = people
    record = re.search(r"/shop/checks/[0-9a-f-]{36}", dana.client.get("/shop/jobs/1").text)
    assert dana.post(record[0], SAID).status_code == 302
    page = "/shop/checks/notes/1"
    form = opened(dana, page)
    assert rob.post(page, {"reply": "Rob comes at two."}).status_code == 302
    answer = dana.answered(dana.client.post(page, data=form | {"reply": "Ines comes at three."}))
    assert answer.status_code == 409
    told = html.unescape(answer.text)
    assert "Changed by Rob meanwhile" in told
    assert "Rob comes at two." in told
    again = answered(answer.text, "reply")
    assert again["reply"] == "Ines comes at three."
    chosen = {"theirs": "reply"} if TAKES[take] else {}
    assert dana.client.post(page, data=again | chosen).status_code == 302
    stands = opened(dana, page)["reply"]
    assert stands == ("Rob comes at two." if TAKES[take] else "Ines comes at three.")


def answered(page: str, field: str) -> dict[str, str]:
    """What the form is sent with again, the choice for ``field`` not ticked."""
    assert f'name="theirs" value="{field}"' in page
    return fields_of(page)


def test_a_third_save_between_is_told_again(people):
    dana, rob = people
    page = "/shop/customers/1"
    form = opened(dana, page)
    for phone in ("555 0177", "555 0166"):
        assert rob.client.post(page, data=opened(rob, page) | {"phone": phone}).status_code == 302
        answer = dana.answered(dana.client.post(page, data=form | {"phone": "555 0188"}))
        assert answer.status_code == 409
        assert phone in answer.text
        form = fields_of(answer.text)


def test_a_trailer_given_to_two_customers_is_told_by_their_names(people, app):
    dana, rob = people
    page = "/shop/trailers/1/edit"
    people_here = [
        add(app, "customers", shop_id=dana.id, name=name, phone="", email="")
        for name in ("Bo Quist", "Noor Vance")
    ]
    form = opened(dana, page)
    bo, noor = ({"customer": str(one)} for one in people_here)
    assert rob.client.post(page, data=opened(rob, page) | bo).status_code == 302
    told = html.unescape(dana.answered(dana.client.post(page, data=form | noor)).text)
    assert 'Stored now: <strong class="typed">Bo Quist' in told
    assert 'Yours, in the form: <strong class="typed">Noor Vance' in told


def test_what_is_refused_still_knows_what_its_page_was_drawn_from(people):
    dana, rob = people
    page = "/shop/customers/1"
    form = opened(dana, page)
    assert rob.post(page, {"phone": "555 0177"}).status_code == 302
    refused = dana.answered(dana.client.post(page, data=form | {"email": "none"}))
    again = fields_of(refused.text) | {"email": "a@lund.example"}
    assert dana.client.post(page, data=again).status_code == 302
    assert opened(dana, page)["phone"] == "555 0177"


def test_the_same_form_twice_is_no_second_version(people):
    dana, _ = people
    fields = opened(dana) | {"note": "Once."}
    assert save(dana, fields).location == save(dana, fields).location == "/shop/jobs/1"


@pytest.mark.slow
def test_a_form_without_what_it_was_drawn_from_shows_all_that_is_stored(people):
    dana, _ = people
    for odd in ("", "{", "[]", "x" * 200_000):
        assert save(dana, opened(dana) | {"base": odd, "note": "Mine."}).status_code == 409


# What no page was drawn from: no part of a state, of another kind, and nested deeper than is read.
ODD_BASES = ('{"odd": {"b": [1]}}', '{"work:odd": true, "bench:odd@9X": 1}', "[" * 5000, "NaN")


@pytest.mark.slow
@pytest.mark.parametrize("base", ODD_BASES, ids=lambda base: base[:9])
@pytest.mark.parametrize("where", ["jobs/1/edit", "customers/1", "trailers/1/edit", "details"])
def test_a_form_drawn_from_what_cannot_be_is_no_fault(people, where, base):
    dana, _ = people
    page = f"/shop/{where}"
    form = opened(dana, page) | {"base": base, "note": "Mine."}  # of the four, the job has a note
    answer = dana.answered(dana.client.post(page, data=form))
    assert answer.status_code == (409 if "note" in opened(dana, page) else 302)


# ---- any order of any saves ---------------------------------------------------------------------

FIELDS = ("note", "work_order", "part:seal", "part:torque")
EDITS = st.tuples(
    st.sampled_from((0, 1)),
    st.sampled_from(("open", "type", "save", "finish")),
    st.sampled_from(FIELDS),
)


@pytest.fixture(scope="module")
def pair(tmp_path_factory):
    app = create_app({"DATA": tmp_path_factory.mktemp("pair"), "DATABASE_URL": ""})
    return app, two(app)


@pytest.mark.sample
@effort(12)
@given(st.lists(EDITS, min_size=4, max_size=10))
def test_any_order_of_saves_loses_nothing(pair, steps):
    """Every word typed and sent stands in the job, in its history, or in a form that waits."""
    app, people = pair
    forms: list[dict[str, str]] = [opened(one) for one in people]
    typed: list[str] = []
    waiting = ["", ""]
    for number, (who, step, field) in enumerate(steps):
        one = people[who]
        if step == "open":
            forms[who] = opened(one)
        elif step == "type":
            forms[who] = forms[who] | {field: f"{one.login} {number} {id(steps)}"}
        else:
            typed += [text for text in forms[who].values() if text.startswith(one.login)]
            answer = one.client.post(PAGE, data=forms[who] | {step: "1"})
            if answer.status_code == 303:
                waiting[who] = one.client.get(answer.location).text
                forms[who] = fields_of(waiting[who])
            else:
                assert answer.status_code == 302, answer.text
                forms[who], waiting[who] = opened(one), ""
    with app.extensions["store"].reading() as connection:
        deeds = audit.of(connection, 1, "job", 1)
    held = repr([(deed["before"], deed["after"]) for deed in deeds]) + html.unescape(
        "".join(waiting)
    )
    assert [text for text in typed if text not in held] == []
