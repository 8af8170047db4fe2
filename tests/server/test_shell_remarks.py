"""Scripts go out without comment lines and indents, and with nothing else changed."""

from __future__ import annotations

import json
import re
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from tests.support.browser import STATIC
from tests.support.effort import few
from webapp.app_files.fetched import later
from webapp.app_files.rewriting import BEHIND, closed_up, without_remarks


@pytest.mark.parametrize(
    ("why", "line", "sent"),
    [
        ("a comment goes", "// why", ""),
        ("an indented one too", "  // why", ""),
        ("a one-line doc comment goes", "/** What it gives. */", ""),
        ("a doc comment of several lines goes", "  /**\n   * What\n   */", "\n\n"),
        ("a comment behind code goes", "a(); // why", "a();"),
        ("text that looks like one stays", 'a("b // c");', 'a("b // c");'),
        ("so does one with a quote in it", "a(); // it's b", "a(); // it's b"),
        ("the type of an expression goes", "a = /** @type {B} */ (b);", "a = (b);"),
        ("so does what a function gives", "(/** @returns {B} */ (c) => d)", "((c) => d)"),
        ("code loses its indent", "    a();", "a();"),
        ("an address is no comment", 'const a = "http://b.test/";', 'const a = "http://b.test/";'),
        ("code behind a doc comment stays", "/** a */ b();", "/** a */ b();"),
        ("a plain block stays", "/* a */", "/* a */"),
        ("an unfinished doc comment stays", "/** a", "/** a"),
    ],
)
def test_only_a_line_that_is_all_comment_is_left_out(why: str, line: str, sent: str) -> None:
    assert without_remarks(f"x;\n{line}\ny;\n".encode()).decode() == f"x;\n{sent}\ny;\n", why


@pytest.mark.parametrize(
    ("lines", "sent"),
    [
        ("a(b,\n  c);\nd();", "a(b,c);d();"),
        ("a()\n  .b()", "a().b()"),
        ("a =\n  b;", "a =b;"),
        ("a\n  && b", "a&& b"),
        ("(a) =>\n  b", "(a) =>b"),
        ("[\n  a\n]", "[a]"),
        ("a = b\nc()", "a = b\nc()"),
        ("a++\nb", "a++\nb"),
        ("a = {}\n(b)", "a = {}\n(b)"),
        ('a("//",\n  b)', 'a("//",\nb)'),
        ("a() // it's b\n  .c()", "a() // it's b\n.c()"),
    ],
)
def test_lines_join_only_where_no_statement_ends(lines: str, sent: str) -> None:
    assert closed_up(lines.encode()).decode() == sent


@pytest.mark.slow
@pytest.mark.parametrize("path", few(sorted(STATIC.rglob("*.js")), 20), ids=lambda path: path.name)
def test_every_script_keeps_its_code(client: FlaskClient, path: Path) -> None:
    name = path.relative_to(STATIC).as_posix()
    if name == "sw.js":
        return
    own, sent = path.read_text("utf-8"), client.get(f"/static/{name}").text
    bare = without_remarks(own.encode()).decode()
    assert sent.replace("\n", "") == bare.replace("\n", "")  # only lines have joined
    remarks = [line for line in bare.splitlines(keepends=True) if "//" in line]
    assert [line for line in remarks if line not in sent] == [], "it takes the next line along"
    pairs = list(zip(own.split("\n"), bare.split("\n"), strict=True))
    assert all(b in ("", BEHIND.sub(b"", a.lstrip(" \t").encode()).decode()) for a, b in pairs)
    left_out = [a.strip() for a, b in pairs if a.strip() and not b]
    assert all(line.startswith(("//", "/**", "*")) for line in left_out)
    # A template over several lines could hold such a line as text.
    assert all(code.count("`") % 2 == 0 for code in re.split(r"\n[ \t]*//[^\n]*", own)), name


def test_no_remark_behind_code_has_a_quote_that_would_send_it_along() -> None:
    kept = {
        path.name: [line for line in sent.split("\n") if re.search(r"\s// ", line)]
        for path in sorted(STATIC.rglob("*.js"))
        for sent in [without_remarks(path.read_bytes()).decode()]
    }
    assert {name: lines for name, lines in kept.items() if lines} == {}


def told_to_the_worker(client: FlaskClient) -> dict[str, Any]:
    first_line = client.get("/sw.js").text.partition("\n")[0]
    return dict(json.loads(first_line.removeprefix("self.SHELL = ").rstrip(";")))


@pytest.mark.slow
def test_what_comes_after_a_first_visit_is_listed_with_its_hash(client: FlaskClient) -> None:
    shell = told_to_the_worker(client)
    assert {*shell["rest"], *shell["together"]["files"]} == set(later("en"))
    assert not set(later("en")) & set(shell["files"])
    tags = [*shell["rest"].values(), shell["together"]["hash"]]
    assert all(re.fullmatch("[0-9a-f]{16}", tag) for tag in tags)


# The end of a line whose next one may join it.
JOINT = re.compile(rb"([;{,])\n")


@pytest.mark.slow
def test_scripts_that_come_as_one_are_those_at_their_addresses_but_for_ends_of_lines(
    client: FlaskClient,
) -> None:
    together = told_to_the_worker(client)["together"]
    joined = client.get(together["address"]).data
    assert sha256(joined).hexdigest().startswith(together["hash"])
    line, _, bodies = joined.partition(b"\n")
    for address, size in zip(together["files"], json.loads(line), strict=True):
        alone = client.get(address)
        lines, sent = re.sub(rb"\n{2,}", b"\n", alone.data), bodies[:size]
        assert JOINT.sub(rb"\1", sent) == JOINT.sub(rb"\1", lines)
        assert alone.mimetype == "text/javascript"
        remarks = [line for line in lines.splitlines(keepends=True) if b"//" in line]
        assert [line for line in remarks if line not in sent] == [], "it takes the next line along"
        bodies = bodies[size:]
    assert not bodies
