"""What phones send, as OpenAPI describes it: made from the code, and held to by every answer.

schemathesis (https://schemathesis.readthedocs.io) makes the requests up, right ones and wrong ones.
"""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from hashlib import sha256
from typing import Any

import pytest
import rfc8785
import schemathesis
from flask import Flask
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from tests.support.effort import effort
from tests.support.floor import shop_floor
from tests.support.photo_files import camera_file, scene
from tests.support.records import DEVICE
from tests.support.serve import ROOT
from webapp.follow_up import rate_limit

PAGE = ROOT / "docs" / "openapi.json"
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
JPEG = camera_file(scene(32, 24))


@pytest.mark.slow
def test_the_description_is_what_the_code_says() -> None:
    command = [sys.executable, "docs/openapi.py"]
    made = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, env={"PYTHONPATH": "."}
    )
    assert made.stderr == ""
    assert made.stdout == PAGE.read_text("utf-8"), "make docs"


def test_every_address_of_the_api_is_described(app: Flask) -> None:
    described = json.loads(PAGE.read_text("utf-8"))["paths"]
    rules = {str(rule) for rule in app.url_map.iter_rules() if str(rule).startswith("/api/")}
    assert rules == set(described)


@pytest.mark.slow
@pytest.mark.sample
@pytest.mark.parametrize("mode", list(GenerationMode), ids=lambda mode: mode.value)
@pytest.mark.parametrize("path", json.loads(PAGE.read_text("utf-8"))["paths"])
def test_no_request_meets_a_fault_or_an_answer_that_is_not_described(
    app: Flask, path: str, mode: GenerationMode, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Requests that fit the description, and such that do not."""
    # All come from one place, and more than it may send bundles.
    monkeypatch.setattr(rate_limit, "PAIR", replace(rate_limit.PAIR, free=1000))
    secret = shop_floor(app).secret
    app.add_url_rule("/openapi.json", view_func=lambda: json.loads(PAGE.read_text("utf-8")))
    app.config["PROPAGATE_EXCEPTIONS"] = False
    schema = schemathesis.openapi.from_wsgi("/openapi.json", app)

    @settings(effort(40), phases=[Phase.explicit, Phase.generate], suppress_health_check=ALL)
    @given(case=schema[path]["POST"].as_strategy(generation_mode=mode))
    def ask(case: Any) -> None:
        made_right(case, secret)
        case.call_and_validate(checks=CHECKS)

    ask()


ALL = list(HealthCheck)


def made_right(case: Any, secret: str) -> None:
    """Every other request proves what it says, so that it comes past the first checks."""
    even = len(str(case.body)) % 2 == 0
    case.headers = {**(case.headers or {})}
    if even:
        case.headers["X-Twentymile-Device"] = DEVICE
    body = case.body
    if isinstance(body, dict) and isinstance(body.get("record"), dict) and even:
        body["hash"] = hash_of(body["record"])
    if isinstance(body, dict) and "secret" in body and even:
        body["secret"] = secret
    if case.path == "/api/photos" and even:
        case.body = JPEG
        case.headers["X-Twentymile-Sha256"] = sha256(JPEG).hexdigest()


def hash_of(record: dict[str, Any]) -> str:
    try:
        return sha256(rfc8785.dumps(record)).hexdigest()
    except Exception:
        return "0" * 64  # what JSON cannot say in one way has no hash
