"""The documentation says what the code does: generated pages are fresh, examples run."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGES = sorted(
    p
    for p in ROOT.rglob("*.md")
    if not set(p.relative_to(ROOT).parts) & {".venv", "data", "node_modules"}
)


def run(*words: str, given: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *words], cwd=ROOT, input=given, capture_output=True, text=True, check=False
    )


@pytest.mark.slow
@pytest.mark.parametrize("page", ["coverage", "facts", "glossary-es", "sources", "stops-es"])
def test_a_generated_page_is_fresh(page):
    made = run("docs/generate.py", page)
    assert made.returncode == 0, made.stderr
    assert (ROOT / "docs" / f"{page}.md").read_text("utf-8") == made.stdout, "run make docs"


@pytest.mark.slow
def test_the_answers_of_the_readme_are_judged():
    text = (ROOT / "README.md").read_text("utf-8")
    answers = re.search(r"```json\n(.*?)```", text, re.S)
    assert answers
    made = run("-m", "checks", "judge", "-", given=answers[1])
    assert made.returncode == 0, made.stderr
    assert json.loads(made.stdout)["findings"][0]["finding"] == "hub_warmer_than_mate"


@pytest.mark.parametrize("page", PAGES, ids=lambda p: str(p.relative_to(ROOT)))
def test_links_between_pages_lead_somewhere(page):
    for target in re.findall(r"\]\(([^)#:]+)\)", page.read_text("utf-8")):
        assert (page.parent / target).exists(), target


def test_what_the_guide_names_is_there():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    named = re.findall(r"\| `([\w/.]+)` \|$", text, re.MULTILINE)
    assert len(named) >= 20
    assert [path for path in named if not (ROOT / path).is_file()] == []


def test_the_readme_opens_with_the_job_and_two_commands():
    text = (ROOT / "README.md").read_text("utf-8")
    head = text.split("## ")[0]
    assert "make run" in head
    assert "make test" in head


@pytest.mark.parametrize(
    "folder", ["checks", "webapp", "static", "docs", "README.md", "DEVELOPERS.md"]
)
def test_the_product_never_calls_a_trailer_fit_for_the_road(folder):
    """The word would promise what no check can."""
    path = ROOT / folder
    files = [path] if path.is_file() else [p for p in path.rglob("*") if p.suffix in READ]
    for file in files:
        for line in file.read_text("utf-8").splitlines():
            assert not re.search(r"(?<![-/\w])(un)?safe(?![-_\w])", line, re.I) or allowed(line), (
                f"{file.relative_to(ROOT)}: {line.strip()}"
            )


READ = {".toml", ".md", ".html", ".js"}


def allowed(line: str) -> bool:
    """The word's two other lives: the mark's name in ISO 3864, and a heading of the law."""
    return any(part in line for part in ("ISO 3864", "safe loading", "Never the word"))
