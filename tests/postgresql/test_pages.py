"""Forms of pages by the service's role: what they read before they change anything is of their company, and there."""

from __future__ import annotations

from tests.cast import Office
from tests.http.visitor import LINES, Job


def test_a_quote_is_drafted_and_quoted_anew_by_the_service_s_role(service: tuple[Office, Office]) -> None:
    job = Job(service[0])
    before, sales = job.quoted(), job.person("sales")
    job.add([LINES[0] | {"quantity": 12}, *LINES[1:]])
    new = f"/projects/{job.project}/quotes/new"
    assert sales.send(new, customer_name="Northfield Builders").endswith("/edit")
    offers = sales.send(f"/quotes/{before}/requote")
    quote = sales.send(offers, basis="today")
    assert sales.send(f"{quote}/issue") == quote
    assert "Quote 2 to Northfield Builders" in sales.see(quote)
