"""A style sheet as it is sent says what its files say."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.support.serve import ROOT
from webapp.app_files.fetched import PAPER, STYLES
from webapp.app_files.shell import Shell
from webapp.engine import Engine

RULES = """(text) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  // what stands in a var() is told as it was written
  return [...sheet.cssRules].map((rule) => rule.cssText.replaceAll(", ", ","));
}"""


@pytest.mark.parametrize("of", STYLES)
def test_a_style_sheet_as_sent_has_the_rules_of_its_files(scripts: Page, of: str) -> None:
    css = ROOT / "static" / "css"
    files = [(css / f"{name}.css").read_text("utf-8") for name in STYLES[of]]
    if of != "app":
        files += ["@media print {", (css / f"{PAPER}.css").read_text("utf-8"), "}"]
    sent = Shell(ROOT / "static", Engine()).style(of)
    assert sent
    written = scripts.evaluate(RULES, "\n".join(files))
    assert len(written) > 10
    assert scripts.evaluate(RULES, sent.body.decode()) == written
