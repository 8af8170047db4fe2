"""What the rows of a table become: new customers and trailers, what is here already, what is wrong.

Nothing is stored before somebody has seen this; `store` then does it in one transaction.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from marshmallow import EXCLUDE, Schema, ValidationError, fields, validate
from sqlalchemy import Connection, select
from uuid_utils import uuid7

from checks.facts import BadInput
from webapp.clock import local_now
from webapp.follow_up import upkeep
from webapp.mail_address import is_mail_address
from webapp.shop import bench, measures, questions, tables
from webapp.shop.spreadsheet import Spreadsheet, plain
from webapp.storage import finds
from webapp.storage.models import customers, sort_key, trailers
from webapp.wording import say

Json = dict[str, Any]
KINDS = ("trailers", "customers")
PEOPLE = ("customer", "phone", "email")
OWN = {"trailers": ("trailer", "plate", "vin", *PEOPLE), "customers": PEOPLE}
NEEDED = {"trailers": "trailer", "customers": "customer"}


def text_of(most: int) -> fields.String:
    """A text; its fault is told by the number alone, which the words then say."""
    return fields.String(load_default="", validate=validate.Length(max=most, error=str(most)))


class RowSchema(Schema):
    """One row's own words; how long each may be is what the tables hold."""

    class Meta:
        unknown = EXCLUDE

    customer, trailer = text_of(80), text_of(80)
    phone, plate, vin = text_of(40), text_of(16), text_of(20)
    email = text_of(254)


@dataclass
class Line:
    """A row of the file: ``number`` is its line, ``wrong`` pairs of a column and what to put right,
    ``same`` says what it seems to be that is here already."""

    number: int
    cells: dict[str, str]
    facts: Json = field(default_factory=dict)
    wrong: list[tuple[str, str]] = field(default_factory=list)
    same: str = ""
    hint: str = ""
    becomes: str = ""
    owner: int | None = None


def heads(kind: str) -> dict[str, str]:
    """Our column by each head that is understood, as ``plain`` has it."""
    found = {}
    for name in OWN[kind]:
        for called in (name, *say(f"shop-take-called-{name}").split(",")):
            found[plain(called)] = name
    if kind == "customers":
        return found | {"name": "customer"}
    for name in asked():
        fact = questions.book()["facts"][name]
        found |= {plain(name): name, plain(tables.fact_head(name)): name}
        found[plain(str(questions.question(name)["ask"]))] = name
        if fact["kind"] == "number":
            found |= {plain(f"{name}_{unit}"): f"{name}_{unit}" for unit in fact["show"].values()}
    return found


def asked() -> list[str]:
    return [one["name"] for one in questions.profile()]


def template(kind: str) -> list[str]:
    """The heads of an empty table."""
    own = list(OWN[kind])
    return own if kind == "customers" else own + [tables.fact_head(name) for name in asked()]


# ---- reading ------------------------------------------------------------------------------------


def lines(connection: Connection, shop_id: int, kind: str, sheet: Spreadsheet) -> list[Line]:
    """What each row becomes, beside what the shop has and what stands above it in the file."""
    found = []
    seen = Seen(connection, shop_id)
    for number, cells in zip(sheet.numbers, sheet.rows, strict=True):
        line = Line(number, cells)
        line.wrong += misfits(cells, kind)
        if kind == "trailers":
            read_facts(line)
        if not line.wrong:
            seen.place(line, kind)
        found.append(line)
    return found


def misfits(cells: Mapping[str, str], kind: str) -> list[tuple[str, str]]:
    wrong = []
    if not cells[NEEDED[kind]]:
        wrong.append((NEEDED[kind], say("shop-take-cell-missing")))
    if (cells.get("phone") or cells.get("email")) and not cells.get("customer"):
        wrong.append(("customer", say("shop-take-cell-whose")))
    try:
        RowSchema().load(dict(cells))
    except ValidationError as error:
        told = error.messages_dict.items()
        wrong += [(name, say("form-too-long", most=str(texts[0]))) for name, texts in told]
    if cells.get("email") and not is_mail_address(cells["email"]):
        wrong.append(("email", say("shop-take-cell-email")))
    return wrong


def read_facts(line: Line) -> None:
    """The answers about a trailer, by their words or ids; numbers in their unit or the shop's."""
    for head, cell in line.cells.items():
        name, unit = named(head)
        if not cell or name not in questions.book()["facts"]:
            continue
        form = {f"fact:{name}": choice_of(name, cell)}
        if unit and questions.is_digits(cell.replace(".", "", 1)):
            form = {f"fact:{name}": f"{cell} {unit}"}
        facts = questions.profile_answers(form)
        try:
            bench.judged(facts, local_now())
        except BadInput as error:
            options = [text for _, text in questions.question(name)["options"]]
            listed = say("shop-take-cell-choice", choices="; ".join(options[:12]))
            line.wrong.append((head, listed if options else questions.mistake(error)))
        else:
            line.facts |= facts


def named(head: str) -> tuple[str, str]:
    """A question's name and the unit that its column says, if it does."""
    if head in questions.book()["facts"]:
        fact = questions.book()["facts"][head]
        number = fact["kind"] == "number" and fact["unit"] != "count"
        return head, measures.fact_unit(fact) if number else ""
    name, _, unit = head.rpartition("_")
    return name, unit


def choice_of(name: str, cell: str) -> str:
    """The id of the choice that a cell names by its words or id; the cell where it is none."""
    options = questions.question(name)["options"]
    called = {plain(text): one for one, text in options}
    return str(called.get(plain(cell), cell.casefold() if options else cell))


def digits(phone: str) -> str:
    return "".join(x for x in phone if x.isascii() and x.isdigit())[-10:]


class Seen:
    """What the shop has and what the file had so far, by what things are known by."""

    def __init__(self, connection: Connection, shop_id: int) -> None:
        mine = (customers.c.shop_id == shop_id, customers.c.merged_into.is_(None))
        self.people: dict[str, list[tuple[int | None, str]]] = {}
        for row in connection.execute(select(customers).where(*mine)):
            self.people.setdefault(sort_key(row.name), []).append((row.id, digits(row.phone)))
        self.known: dict[tuple[str, str], str] = {}
        here = (trailers.c.shop_id == shop_id, trailers.c.merged_into.is_(None))
        wanted = select(trailers, customers.c.name.label("whose")).outerjoin(
            customers, customers.c.id == trailers.c.customer_id
        )
        for row in connection.execute(wanted.where(*here)):
            for key in trailer_keys(row.name, row.plate, row.vin, row.whose or ""):
                self.known[key] = say("shop-take-here", name=row.name)

    def place(self, line: Line, kind: str) -> None:
        cells = line.cells
        whose = self.person(line) if cells.get("customer") else ""
        if kind == "customers":
            line.becomes = whose
            return
        keys = trailer_keys(*(cells.get(n, "") for n in ("trailer", "plate", "vin", "customer")))
        line.same = next((self.known[key] for key in keys if key in self.known), "")
        words = "shop-take-trailer-of" if whose else "shop-take-trailer"
        line.becomes = say(words, name=cells["trailer"], whose=whose)
        for key in keys:
            self.known.setdefault(key, say("shop-take-above", row=str(line.number)))

    def person(self, line: Line) -> str:
        """Whose it is: somebody who is here, who stands above, or who is new."""
        name, phone = line.cells["customer"], digits(line.cells.get("phone", ""))
        there = self.people.setdefault(sort_key(name), [])
        fits = [one for one in there if not phone or not one[1] or one[1] == phone]
        if len(fits) > 1 and not phone:
            line.wrong.append(("customer", say("shop-take-cell-two", name=name)))
            return ""
        if fits:
            best = next((one for one in fits if one[1] == phone), fits[0])
            line.owner = best[0]
            if "trailer" not in line.cells:
                line.same = say("shop-take-here", name=name)
            return say("shop-take-known", name=name)
        if there:
            line.hint = say("shop-take-namesake", name=name)
        there.append((None, phone))
        return say("shop-take-new", name=name)


def trailer_keys(name: str, plate: str, vin: str, whose: str) -> list[tuple[str, str]]:
    """What a trailer is known by: its VIN, its plate, its name with its owner."""
    keys = [("vin", plain(vin)), ("plate", plain(plate))]
    return [key for key in keys if key[1]] + [("name", f"{sort_key(name)}|{sort_key(whose)}")]


# ---- storing ------------------------------------------------------------------------------------


def store(connection: Connection, shop_id: int, kind: str, taken: list[Line]) -> Json:
    """Store the lines; the ids of what is new, by table. All that is asked is known to fit."""
    made: Json = {"customers": [], "trailers": []}
    new: dict[tuple[str, str], int] = {}
    for line in taken:
        owner = line.owner
        if owner is None and line.cells.get("customer"):
            owner = customer_of(connection, shop_id, line.cells, new, made["customers"])
        if kind == "trailers":
            made["trailers"].append(add_trailer(connection, shop_id, line, owner))
    for row_id in made["customers"]:
        finds.renew_customer(connection, row_id)
    for row_id in made["trailers"]:
        upkeep.renew_trailer(connection, row_id)
    return made


def customer_of(
    connection: Connection,
    shop_id: int,
    cells: Mapping[str, str],
    new: dict[tuple[str, str], int],
    made: list[int],
) -> int:
    """One customer for all rows that name the same, with the same phone or none."""
    key = (sort_key(cells["customer"]), digits(cells.get("phone", "")))
    known = [new[one] for one in new if one[0] == key[0] and (not key[1] or key[1] == one[1])]
    if known:
        return known[0]
    names = {"name": cells["customer"], "shop_id": shop_id}
    names |= {name: cells.get(name, "") for name in ("phone", "email")}
    done = connection.execute(customers.insert().values(**names))
    new[key] = int(done.inserted_primary_key[0])  # type: ignore[index]
    made.append(new[key])
    return new[key]


def add_trailer(connection: Connection, shop_id: int, line: Line, owner: int | None) -> int:
    values: Json = {"shop_id": shop_id, "customer_id": owner, "record_id": str(uuid7())}
    values |= {"name": line.cells["trailer"], "facts": line.facts}
    values |= {name: line.cells.get(name, "").upper() for name in ("plate", "vin")}
    done = connection.execute(trailers.insert().values(**values))
    return int(done.inserted_primary_key[0])  # type: ignore[index]
