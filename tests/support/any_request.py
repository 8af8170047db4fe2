"""Made-up requests to every address there is, right ones and wrong ones, from one seed.

What a page's forms ask is taken from the pages themselves, what an address reads from the code, so
that a new page is met without a word here.
"""

from __future__ import annotations

import json
import random
import re
import string
from collections import defaultdict
from collections.abc import Callable
from hashlib import sha256
from io import BytesIO
from typing import Any
from urllib.parse import quote_from_bytes
from uuid import UUID

import html5lib
from flask import Flask
from werkzeug.routing import Rule

from tests.support.floor import Floor, let_in, run_stop, shop_floor
from tests.support.photo_files import camera_file, scene
from tests.support.records import DEVICE, envelope, record
from tests.support.serve import ROOT

WILD: tuple[bytes, ...] = tuple(
    one if isinstance(one, bytes) else one.encode()
    for one in (
        *("", " ", "\0", "²", "٣", "-1", "0", "1,5", "1e309", "NaN", "9" * 40, "9" * 400),
        *(str(2**31), str(2**63), "2026-02-30", "0001-01-01", "9999-12-31", "2026-07-14", "24:61"),
        *("<script>", "'; --", "ß" * 80, "\u202e", "🚛" * 50, "x" * 5000, "../../etc", "%00"),
        *("y", "1", "2", "de", "es", "metric", "a@b", "+1 555", "null", "[]", "{}"),
        *(b"\xed\xa0\x80", b"\xff\xfe", b"\r\nX: y"),
    )
)
NUMBERS = (0, 1, 2, 3, 5, 2**31 - 1, 2**31, 2**63, 10**40)
HEADERS = (
    *("X-Forwarded-For", "X-Twentymile-Clock", "X-Twentymile-Sha256", "X-Twentymile-Device"),
    *("X-Twentymile-Record", "X-Twentymile-Point", "X-Twentymile-Place", "Accept-Language"),
    *("If-None-Match", "Range", "Referer", "Accept", "Cookie", "User-Agent"),
)
PART = re.compile(r"<(?:(\w+)(?:\([^)]*\))?:)?(\w+)>")
JPEG = camera_file(scene(32, 24))
RENEWED = 400  # requests until what they have deleted is there again


def names_read() -> list[str]:
    """What any address reads of a query or of a form past its fields."""
    text = "".join(path.read_text("utf-8") for path in (ROOT / "webapp").rglob("*.py"))
    found = re.findall(r"(?:args|form|values)(?:\.get(?:list)?\(|\[)\"(\w+)\"", text)
    return sorted(set(found))


class AnyRequest:
    """Asks; ``ask`` gives what was asked and how it was answered."""

    def __init__(self, app: Flask, seed: int) -> None:
        self.app, self.random = app, random.Random(seed)
        app.config.update(WTF_CSRF_ENABLED=False, PROPAGATE_EXCEPTIONS=False)
        self.rules = [one for one in app.url_map.iter_rules() if one.endpoint != "static"]
        self.rules += [one for one in app.url_map.iter_rules() if one.endpoint == "static"]
        self.names = names_read()
        self.fields: dict[str, dict[str, list[bytes]]] = defaultdict(dict)  # by endpoint
        self.asked = self.out = self.shops = 0

    def renew(self) -> None:
        """A shop with a job, a check and a photo, and somebody who is signed in."""
        self.out, self.shops = 0, self.shops + 1
        self.floor: Floor = shop_floor(self.app, f"Pell Street Garage {self.shops}")
        self.known = [self.floor.trailer_id]
        for facts in ({}, {"smoke__1L": "yes"}):
            one = run_stop(**facts)
            self.floor.send(one)
            self.known.append(one["id"])
        self.client = self.app.test_client()
        let_in(self.client, self.app, self.floor.staff)
        self.stranger = self.app.test_client()

    def ask(self) -> tuple[str, int]:
        if self.asked % RENEWED == 0:
            self.renew()
        self.asked += 1
        rule = self.random.choice(self.rules)
        self.last = rule.rule
        method = self.random.choice(sorted(rule.methods or ()))
        if self.often(0.03):
            method = self.random.choice(("PUT", "DELETE", "PATCH", "POST", "PURGE"))
        address = self.address(rule)
        # From many places, so that what one has tried often is still looked at from another.
        place = {"REMOTE_ADDR": f"198.51.100.{self.random.randrange(256)}"}
        given = {"headers": self.headers(), "environ_base": place}
        if method in ("POST", "PUT", "PATCH"):
            given |= self.body(rule)
        client = self.stranger if self.often(0.15) else self.client
        answer = client.open(address, method=method, **given)
        if answer.mimetype == "text/html" and answer.status_code < 500:
            self.learn(rule, answer.text)
        if client is self.client:
            self.stay_in(answer)
        answer.close()
        return f"{method} {address} {given!r}"[:3000], answer.status_code

    def stay_in(self, answer: Any) -> None:
        """Whoever was signed out comes in again; where that does not help, it is another shop."""
        out = answer.status_code == 403 or "/shop/sign-in" in answer.headers.get("Location", "")
        self.out = self.out + 1 if out else 0
        if self.out == 1:
            let_in(self.client, self.app, self.floor.staff)
        elif self.out > 1:
            self.renew()

    # ---- what is asked --------------------------------------------------------------------------

    def often(self, share: float) -> bool:
        return self.random.random() < share

    def wild(self) -> bytes:
        if self.often(0.1):
            return bytes(self.random.randrange(256) for _ in range(self.random.randrange(1, 60)))
        return self.random.choice(WILD)

    def address(self, rule: Rule) -> str:
        path = PART.sub(lambda part: self.place(part[1] or "string", part[2]), rule.rule)
        names = self.random.sample(self.names, k=self.random.choice((0, 0, 1, 2)))
        query = "&".join(f"{name}={quote_from_bytes(self.wild())}" for name in names)
        return f"{path}?{query}" if query else path

    def place(self, kind: str, name: str) -> str:
        """Something for a part of an address: mostly what is there, sometimes what cannot be."""
        if kind == "int":
            mine = getattr(self.floor, name.removesuffix("_id"), 1)
            return str(mine if self.often(0.6) else self.random.choice(NUMBERS))
        if kind == "uuid":
            return self.random.choice([*self.known, str(UUID(int=0))])
        if kind == "any":
            return self.random.choice(("app", "later", "shop", "figures", "road"))
        if kind == "path":
            return self.random.choice(("app.js", "../app.js", "%00", "shop/send.js", "a/b"))
        return quote_from_bytes(self.wild(), safe="") or "en"

    def headers(self) -> dict[str, str]:
        """As a phone or a browser sends them, or with something odd among them."""
        found = {"X-Twentymile-Device": DEVICE, "Accept": "text/html"}
        if self.often(0.3):
            text = self.wild().decode("latin-1").translate({10: "", 13: ""})
            found[self.random.choice(HEADERS)] = text
        return found

    def body(self, rule: Rule) -> dict[str, Any]:
        if rule.rule.startswith("/api/photos") and self.often(0.5):
            sent = JPEG if self.often(0.5) else self.mangled(JPEG)
            return {"data": sent, "content_type": "image/jpeg"}
        if rule.rule.startswith("/api/") or self.often(0.05):
            return self.as_json()
        if self.often(0.05):
            kind = self.random.choice(("text/plain", "multipart/form-data", "application/json"))
            return {"data": self.wild(), "content_type": kind}
        return self.as_form(rule)

    def as_form(self, rule: Rule) -> dict[str, Any]:
        here = self.fields[rule.endpoint]
        sent: dict[str, Any] = {}
        odd = self.random.choice((0, 0.03, 0.2))  # of a form with much that is odd little is read
        for name in [*here, *self.random.sample(self.names, k=2)]:
            if self.often(odd):
                continue
            known = here.get(name) or [b""]
            values = [self.wild() if self.often(odd) else self.near(self.random.choice(known))]
            sent[name] = [one.decode("utf-8", "surrogateescape") for one in values]
        files = {"file", "photo", "photos", "table"} & set(here)
        if files or self.often(0.03):
            for name in files or {"file"}:
                text = self.random.choice((JPEG, self.mangled(JPEG), b"Name,Phone\nAnn,555\n"))
                sent[name] = (BytesIO(text), "x.jpg")
            return {"data": {k: v for k, v in sent.items() if utf8(v)}}
        pairs = ((k, one) for k, values in sent.items() for one in values)
        raw = "&".join(
            f"{k}={quote_from_bytes(one.encode('utf-8', 'surrogateescape'))}" for k, one in pairs
        )
        return {"data": raw, "content_type": "application/x-www-form-urlencoded"}

    def as_json(self) -> dict[str, Any]:
        one = record()
        right = self.random.choice(
            (
                envelope(one),
                envelope(one) | {"link": self.floor.secret, "due": self.floor.due},
                {"records": [envelope(one), envelope(record())]},
                {"secret": self.floor.secret},
                {"items": self.known, "records": self.known, "photos": self.known},
                {"bundle": {"records": [one]}, "secret": "x" * 43},
            )
        )
        body = right if self.often(0.3) else self.bent(right)
        if isinstance(body, dict) and "record" in body and self.often(0.7):
            text = json.dumps(body["record"], sort_keys=True, separators=(",", ":"))
            body["hash"] = sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
        text = json.dumps(body)
        sent = self.mangled(text.encode()) if self.often(0.1) else text.encode()
        return {"data": sent, "content_type": "application/json"}

    def near(self, value: bytes) -> bytes:
        """The value of a field; where it is JSON, as what a page was drawn from, mostly bent."""
        if not value.startswith(b"{") or self.often(0.3):
            return value
        found = self.bent(json.loads(value))
        if isinstance(found, dict) and self.often(0.3):
            found |= {self.random.choice(string.ascii_letters): self.random.choice(NUMBERS)}
        return json.dumps(found).encode()

    def bent(self, node: Any) -> Any:
        """The same with one thing in it replaced by something else."""
        if isinstance(node, dict) and node and self.often(0.85):
            key = self.random.choice(sorted(node))
            return node | {key: self.bent(node[key])}
        if isinstance(node, list) and node and self.often(0.8):
            at = self.random.randrange(len(node))
            return [*node[:at], self.bent(node[at]), *node[at + 1 :]]
        odd: list[Callable[[], Any]] = [
            lambda: self.wild().decode("utf-8", "replace"),
            lambda: self.random.choice(NUMBERS),
            lambda: self.random.choice((None, True, -1, 1e308, float("nan"), [], {}, "\ud800")),
            lambda: [[[[node]]]],
            lambda: {self.random.choice(string.ascii_letters): node},
        ]
        return self.random.choice(odd)()

    def mangled(self, sent: bytes) -> bytes:
        at = self.random.randrange(len(sent) or 1)
        return sent[:at] + self.wild() + sent[at + self.random.randrange(40) :]

    # ---- what is learned ------------------------------------------------------------------------

    def learn(self, rule: Rule, page: str) -> None:
        """The fields of a page's forms with what stands in them, for those who read the forms."""
        if not self.often(0.1) and rule.endpoint in self.fields:
            return
        tree = html5lib.parse(page, namespaceHTMLElements=False)
        for form in tree.iter("form"):
            target = self.endpoint(form.get("action") or "") or rule.endpoint
            for one in form.iter():
                if one.tag in ("input", "select", "textarea", "button") and one.get("name"):
                    values = [option.get("value") for option in one.iter("option")]
                    values.append(one.get("value") or one.text)
                    found = [str(value).encode() for value in values if value]
                    self.fields[target][one.get("name")] = found or [b""]

    def endpoint(self, action: str) -> str | None:
        try:
            match = self.app.url_map.bind("localhost").match(action.partition("?")[0], "POST")
        except Exception:  # no address of ours
            return None
        return str(match[0])


def utf8(value: Any) -> bool:
    """Whether the test client can put it into a form of several parts."""
    if isinstance(value, tuple):
        return True
    try:
        return bool("".join(value).encode() or True)
    except UnicodeEncodeError:
        return False
