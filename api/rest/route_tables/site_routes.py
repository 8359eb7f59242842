"""Operations on job records, on how far a job is by them, and on links for crews."""

from __future__ import annotations

from api import job_record_fields as fields
from api.rest import job_records as views
from api.rest.common_fields import PAGE, id_text, ordering
from api.rest.exchange import Operation
from rates.core.fields import Field, date

LISTS = ("json", "csv", "xlsx")
OF_ESTIMATE = Field("estimate", id_text, "only those of this estimate")

OPERATIONS = (
    Operation(
        "GET",
        "/v1/job-records",
        "job-records",
        views.records,
        "What crews did, by day, zone and step; withdrawn records included",
        "read",
        {200: "JobRecord[]"},
        query=(
            *PAGE,
            ordering("day", "created_at"),
            OF_ESTIMATE,
            Field("day_from", date(), "only of this day or a later one"),
            Field("day_to", date(), "only of this day or an earlier one"),
        ),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/job-records",
        "make-job-record",
        views.make,
        "Tell a day's work of one step in a zone: hours, and openings finished by mark",
        "estimate",
        {201: "JobRecord"},
        body=fields.NEW_JOB_RECORD,
        idempotency="required",
        atomic=False,
    ),
    Operation(
        "POST",
        "/v1/estimates/{id}/job-records",
        "add-job-records",
        views.add_rows,
        "Tell many days at once, as JSON or CSV: a row for each day, zone, step and mark; all of them or none",
        "estimate",
        {201: "JobRecords"},
        media=("application/json", "text/csv"),
        schema="JobRecordRows",
        idempotency="required",
        atomic=False,
    ),
    Operation("GET", "/v1/job-records/{id}", "job-record", views.show, "One job record", "read", {200: "JobRecord"}),
    Operation(
        "POST",
        "/v1/job-records/{id}/withdraw",
        "withdraw-job-record",
        views.withdraw,
        "A record that was told wrongly counts no more; it is kept with the reason",
        "estimate",
        {200: "JobRecord"},
        body=fields.WITHDRAWAL,
        if_match=True,
    ),
    Operation(
        "GET",
        "/v1/estimates/{id}/progress",
        "estimate-progress",
        views.progress,
        "Hours earned by counts against hours spent, day by day and zone by zone, and what the rest takes at the pace "
        "so far",
        "read",
        {200: "JobProgress"},
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/site-links",
        "site-links",
        views.links,
        "Links by which crews see their zones and tell their work, never their addresses",
        "estimate",
        {200: "SiteLink[]"},
        query=(*PAGE, ordering("created_at", "expires_at"), OF_ESTIMATE),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/site-links",
        "make-site-link",
        views.give_link,
        "Give a crew a link to its zones: no sign-in, no costs; the address is shown this once",
        "estimate",
        {201: "NewSiteLink"},
        body=fields.NEW_SITE_LINK,
        idempotency="accepted",
    ),
    Operation("GET", "/v1/site-links/{id}", "site-link", views.show_link, "One link", "estimate", {200: "SiteLink"}),
    Operation(
        "DELETE",
        "/v1/site-links/{id}",
        "revoke-site-link",
        views.revoke_link,
        "Revoke a link: it lets nobody in from the next request on",
        "estimate",
        {204: ""},
        if_match=True,
    ),
)
