"""The OpenAPI description is valid, committed, and describes exactly what answers."""

from __future__ import annotations

import json
import re
from typing import Any

import jsonschema_rs
import pytest
from django.test import Client
from django.urls import get_resolver

from api.management.commands.openapi import committed, write
from api.rest.examples import examples
from api.rest.openapi import build
from api.rest.routes import OPERATIONS
from tests.cast import Api, Office
from tests.db.making import golden_request


def test_it_is_valid_openapi_3_1() -> None:
    assert build()["openapi"] == "3.1.0"
    validator = pytest.importorskip("openapi_spec_validator").OpenAPIV31SpecValidator
    assert list(validator(build()).iter_errors()) == []


def test_the_committed_description_is_the_code_s() -> None:
    assert committed().read_text() == write(), "run manage.py openapi and review what changed"


def test_every_address_that_answers_under_v1_is_described() -> None:
    described = set(build()["paths"])
    own = {"/v1/", "/v1/openapi.json", "/v1/docs", "/v1/docs.css", "/v1/docs.js"}
    answering = set()
    for pattern in get_resolver().url_patterns:
        name = str(getattr(pattern, "name", ""))
        if name.startswith("/"):
            answering.add("/v1" + name)
    assert answering - own == described


def test_operation_ids_are_unique() -> None:
    names = [operation.name for operation in OPERATIONS]
    assert len(set(names)) == len(names)


def test_the_service_document_links_to_what_answers(api: Api) -> None:
    links = api.get("/v1/").json()["links"]
    assert {"projects", "rate-books", "comparisons", "feed", "openapi", "docs"} <= set(links)
    for name, path in links.items():
        assert api.get(path).status_code == 200, (name, path)


@pytest.mark.django_db
def test_the_readable_page_needs_no_other_host() -> None:
    page = Client().get("/v1/docs")
    text = page.content.decode()
    assert page.status_code == 200
    assert not re.search(r"(src|href)=[\"']?(https?:)?//", text)
    assert re.findall(r"<script[^>]*>", text) == ['<script src="/v1/docs.js">'] and "style=" not in text
    assert "'unsafe" not in page.headers["Content-Security-Policy"]
    assert Client().get("/v1/docs.js").status_code == Client().get("/v1/docs.css").status_code == 200
    for operation in OPERATIONS:
        assert f'id="{operation.name}"' in text
    assert 'id="problem-refused"' in text
    for name in build()["components"]["schemas"]:
        assert f'id="document-{name}"' in text
    section = text.partition('id="make-project"')[2].partition("<h3")[0]
    assert "<code>name</code></th><td>text</td><td>yes</td>" in section and "409 " in section
    assert (
        "sales, estimator, rate keeper and principal" in section and "&quot;Authorization: Bearer $KEY&quot;" in section
    )
    links = set(re.findall(r'href="#([^"]+)"', text))
    assert links and links <= set(re.findall(r'id="([^"]+)"', text))


def refs(value: Any) -> Any:
    """A schema with its references followed once, enough for flat documents."""
    if isinstance(value, dict) and "$ref" in value:
        return build()["components"]["schemas"][value["$ref"].rpartition("/")[2]]
    return value


def test_an_estimate_has_every_field_that_is_described(api: Api, office: Office) -> None:
    schema = refs(
        build()["paths"]["/v1/estimates/{id}"]["get"]["responses"]["200"]["content"]["application/json"]["schema"]
    )
    document = api.estimate(golden_request(office)).json()
    assert set(schema["properties"]) == set(document)
    assert json.loads(json.dumps(document)) == document


def test_every_operation_has_an_example_that_is_as_described() -> None:
    document = build()
    parts = {"components": document["components"]}
    for methods in document["paths"].values():
        for operation in methods.values():
            name = operation["operationId"]
            example = examples()[name]
            for parameter in operation["parameters"]:
                if parameter["in"] == "path":
                    assert parameter["example"], name
            told = [*operation.get("requestBody", {}).get("content", {}).items()]
            told += operation["responses"][str(example["status"])].get("content", {}).items()
            shown = [(media, one) for media, one in told if "example" in one]
            assert len(shown) == ("body" in example) + ("answer" in example), name
            for media, one in shown:
                if media == "application/json":
                    schema = jsonschema_rs.Draft202012Validator(parts | one["schema"])
                    assert [fault.message for fault in schema.iter_errors(one["example"])] == [], name
