"""Whatever a form of the shop refuses stands at an address of its own, and is no 200."""

from __future__ import annotations

import pytest

from tests.support.shops import a_shop, dump, fields_of, finished_job

# Where a form goes, what is wrong in it, and the page it stands on where that is another one.
REFUSED = {
    "a job without a trailer": ("/shop/jobs/new", {"trailer_name": "", "finish": "1"}, ""),
    "axles nobody has": ("/shop/jobs/1/edit", {"fact:axles": "9", "keep": "1"}, ""),
    "no photo": ("/shop/jobs/1/photos", {}, "/shop/jobs/1"),
    "a trailer without a name": ("/shop/trailers/new", {"name": ""}, ""),
    "a trailer whose name is taken away": ("/shop/trailers/1/edit", {"name": ""}, ""),
    "a customer without a name": ("/shop/customers/1", {"name": ""}, ""),
    "a shop without a name": ("/shop/details", {"name": ""}, ""),
    "staff without a name": ("/shop/staff", {"name": ""}, ""),
    "a wrong password": ("/shop/account", {"old": "x", "new": "y" * 12, "again": "y" * 12}, ""),
    "no months at all": ("/shop/recall", {"months": "0"}, ""),
    "no file": ("/shop/take-in", {}, ""),
    "an empty note": ("/shop/checks/{record}", {"text": " "}, ""),
}


@pytest.mark.parametrize(("path", "wrong", "page"), REFUSED.values(), ids=REFUSED.keys())
def test_a_refused_form_is_read_again_without_sending_it(app, path, wrong, page):
    shop = a_shop(app)
    finished_job(shop)
    with app.extensions["store"].reading() as connection:
        record = connection.exec_driver_sql("SELECT id FROM records").scalar_one()
    path = path.format(record=record)
    fields = fields_of(shop.client.get(page or path).text)
    before = dump(app)
    answer = shop.client.post(path, data=fields | wrong)
    assert answer.status_code == 303
    assert answer.location.startswith(f"{path}?refused=")
    for _ in "ab":
        assert shop.client.get(answer.location).status_code == 422
    after = dump(app)
    assert [name for name in before if before[name] != after[name]] in ([], ["refused"])
