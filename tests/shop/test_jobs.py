"""A job from the empty form to what the customer's phone reads."""

from __future__ import annotations

import json
import re

import pytest
from sqlalchemy import select, update

from tests.support.effort import few
from tests.support.records import HEADERS, envelope, error_of, record
from tests.support.shops import (
    JOB,
    SECRET,
    dump,
    fields_of,
    finished_job,
    read_link,
    sign_in,
)
from webapp.storage.models import customers, due, jobs, links, records, trailers


def test_a_filled_job_becomes_a_link_with_one_button(shop, client):
    _, secret = finished_job(shop)
    found = read_link(client, secret).json
    assert found["shop"] == {"name": "Pell Street Garage", "phone": "555 0199"}
    assert found["trailer"]["name"] == "Green boat trailer"
    assert found["trailer"]["facts"] == {"axles": 1, "brakes": "none"}
    assert found["work"] == "Hubs or bearings. New bearings and seals, both sides."
    assert found["kind"] == "job"
    assert found["service"]["work"] == ["bearings"]
    assert found["replies"] == []


@pytest.mark.slow
def test_a_job_on_hubs_brings_the_stops_that_follow_from_it(shop, client):
    _, secret = finished_job(shop)
    due = read_link(client, secret).json["due"]
    # 10, 20, 25 and 50 miles are limits with their sources in checks/limits/follow_up.toml;
    # a mile is 1.609344 km (international yard and pound agreement of 1959).
    assert [(line["check"], line["at_km"]) for line in due if line["at_km"]] == [
        ("nuts_stop", pytest.approx(16.09344)),
        ("quick_stop", pytest.approx(32.18688)),
        ("nuts_stop", pytest.approx(40.2336)),
        ("nuts_stop", pytest.approx(80.4672)),
    ]
    assert [line["what"] for line in due if not line["at_km"]] == [
        "The way back: hubs, nuts and load at the first stop"
    ]
    assert not any(line["done"] for line in due)


WORK_AND_MILES = {
    "nothing that turns": ("lamps", []),
    "a wheel": ("wheels", [10, 25, 50]),
    "brakes": ("brakes", [10, 20, 25, 50]),
    "tires": ("tires", [10, 25, 50]),
    "a load": ("loaded", [50]),
    "storage": ("storage", []),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", WORK_AND_MILES)
def test_stops_follow_from_the_work(shop, client, case):
    work, miles = WORK_AND_MILES[case]
    _, secret = finished_job(shop, **{"work:bearings": "", f"work:{work}": "1"})
    due = read_link(client, secret).json["due"]
    assert [round(line["at_km"] / 1.609344) for line in due if line["at_km"]] == miles
    storage = [line for line in due if line["check"] == "walkaround"]
    assert len(storage) == (work == "storage")


@pytest.mark.slow
def test_a_changed_line_is_kept_as_changed(shop, client):
    fields = fields_of(shop.client.get("/shop/jobs/new").text)
    hubs = next(k for k, v in fields.items() if v.startswith("Every hub"))[:-5]
    changes = {f"{hubs}:at": "12,5", f"{hubs}:what": " Hubs   by hand ", f"{hubs}:by": "2027-01-31"}
    _, secret = finished_job(shop, **changes)
    line = next(x for x in read_link(client, secret).json["due"] if x["check"] == "quick_stop")
    assert line["what"] == "Hubs by hand"
    assert line["at_km"] == pytest.approx(12.5 * 1.609344)
    assert line["by"].startswith("2027-01-31")


MILES_AS_TYPED = {
    "1,000": 1000,
    "1 000": 1000,
    "1\u202f000": 1000,
    "3,500.5": 3500.5,
    "1.500,5": 1500.5,
    "12.5": 12.5,
    "12,5": 12.5,
    "0,125": 0.125,
    ".5": 0.5,
    "20.": 20,
    "10,000": 10000,
    "10,001": None,
    "1,00,0": None,
    "1 00": None,
    "-5": None,
    "1e3": None,
    "٣": None,
    "20 mi": None,
}


@pytest.mark.slow
@pytest.mark.parametrize("typed", MILES_AS_TYPED)
def test_miles_are_read_as_people_type_them(app, shop, typed):
    miles = MILES_AS_TYPED[typed]
    answer = shop.post("/shop/jobs/new", JOB | {"keep": "1", "line:1:at": typed})
    if miles is None:
        assert answer.status_code == 422
        assert "miles as a number" in answer.text
        return
    with app.extensions["store"].reading() as connection:
        kept = connection.execute(select(due.c.at_km).where(due.c.check == "quick_stop")).scalar()
    assert kept == pytest.approx(miles * 1.609344)


RATINGS_AS_TYPED = {
    "3500": "3500 lb",
    "3,500": "3500 lb",
    "3 500": "3500 lb",
    "3,500 lb": "3500 lb",
    "1 588 kg": "1588 kg",
    "1587,5 kg": "1587.5 kg",
    "plenty": None,
    "3,50,0": None,
    "3000-3500 lb": None,
    "1": None,
    "3500 stone": None,
    "3500 mi": None,
}


YEARS_AS_TYPED = {
    "2022": 2022,
    " 1980 ": 1980,
    "1979": None,
    "2101": None,
    "2099": None,  # yet to come
    "soon": None,
    "٢٠٢٢": None,
}


@pytest.mark.parametrize("typed", YEARS_AS_TYPED)
def test_a_year_is_typed_and_not_picked_from_a_hundred(app, shop, typed):
    page = "/shop/trailers/new"
    assert shop.client.get(page).text.count('name="fact:service_year"') == 1
    answer = shop.post(page, {"name": "Tilt bed", "fact:service_year": typed})
    year = YEARS_AS_TYPED[typed]
    if year is None:
        assert answer.status_code == 422
        assert "In which year were the bearings last packed?" in answer.text
        assert f'value="{typed}"' in answer.text
        return
    assert answer.status_code == 302
    with app.extensions["store"].reading() as connection:
        assert connection.execute(select(trailers.c.facts)).scalar() == {"service_year": year}
    assert fields_of(shop.client.get("/shop/trailers/1/edit").text)["fact:service_year"] == str(
        year
    )


# Who is there, who is written, and how many customers there are then.
WRITTEN_AGAIN = {
    "the same": (("Ada Lund", "555 0100"), ("Ada Lund", "555 0100"), 1),
    "written otherwise": (("Ada Lund", "555 0100"), ("ada lund", "(555) 0100"), 1),
    "another number": (("Ada Lund", "555 0100"), ("Ada Lund", "555 0140"), 2),
    "another name": (("Ada Lund", "555 0100"), ("Bo Lund", "555 0100"), 2),
    "no numbers": (("Ada Lund", ""), ("Ada Lund", ""), 2),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", WRITTEN_AGAIN)
def test_who_is_written_again_with_the_number_is_no_second_customer(app, shop, case):
    *people, count = WRITTEN_AGAIN[case]
    for trailer, (name, phone) in zip(("Boat", "Dump"), people, strict=True):
        whose = {"trailer_name": trailer, "customer_name": name, "customer_phone": phone}
        assert shop.post("/shop/jobs/new", JOB | whose | {"finish": "1"}).status_code == 302
    with app.extensions["store"].reading() as connection:
        assert len(connection.execute(select(customers.c.id)).all()) == count
        owners = connection.execute(select(trailers.c.customer_id)).scalars().all()
    assert len(set(owners)) == count


@pytest.mark.slow
@pytest.mark.parametrize("typed", few(RATINGS_AS_TYPED, 4))
@pytest.mark.parametrize("page", ["jobs", "trailers"])
def test_a_rating_is_read_as_people_type_it(app, shop, typed, page):
    rating = RATINGS_AS_TYPED[typed]
    sent = JOB | {"keep": "1"} if page == "jobs" else {"name": "Green boat trailer"}
    answer = shop.post(f"/shop/{page}/new", sent | {"fact:gross_rating": typed})
    if rating is None:
        assert answer.status_code == 422
        assert "Write a number from 111 to 26,455 lb" in answer.text
        assert "gross_rating:" not in answer.text
        return
    with app.extensions["store"].reading() as connection:
        assert connection.execute(select(trailers.c.facts)).scalar()["gross_rating"] == rating


BAD_FIELDS = {
    "no trailer": ({"trailer_name": " "}, "give this one a name"),
    "axles out of range": ({"fact:axles": "9"}, "axles"),
    "no axles, but a bench record": ({"fact:axles": ""}, "how many axles"),
    "an answer nobody offers": ({"all:pin_done": "glue"}, "glue"),
    "miles in words": ({"line:1:at": "twenty"}, "miles as a number"),
    "no miles at all": ({"line:1:at": "0"}, "miles as a number"),
    "miles without end": ({"line:1:at": "inf"}, "miles as a number"),
    "a day that is none": ({"line:1:by": "2027-02-31"}, "day like"),
    "a day that is over": ({"line:1:by": "2020-01-31"}, "That day is over"),
    "an empty line": ({"line:1:what": "  "}, "untick the line"),
    "a check that is none": ({"line:1:check": "bench"}, "which check"),
    "a customer that is none": ({"customer": "x", "customer_name": ""}, "from the list"),
    "a note too long": ({"note": "x" * 2001}, "2000 characters"),
    "a name too long": ({"trailer_name": "x" * 81}, "80 characters"),
}


def test_a_customer_picked_and_another_one_written_is_asked_about(app, shop):
    finished_job(shop)
    both = JOB | {"trailer_name": "Tilt bed", "customer": "1", "customer_name": "Bo Marsh"}
    answer = shop.post("/shop/jobs/new", both | {"finish": "1"})
    assert answer.status_code == 422
    assert "You picked a customer and wrote Bo Marsh too" in answer.text
    with app.extensions["store"].reading() as connection:
        assert len(connection.execute(select(trailers.c.id)).all()) == 1


@pytest.mark.slow
@pytest.mark.parametrize("case", BAD_FIELDS)
def test_a_job_with_a_mistake_stores_nothing_and_loses_nothing(app, shop, case):
    changes, words = BAD_FIELDS[case]
    before = dump(app)
    sent = JOB | {"finish": "1", "all:seal_done": "new"} | changes
    answer = shop.post("/shop/jobs/new", sent)
    assert answer.status_code == 422
    assert words in answer.text
    assert dump(app) | {"refused": []} == before
    shown = fields_of(answer.text)
    kept = {k: v for k, v in sent.items() if k not in (*changes, "finish")}
    assert {k: shown.get(k) for k in kept} == kept


def test_a_bench_record_that_says_stop_is_confirmed_before_it_leaves(app, shop):
    answer = shop.post("/shop/jobs/new", JOB | {"finish": "1", "all:pin_done": "none"})
    assert answer.status_code == 422
    assert "Nothing locks the spindle nut" in answer.text
    page = shop.client.get(
        shop.post(
            "/shop/jobs/new", JOB | {"finish": "1", "all:pin_done": "none", "anyway": "1"}
        ).location
    )
    assert "Stop now" in page.text


DRAGS = "Find out whether it is the seal, a brake shoe or the nut."
LATER = {
    "beside a Stop now": ({"all:pin_done": "none"}, 1),
    "alone": ({}, 0),
}


@pytest.mark.parametrize("case", LATER)
def test_what_sends_on_comes_after_what_must_be_put_right_on_job_and_sheet(shop, case):
    more, count = LATER[case]
    sent = JOB | {"finish": "1", "all:turns_after": "drags"} | more
    address = shop.post("/shop/jobs/new", sent | {"anyway": "1"}).location
    refused = [shop.post("/shop/jobs/new", sent).text] if count else []
    for page in (*refused, shop.client.get(address).text, shop.client.get(f"{address}/sheet").text):
        assert DRAGS in page
        assert page.count(f"Once the worse is put right: {DRAGS}") == count * page.count(DRAGS)


BARE = {
    "bearings, and nothing on the bench record": ({"work:bearings": "1"}, True),
    "bearings, and what was found": ({"work:bearings": "1", "all:pin_done": "new"}, False),
    "lamps, which the bench record does not ask about": ({"work:lamps": "1"}, False),
}


@pytest.mark.parametrize("case", BARE)
def test_a_job_without_its_bench_record_says_so(shop, case):
    given, told = BARE[case]
    plain = {
        "trailer_name": "Dump trailer",
        "fact:axles": "1",
        "fact:brakes": "none",
        "finish": "1",
    }
    page = shop.client.get(shop.post("/shop/jobs/new", plain | given).location).text
    assert ("Nothing stands on the bench record" in page) == told


def test_the_bench_record_is_a_record_that_the_engine_judged(app, shop):
    finished_job(shop, **{"1R:play_left": "clear", "skip:1L": "1"})
    with app.extensions["store"].reading() as connection:
        row = connection.execute(select(records)).one()
        job = connection.execute(select(jobs)).one()
    body = json.loads(row.record)["body"]
    assert job.record_id == row.id
    assert body["check"] == "bench"
    # The left wheel was not opened; what was said of all wheels is said of the right one.
    of_wheels = [key[4:] for key in JOB if key.startswith("all:") and key != "all:play_wanted"]
    assert {key for key in body["facts"] if "@" in key} == {f"{name}@1R" for name in of_wheels}
    assert body["facts"]["play_wanted"] == "some", "what the maker wants is one for all wheels"
    assert body["facts"]["play_left@1R"] == "clear"
    asked = {key: body[key] for key in ("check", "date", "facts")}
    assert app.extensions["engine"].judge(asked) == json.loads(row.verdict)
    assert [f["finding"] for f in json.loads(row.verdict)["findings"]] == ["nut_slack"]


def test_a_form_sent_twice_makes_one_job(app, shop):
    fields = fields_of(shop.client.get("/shop/jobs/new").text) | JOB | {"finish": "1"}
    first = shop.client.post("/shop/jobs/new", data=fields)
    before = dump(app)
    second = shop.client.post("/shop/jobs/new", data=fields)
    assert first.location == second.location
    assert dump(app) == before


@pytest.mark.slow
def test_an_open_job_comes_back_as_it_was_left(app, shop, client):
    opened = shop.post("/shop/jobs/new", JOB | {"keep": "1", "1L:race_found": "clean"})
    page = opened.location + "/edit"
    shown = fields_of(shop.client.get(page).text)
    same = {k: v for k, v in JOB.items() if not k.startswith(("trailer_", "customer_", "all:race"))}
    assert {k: shown.get(k) for k in same} == same
    assert (shown["1L:race_found"], shown["1R:race_found"]) == ("clean", "line")
    done = shop.post(page, {"finish": "1"})
    secret = SECRET.search(shop.client.get(done.location).text)[1]
    assert len(read_link(client, secret).json["due"]) == 5
    with app.extensions["store"].reading() as connection:
        assert len(connection.execute(select(records)).all()) == 1, "nothing changed on the bench"
        assert len(connection.execute(select(jobs)).all()) == 1
    assert "Store the correction" in shop.client.get(page).text, "a finished job is corrected"


@pytest.mark.slow
def test_a_known_trailer_brings_its_facts_and_its_customer(shop, client):
    finished_job(shop, **{"fact:boat": "yes"})
    page = "/shop/jobs/new?trailer=1"
    assert 'href="/shop/trailers/1"' in shop.client.get("/shop/trailers").text
    shown = fields_of(shop.client.get(page).text)
    assert (shown["fact:axles"], shown["fact:boat"]) == ("1", "yes")
    done = shop.post("/shop/jobs/new", {"work:lamps": "1", "finish": "1"}, page=page)
    secret = SECRET.search(shop.client.get(done.location).text)[1]
    found = read_link(client, secret).json
    assert (found["trailer"]["facts"]["boat"], found["work"]) == ("yes", "Wiring and lamps")
    assert "Ada Lund" in shop.client.get(done.location).text


@pytest.mark.slow
def test_a_record_of_work_stands_with_its_job_and_is_offered_the_next_time(shop):
    """Each part as it was named last: the newest job that says anything of it."""
    first = {"part:bearing_inner": "L68149", "part:seal": "SL 250", "part:tire": "ST205/75R15"}
    first |= {"part:torque": "95 lb-ft", "part:spindle": "BT16", "part:bearing_outer": "L44649"}
    page, _ = finished_job(shop, **first, work_order="WO-7")
    text = shop.client.get(page).text
    assert [given for given in (*first.values(), "WO-7") if given not in text] == []
    again = "/shop/jobs/new?trailer=1"
    shop.post("/shop/jobs/new", {"part:seal": "10-19", "finish": "1"}, page=again)
    offered = shop.client.get(again).text
    for given in (first | {"part:seal": "10-19"}).values():
        assert f"Last time: {given}" in offered
        assert f'<option value="{given}">' in offered
    assert "SL 250" not in offered


# ---- links ------------------------------------------------------------------------------------


def test_a_link_is_shown_again_on_any_of_the_shops_devices_and_stored_nowhere(app, shop):
    page, secret = finished_job(shop)
    assert secret not in repr(dump(app))
    other_device = sign_in(app, shop.login)
    for client in (shop.client, other_device):
        shown = client.get(page).text
        assert SECRET.search(shown)[1] == secret
        answer = client.get(shown.split('<img src="')[1].split('"')[0])
        headers = (answer.content_type, answer.headers["Cache-Control"])
        assert headers == ("image/svg+xml", "no-store")
        assert b"<svg" in answer.data
    assert SECRET.search(other_device.get(f"{page}/sheet").text) is None, "the code is a picture"


@pytest.mark.slow
def test_a_link_made_under_another_key_of_the_server_works_and_is_shown_no_more(app, shop, client):
    page, secret = finished_job(shop)
    picture = shop.client.get(page).text.split('<img src="')[1].split('"')[0]
    with app.extensions["store"].writing() as connection:
        connection.execute(update(links).values(seed="0" * 32))
    assert secret not in shop.client.get(page).text
    assert "cannot be shown again" in shop.client.get(page).text
    assert shop.client.get(picture).status_code == 404
    assert read_link(client, secret).status_code == 200


def test_a_link_that_no_longer_works_has_no_picture(shop):
    page, _ = finished_job(shop)
    picture = shop.client.get(page).text.split('<img src="')[1].split('"')[0]
    shop.press(f"{page}/link", page)
    assert shop.client.get(picture).status_code == 404


LEFT = ("open", "replies")  # what a link that has ended still tells


def test_a_new_link_replaces_the_old_one(shop, client):
    page, old = finished_job(shop)
    answer = shop.press(f"{page}/link", page)
    new = SECRET.search(shop.client.get(answer.location).text)[1]
    assert new != old
    assert error_of(read_link(client, old), 410, LEFT)["code"] == "link_replaced"
    assert read_link(client, new).status_code == 200


def test_a_link_that_is_taken_back_no_longer_works(shop, client):
    page, secret = finished_job(shop)
    link = shop.client.get(page).text.split("/shop/links/")[1].split("/")[0]
    shop.press(f"/shop/links/{link}/revoke", page)
    assert error_of(read_link(client, secret), 410, LEFT)["code"] == "link_revoked"
    assert "no link that works" in shop.client.get(page).text


def test_a_link_ends_after_ninety_days(app, shop, client):
    _, secret = finished_job(shop)
    with app.extensions["store"].writing() as connection:
        row = connection.execute(select(links)).one()
        assert (row.expires - row.made).days == 90
        connection.execute(update(links).values(expires=row.made))
    assert error_of(read_link(client, secret), 410, LEFT)["code"] == "link_expired"
    assert error_of(read_link(client, secret, "opened"), 410)["code"] == "link_expired"


def test_opened_is_kept_once(app, shop, client):
    _, secret = finished_job(shop)
    first = read_link(client, secret, "opened").json
    assert read_link(client, secret, "opened").json == first
    with app.extensions["store"].reading() as connection:
        kept = connection.execute(select(links.c.opened)).scalar_one()
    assert kept.isoformat() == first["opened"]


@pytest.mark.long
@pytest.mark.slow
def test_a_scanner_that_reads_a_link_a_thousand_times_changes_nothing(app, shop, client):
    _, secret = finished_job(shop)
    before = dump(app)
    assert {read_link(client, secret).status_code for _ in range(1000)} == {200}
    assert dump(app) == before


DEAD = {
    "guessed": ("A" * 43, 404),
    "empty": ("", 404),
    "cut off": (None, 404),
    "not text": (43, 422),
    "too long": ("A" * 3000, 404),
}


@pytest.mark.slow
@pytest.mark.parametrize("what", ["read", "opened"])
@pytest.mark.parametrize("case", DEAD)
def test_a_link_that_is_none_is_refused(shop, client, case, what):
    _, secret = finished_job(shop)
    sent, status = DEAD[case]
    error_of(read_link(client, secret[:-1] if sent is None else sent, what), status)


@pytest.mark.slow
def test_guessing_links_is_shut_out_by_address(app, shop, client, monkeypatch):
    _, secret = finished_job(shop)
    refused = [read_link(client, f"{n:043d}").status_code for n in range(70)]
    assert refused.count(404) == 60
    assert set(refused[60:]) == {429}
    assert error_of(read_link(client, f"{71:043d}"), 429)["fix"].startswith("Wait")
    assert read_link(client, secret).status_code == 200, "whoever has a link may read it"
    elsewhere = {"environ_base": {"REMOTE_ADDR": "192.0.2.7"}}
    sent = {"json": {"secret": secret}, "headers": {"X-Twentymile-Device": "0" * 32}}
    assert client.post("/api/links/read", **sent, **elsewhere).status_code == 200


@pytest.mark.slow
def test_the_standing_page_starts_a_walkaround_for_a_borrower(shop, client):
    job, _ = finished_job(shop)
    trailer = shop.client.get(job).text.split("/shop/trailers/")[1].split('"')[0]
    page = f"/shop/trailers/{trailer}/standing"
    assert "Last check: Bench record" in shop.client.get(page).text
    shop.press(page, page)
    shown = shop.client.get(page).text
    found = read_link(client, SECRET.search(shown)[1]).json
    assert (found["kind"], found["work"]) == ("standing", None)
    assert len(found["due"]) == 5
    due = shop.client.get(f"/shop/trailers/{trailer}").text.split("/shop/due/")[1].split("/")[0]
    shop.press(f"/shop/due/{due}/drop", f"/shop/trailers/{trailer}")
    assert len(read_link(client, SECRET.search(shown)[1]).json["due"]) == 4


@pytest.mark.slow
def test_a_due_check_that_came_back_without_its_answer_is_shown_as_such(app, shop, client):
    job, secret = finished_job(shop)
    number = next(x for x in read_link(client, secret).json["due"] if x["check"] == "run_stop")
    trailer = shop.client.get(job).text.split("/shop/trailers/")[1].split('"')[0]
    pages = (job, f"/shop/trailers/{trailer}", "/shop")
    read_link(client, secret, "opened")
    assert not any("not answered" in shop.client.get(page).text for page in pages)
    sent = envelope(record()) | {"link": secret, "due": number["id"]}
    assert client.post("/api/records", json=sent, headers=HEADERS).status_code == 200
    for page in pages:
        assert "came back with questions left open" in shop.client.get(page).text, page


def test_a_link_is_shared_or_copied_where_it_is_handed_over(shop):
    """What sends the text stands beside it; the buttons come to life where the browser can."""
    page = shop.client.get(finished_job(shop)[0]).text
    box = page.partition("<div data-send")[2].partition("</section>")[0]
    for way in ("share", "copy"):
        assert f'data-way="{way}"' in box
    assert "/static/shop/send.js" in page


def test_what_was_on_the_bench_last_time_stands_in_the_title_of_what_is_folded(shop):
    shop.post("/shop/jobs/new", JOB | {"finish": "1"})
    page = shop.client.get("/shop/jobs/new?trailer=1").text
    folds = re.findall(r'<details class="point"( open)?><summary><span>(.*?)</summary>', page, re.S)
    told = {words.partition(" <")[0]: (bool(shown), words) for shown, words in folds}
    found, fitted = told["What was found"], told["What was fitted"]
    assert (found[0], fitted[0]) == (False, True)
    assert "Last time: Dark but smooth, A line or mark, Smooth and bright, Leaking" in found[1]
    assert "Ada Lund</strong></summary>" in page


def test_what_is_filled_is_never_folded_away(shop):
    shop.post("/shop/jobs/new", JOB | {"keep": "1", "part:torque": "90 lb-ft"})
    page = shop.client.get("/shop/jobs/1/edit").text
    assert page.count('<details class="point" open>') == page.count('<details class="point"')
    assert re.search(r"<details open><summary><span>Work order, part numbers", page)
