"""Warnings keep their force in Spanish: each was translated twice and back before it is used."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from checks.rulebook import load
from checks.words import words

ROOT = Path(__file__).parents[2]
READ = tomllib.loads((ROOT / "docs" / "stops-es.toml").read_text("utf-8"))
BESIDE = ("app-stop-do-not-touch", "app-stop-hubs-help", "app-home-stop", "fact-hub_feel.help")


def warnings() -> list[str]:
    """Ids of what has to keep its force: Stop now findings, cautions, steps at the roadside."""
    stops = [name for name, finding in load().findings.items() if finding.level == "stop"]
    said = [f"finding-{name}{part}" for name in stops for part in ("", ".do")]
    said += [one for one in words().ids() if one.startswith(("caution-", "app-roadside-"))]
    return [*said, "level-stop", "level-stop.do", *BESIDE]


@pytest.mark.parametrize("name", warnings())
def test_a_warning_in_spanish_was_translated_twice_and_back_as_it_stands(name):
    assert name in READ, "translate it a second time and back into docs/stops-es.toml"
    assert READ[name]["es"] == words("es").say(name), "changed since: translate it twice again"
    assert READ[name]["second"], name
    assert READ[name]["back"], name


def test_no_sentence_is_kept_there_that_is_no_warning_any_more():
    assert set(READ) <= set(warnings())
