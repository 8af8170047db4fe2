"""Records have the server's bytes, and a file of them is proven whole before it is taken."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
import rfc8785
from playwright.sync_api import Browser, Page

from tests.support.phone import Phone, installed, phone

RECORD = "import('/static/data/records.js')"


# FIPS 180-4, examples in NIST's "SHA-256" document; the lengths sit around the 64-byte block.
@pytest.mark.parametrize(
    ("text", "digest"),
    [
        ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
        *((("\u00e9x" * 40)[:n], "") for n in (0, 1, 36, 37, 38, 41, 42, 43, 80)),
    ],
)
def test_the_phones_own_hash_is_sha256(scripts: Page, text: str, digest: str) -> None:
    own = scripts.evaluate(
        f"""async text => {{
          const bytes = (await {RECORD}).digest(new TextEncoder().encode(text));
          return [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
        }}""",
        text,
    )
    assert own == hashlib.sha256(text.encode()).hexdigest()
    assert digest in ("", own)


# RFC 8785, section 3.2, and what a record can hold.
@pytest.mark.parametrize(
    "value",
    [
        {"numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 1e-27, -0.0, 20.0]},
        {"literals": [None, True, False], "string": '\u20ac$\u000f\nA\'B"\\"/'},
        {"\u20ac": 1, "\r": 2, "\ufb33": 3, "1": 4, "\U0001f600": 5, "\u0080": 6, "\u00f6": 7},
        {"facts": {"air": 20.000000000000004, "hub_feel@1L": "cold", "smoke@1L": None}, "e": {}},
    ],
)
def test_the_phones_canonical_text_is_the_servers(scripts: Page, value: Any) -> None:
    text = scripts.evaluate(f"async v => (await {RECORD}).canonical(v)", value)
    assert text.encode() == rfc8785.dumps(value)


@pytest.mark.parametrize("broken", ["NaN", "Infinity", "'\\ud800'", "[undefined]", "(() => 1)"])
def test_what_json_cannot_say_has_no_hash(scripts: Page, broken: str) -> None:
    said = scripts.evaluate(
        f"async () => (await {RECORD}).hashOf({broken}).then(() => 'hash', (e) => e.name)"
    )
    assert said == "TypeError"


def test_identifiers_are_version_7_and_sort_by_time(scripts: Page) -> None:
    made = scripts.evaluate(
        f"async () => {{ const {{ uuid7 }} = await {RECORD};"
        " return [0, 1, 1753000000000, 1753000000001].map((t) => uuid7(t)); }"
    )
    assert [UUID(one).version for one in made] == [7, 7, 7, 7]
    assert [UUID(one).variant for one in made] == ["specified in RFC 4122"] * 4
    assert made == sorted(made)
    assert int(made[2].replace("-", "")[:12], 16) == 1753000000000


@pytest.fixture(scope="module")
def one(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """A phone with one kept check and one unfinished one."""
    with installed(chromium, server) as here:
        here.begin("quick_stop")
        here.finish()
        here.open()
        here.begin("quick_stop")
        here.answer()
        yield here


@pytest.fixture(scope="module")
def saved(one: Phone) -> dict[str, Any]:
    """The file the phone saves, read."""
    one.open("#/settings")
    with one.page.expect_download() as download:
        one.tap("Save everything to a file")
    data: dict[str, Any] = json.loads(Path(download.value.path()).read_text("utf-8"))
    return data


def fetch(one: Phone, text: str) -> str:
    """Give the phone a file; what it says about it."""
    one.open()
    one.settle()
    one.open("#/settings")
    one.settle()
    payload = {"name": "f.json", "mimeType": "application/json", "buffer": text.encode()}
    one.page.set_input_files("#file", payload)  # type: ignore[arg-type]
    said = one.page.locator("section .trouble, section [role=status]")
    said.wait_for()
    return said.inner_text()


def everything(one: Phone) -> list[Any]:
    return [one.stored(kind) for kind in ("records", "drafts", "rulebooks", "outbox")]


@pytest.mark.long
def test_the_file_holds_what_the_phone_holds(one: Phone, saved: dict[str, Any]) -> None:
    assert [r["record"] for r in saved["records"]] == [r["record"] for r in one.stored("records")]
    assert saved["drafts"] == one.stored("drafts")
    for item in saved["records"]:
        assert hashlib.sha256(rfc8785.dumps(item["record"])).hexdigest() == item["hash"]
        judged_by = item["record"]["body"]["rulebook"]
        assert judged_by in [book["hash"] for book in saved["rulebooks"]]


def cut(data: dict[str, Any]) -> str:
    text = json.dumps(data)
    return text[: len(text) * 2 // 3]


def other_version(data: dict[str, Any]) -> str:
    return json.dumps(data | {"version": 99})


def other_format(data: dict[str, Any]) -> str:
    return json.dumps(data | {"format": "something else"})


def changed_answer(data: dict[str, Any]) -> str:
    copy = json.loads(json.dumps(data))
    copy["records"][0]["record"]["body"]["verdict"]["level"] = "nothing"
    return json.dumps(copy)


def same_id_other_content(data: dict[str, Any]) -> str:
    copy = json.loads(json.dumps(data))
    item = copy["records"][0]
    item["record"]["body"]["verdict"]["level"] = "nothing"
    item["hash"] = hashlib.sha256(rfc8785.dumps(item["record"])).hexdigest()
    return json.dumps(copy)


def changed_rulebook(data: dict[str, Any]) -> str:
    copy = json.loads(json.dumps(data))
    copy["rulebooks"][0]["findings"]["hub_too_hot"]["level"] = "look"
    return json.dumps(copy)


def changed_words(data: dict[str, Any]) -> str:
    copy = json.loads(json.dumps(data))
    copy["words"][0]["say"]["level-stop"] = "Go"
    return json.dumps(copy)


def part_missing(data: dict[str, Any]) -> str:
    return json.dumps({key: data[key] for key in data if key != "drafts"})


@pytest.mark.long
@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (cut, "cut off"),
        (other_version, "version 99"),
        (other_format, "not a Twentymile file"),
        (changed_answer, "changed after it was saved"),
        (same_id_other_content, "differs from the one on this phone"),
        (changed_rulebook, "part of the file is missing or not whole"),
        (changed_words, "part of the file is missing or not whole"),
        (part_missing, "part of the file is missing"),
    ],
)
def test_a_bad_file_changes_nothing(
    one: Phone, saved: dict[str, Any], spoil: Any, says: str
) -> None:
    before = everything(one)
    message = fetch(one, spoil(saved))
    assert says in message
    assert "othing was changed" in message
    assert everything(one) == before


@pytest.mark.long
def test_the_same_file_twice_is_kept_once(one: Phone, saved: dict[str, Any]) -> None:
    before = everything(one)
    assert "Here already: 1" in fetch(one, json.dumps(saved))
    assert everything(one) == before


@pytest.mark.long
def test_another_phone_takes_the_file_and_shows_the_check_as_judged(
    chromium: Browser, server: str, saved: dict[str, Any], tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server) as other:
        other.open()
        assert "Added. Records: 1. Unfinished checks: 1." in fetch(other, json.dumps(saved))
        kept = saved["records"][0]["record"]
        other.open(f"#/check/{kept['id']}")
        other.settle()
        assert kept["body"]["rulebook"][:12] in other.page.text_content("main")
        assert (
            other.page.locator(".head .sign").get_attribute("class").split()[1]
            == (kept["body"]["verdict"]["level"])
        )
        assert [d["id"] for d in other.stored("drafts")] == [d["id"] for d in saved["drafts"]]


def words_inside(said: dict[str, Any]) -> dict[str, Any]:
    """Words as rulebooks held them before they stood apart: by kind, then name."""
    heads = {"fact": "ask", "finding": "title", "level": "word", "check": "name"}
    made: dict[str, Any] = {"fact": {}, "finding": {}, "level": {}, "check": {}}
    for name, text in said.items():
        kind, _, rest = name.partition("-")
        one, _, part = rest.partition(".")
        if kind not in heads:
            made.setdefault(kind, {})[one] = text
        elif part.startswith("choice-"):
            made[kind][one].setdefault("choices", {})[part.removeprefix("choice-")] = text
        else:
            made[kind].setdefault(one, {})[part or heads[kind]] = text
    return made


def made_under_other_rules(data: dict[str, Any]) -> tuple[str, str]:
    """The file of an early phone, whose rulebooks had their words inside, and its check."""
    copy = json.loads(json.dumps(data))
    book, record = copy["rulebooks"][0], copy["records"][0]["record"]
    book["words"] = words_inside(copy.pop("words")[0]["say"])
    book["words"]["level"][record["body"]["verdict"]["level"]]["word"] = "As it was called then"
    rest = {key: value for key, value in book.items() if key != "hash"}
    book["hash"] = hashlib.sha256(rfc8785.dumps(rest)).hexdigest()
    record["id"] = record["id"][:-4] + "0000"
    record["body"]["rulebook"] = book["hash"]
    copy["records"][0]["hash"] = hashlib.sha256(rfc8785.dumps(record)).hexdigest()
    draft = copy["drafts"][0]
    draft |= {"id": record["id"][:-4] + "0001", "rulebook": book["hash"]}
    draft["facts"] |= {"no_longer_asked": "yes", "brakes": "no_longer_a_choice"}
    return json.dumps(copy), record["id"]


@pytest.mark.long
def test_a_check_is_shown_by_the_rulebook_it_was_judged_by(
    one: Phone, saved: dict[str, Any]
) -> None:
    text, check = made_under_other_rules(saved)
    assert "Added. Records: 1." in fetch(one, text)
    one.open(f"#/check/{check}")
    one.settle()
    assert "As it was called then" in one.page.inner_text(".head")


def test_a_draft_of_an_earlier_rulebook_is_asked_again_what_no_longer_fits(
    one: Phone, saved: dict[str, Any]
) -> None:
    text, check = made_under_other_rules(saved)
    fetch(one, text)
    draft = check[:-4] + "0001"
    one.open(f"#/answers/{draft}")
    one.settle()
    assert "laid aside and not counted: 2" in one.page.inner_text(".note >> nth=-1")
    one.open(f"#/ask/{draft}/air")
    one.settle()
    one.answer()
    kept = next(item for item in one.stored("drafts") if item["id"] == draft)
    assert kept["aside"] == {"no_longer_asked": "yes", "brakes": "no_longer_a_choice"}
    assert "brakes" not in kept["facts"]  # type: ignore[operator]


# A phone that has begun a check, and what a file of another phone brings of it.
BRING = """async ({ here, file }) => {
  const { MemoryStore } = await import("/static/data/memory.js");
  const { exportText, readExport } = await import("/static/data/files.js");
  const { seal } = await import("/static/data/records.js");
  const draft = { id: "d", check: "tires", facts: {} };
  const sealed = await seal("check", { check: "tires", facts: {} });
  const kept = ["records", { ...sealed, draft: "d" }], begun = ["drafts", draft];
  const changes = (parts) => parts.map((part) => (part === "kept" ? kept : begun));
  const [one, other] = [new MemoryStore(), new MemoryStore()];
  await one.commit(changes(here));
  await other.commit(changes(file));
  await one.commit((await readExport(await exportText(other), one)).changes);
  return [(await one.all("records")).length, (await one.all("drafts")).length];
}"""


# A photo of a check that one phone has kept and the other has begun, and a file between them.
PHOTO = """async ({ here, file, photoHere, photoThere }) => {
  const { MemoryStore } = await import("/static/data/memory.js");
  const { exportText, readExport } = await import("/static/data/files.js");
  const { seal, sha256 } = await import("/static/data/records.js");
  const data = new Uint8Array([1, 2, 3]), hash = await sha256(data);
  const sealed = await seal("check", { check: "tires", facts: {} });
  const parts = {
    kept: [["records", { ...sealed, draft: "d" }]],
    begun: [["drafts", { id: "d", check: "tires", facts: {} }]],
    photo: [["photos", { id: "p", check: "d", hash, type: "image/jpeg" }],
      ["pictures", { id: "p", type: "image/jpeg", data: data.buffer }]],
  };
  const store = async (check, photo) => {
    const made = new MemoryStore();
    await made.commit([...parts[check], ...(photo ? parts.photo : [])]);
    return made;
  };
  const [one, other] = [await store(here, photoHere), await store(file, photoThere)];
  await one.commit((await readExport(await exportText(other), one)).changes);
  const waiting = (await one.all("outbox")).filter(({ id }) => id === "p");
  return waiting.map(({ check }) => check === sealed.id);
}"""


@pytest.mark.parametrize(
    ("here", "file", "photo_here", "photo_there", "waits"),
    [
        ("kept", "begun", False, True, [True]),
        ("begun", "kept", False, True, [True]),
        ("begun", "kept", True, True, [True]),
        ("begun", "kept", True, False, [True]),
        ("begun", "begun", False, True, []),
        ("kept", "kept", False, True, [True]),
        ("kept", "kept", True, True, []),
    ],
)
def test_a_photo_waits_with_its_check_wherever_that_was_kept(
    scripts: Page, here: str, file: str, photo_here: bool, photo_there: bool, waits: list[bool]
) -> None:
    case = {"here": here, "file": file, "photoHere": photo_here, "photoThere": photo_there}
    assert scripts.evaluate(PHOTO, case) == waits


@pytest.mark.parametrize(
    ("here", "file", "then"),
    [
        ([], ["begun"], (0, 1)),
        ([], ["kept", "begun"], (1, 1)),
        (["kept"], ["begun"], (1, 0)),
        (["kept"], ["kept", "begun"], (1, 0)),
        (["begun"], ["kept"], (1, 1)),
        (["begun"], ["begun"], (0, 1)),
    ],
)
def test_a_check_that_is_kept_here_does_not_begin_again_by_a_file(
    scripts: Page, here: list[str], file: list[str], then: tuple[int, int]
) -> None:
    assert tuple(scripts.evaluate(BRING, {"here": here, "file": file})) == then
