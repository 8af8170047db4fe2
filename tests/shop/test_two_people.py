"""Two people on one job: whoever saves second sees both versions, and nothing is lost."""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.effort import effort
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


# What Rob changes on the customer's page while Dana has it before her, what she types, what stands.
ON_A_CUSTOMER = {
    "another field": ({"phone": "555 0177"}, {"email": "a@lund.example"}, ("555 0177", "a@lund")),
    "the same field": ({"phone": "555 0177"}, {"phone": "555 0188"}, ("555 0188", "")),
    "her field emptied": ({"phone": ""}, {"email": "a@lund.example"}, ("", "a@lund")),
    "nothing": ({}, {"email": "a@lund.example"}, ("555 0100", "a@lund")),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", ON_A_CUSTOMER)
def test_a_number_to_call_is_not_set_back_by_an_older_page(people, case):
    """Whoever is called about a *Stop now* is called on what was written last."""
    dana, rob = people
    theirs, mine, (phone, mail) = ON_A_CUSTOMER[case]
    page = "/shop/customers/1"
    form = opened(dana, page)
    assert rob.post(page, theirs).status_code == 302
    assert dana.client.post(page, data=form | mine).status_code == 302
    now = opened(dana, page)
    assert (now["phone"], now["email"].partition(".")[0], now["name"]) == (phone, mail, "Ada Lund")


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
