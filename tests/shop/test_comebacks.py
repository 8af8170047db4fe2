"""What came back after a job, counted by part, wheel, work and season."""

from __future__ import annotations

import re
from datetime import timedelta
from html import unescape

import pytest

from tests.shop.test_inbox import desk
from tests.support.floor import DAY, NOW, add, run_stop, shop_floor
from tests.support.records import uuid7
from webapp.shop import comebacks

SMOKE = {"smoke__1L": "yes"}

# When the check was made, in days after the job was finished; what was answered; whether it counts.
CASES = {
    "a day after the job": (1, SMOKE, 1),
    "89 days after": (89, SMOKE, 1),
    "91 days after": (91, SMOKE, 0),
    "before the job": (-1, SMOKE, 0),
    "nothing bad found": (1, {}, 0),
}


@pytest.mark.parametrize("case", CASES)
def test_which_checks_are_comebacks(app, case):
    days, answers, count = CASES[case]
    floor = shop_floor(app)
    floor.change("jobs", floor.job, finished=NOW - 100 * DAY, work=["bearings", "lamps"])
    made = NOW - 100 * DAY + timedelta(days=days)
    assert floor.send(run_stop(made=made, **answers)).status_code == 200
    page = unescape(desk(floor).get("/shop/comebacks").text)
    assert f"{count} check" in page
    assert ("Left wheel" in page) == bool(count)
    assert page.count("1 of 1 job<") == 2 * count, "each kind of work of the job"


def test_a_comeback_counts_for_the_last_job_before_it(app):
    floor = shop_floor(app)
    floor.change("jobs", floor.job, finished=NOW - 50 * DAY, work=["bearings"])

    whose = {"shop_id": floor.shop, "trailer_id": floor.trailer, "staff_id": floor.staff}
    times = {"opened": NOW - 20 * DAY, "finished": NOW - 20 * DAY}
    add(app, "jobs", **whose, **times, work=["tires"], note="", form=uuid7())
    floor.send(run_stop(made=NOW - 10 * DAY, **SMOKE))
    page = unescape(desk(floor).get("/shop/comebacks").text)
    table = page[page.index("By work") : page.index("By season")]
    assert re.findall(r"<th scope=\"row\">([^<]*)</th>", table) == ["Tires"]


@pytest.mark.slow
def test_another_shop_has_its_own(app):
    floor, other = shop_floor(app), shop_floor(app, "Other Shop")
    floor.send(run_stop(**SMOKE))
    assert "0 checks" in desk(other).get("/shop/comebacks").text


def test_each_job_is_counted_on_one_page_and_a_check_for_one_job(app, monkeypatch):
    """Of two jobs on one trailer, on two pages, only the later has the comeback."""
    monkeypatch.setattr(comebacks, "MOST_JOBS", 1)
    floor = shop_floor(app)
    floor.change("jobs", floor.job, finished=NOW - 50 * DAY, work=["bearings"])
    whose = {"shop_id": floor.shop, "trailer_id": floor.trailer, "staff_id": floor.staff}
    times = {"opened": NOW - 20 * DAY, "finished": NOW - 20 * DAY}
    add(app, "jobs", **whose, **times, work=["tires"], note="", form=uuid7())
    floor.send(run_stop(made=NOW - 10 * DAY, **SMOKE))
    counts, address = [], "/shop/comebacks"
    while address:
        page = unescape(desk(floor).get(address).text)
        counts.append(re.findall(r"(\d+) checks? found .* Jobs looked at: (\d+)", page)[0])
        found = re.search(r'href="(/shop/comebacks\?after=\d+)"', page)
        address = found[1] if found else ""
    assert counts == [("1", "1"), ("0", "1")]
