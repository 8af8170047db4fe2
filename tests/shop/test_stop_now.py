"""A *Stop now* through every way it can arrive: it stands everywhere until somebody decides it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from html import unescape
from typing import Any

import pytest
from flask import Flask

from tests.shop.test_inbox import HOT, desk, listed, read
from tests.support.floor import DAY, NOW, OTHER_PHONE, Floor, run_stop, shop_floor
from tests.support.shops import read_link

MINUTE = timedelta(minutes=1)


@pytest.fixture
def floor(app: Flask) -> Floor:
    return shop_floor(app)


def sent(link: Floor, one: dict[str, Any], **more: Any) -> str:
    answer = link.send(one, **more)
    assert answer.status_code == 200, answer.text
    return str(one["id"])


def by_customer(floor: Floor) -> str:
    return sent(floor, run_stop(**HOT))


def for_what_is_due(floor: Floor) -> str:
    return sent(floor, run_stop(**HOT), due=floor.due)


def at_the_desk(floor: Floor) -> str:
    standing = floor.another_link(kind="standing", job_id=None, customer_id=None)
    return sent(standing, run_stop(**HOT))


def from_a_second_phone(floor: Floor) -> str:
    one = run_stop(**HOT)
    sent(floor, one)
    return sent(floor, one, headers=OTHER_PHONE)


def doubled(floor: Floor) -> str:
    one = run_stop(**HOT)
    sent(floor, one)
    return sent(floor, one)


def out_of_order(floor: Floor) -> str:
    """The clean check was made later and arrives first."""
    sent(floor, run_stop(made=NOW))
    return sent(floor, run_stop(made=NOW - 60 * MINUTE, **HOT))


def late(floor: Floor) -> str:
    ended = floor.another_link(expires=NOW - DAY, opened=NOW - 9 * DAY)
    return sent(ended, run_stop(made=NOW - 2 * DAY, **HOT))


def after_renewal(floor: Floor) -> str:
    floor.change("links", floor.link, replaced=NOW - MINUTE)
    return sent(floor, run_stop(made=NOW - DAY, **HOT))


WAYS: dict[str, Callable[[Floor], str]] = {
    "on a customer's link": by_customer,
    "for a due check": for_what_is_due,
    "on the desk's code": at_the_desk,
    "from the owner's second phone too": from_a_second_phone,
    "sent twice": doubled,
    "after a check that was made later": out_of_order,
    "late, on a link that has ended": late,
    "on a link that was renewed meanwhile": after_renewal,
}


def shown(floor: Floor) -> dict[str, bool]:
    """Where the trailer says *Stop now*, by place."""
    fresh = floor.another_link()
    pages = {
        "inbox": "/shop",
        "trailer page": f"/shop/trailers/{floor.trailer}",
        "list of trailers": "/shop/trailers",
        "desk sheet": f"/shop/trailers/{floor.trailer}/standing",
    }
    found = {place: "Stop now" in head(read(floor, at)) for place, at in pages.items()}
    told = read_link(floor.app.test_client(), fresh.secret).json["open"]
    return found | {"link": told is not None and told["level"] == "stop"}


def head(page: str) -> str:
    """The page down to the list of all checks, which keeps each as it was."""
    return unescape(page).partition("<h2>Checks</h2>")[0]


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS.keys())
def test_a_stop_now_stands_everywhere_until_it_is_decided(floor: Floor, way: Any) -> None:
    record = way(floor)
    everywhere = dict.fromkeys(("inbox", "trailer page", "list of trailers", "desk sheet"), True)
    assert shown(floor) == everywhere | {"link": True}
    # A newer one without a finding repaints nothing.
    sent(floor, run_stop(made=datetime.now(UTC) + MINUTE))
    assert shown(floor) == everywhere | {"link": True}
    assert len(floor.rows("mails")) == 1
    desk(floor).post(f"/shop/checks/{record}", data={"text": "Towed in.", "decided": "y"})
    assert shown(floor) == dict.fromkeys([*everywhere, "link"], False)


def test_what_comes_on_a_link_taken_back_waits_in_a_tray_and_paints_no_trailer(
    floor: Floor,
) -> None:
    floor.change("links", floor.link, revoked=NOW - MINUTE)
    record = sent(floor, run_stop(made=NOW - DAY, **HOT), due=floor.due)
    page = read(floor)
    assert "Came on a link taken back" in page
    assert listed(page) == [record]
    assert floor.rows("due")[0]["record_id"] is None
    found = shown(floor)
    assert (found["inbox"], found["trailer page"], found["link"]) == (True, False, False)
    assert len(floor.rows("mails")) == 1
    desk(floor).post(f"/shop/checks/{record}", data={"text": "Not ours.", "decided": "y"})
    assert listed(read(floor)) == []
