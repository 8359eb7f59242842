"""Schemas of what is answered about the work on site."""

from __future__ import annotations

from typing import Any

from api.rest.schemas.people_documents import once
from api.rest.schemas.records import Json, of_dataclass, schema_of
from estimating.core.job_progress import SET_UP, STEPS
from estimating.queries import job_records, site_links

STEP: Json = {"title": "SiteStep", "type": "string", "enum": [*STEPS, SET_UP]}
RECORD: Any = schema_of(job_records.JobRecord)
RECORD["properties"]["step"] = STEP
PROGRESS: Any = schema_of(job_records.JobProgress)
for name in ("items", "over"):
    PROGRESS["properties"][name]["items"]["properties"]["step"] = STEP
LINK = of_dataclass(site_links.SiteLink)
SCHEMAS: Json = {
    "JobRecord": RECORD,
    "JobRecords": {
        "title": "JobRecords",
        "type": "object",
        "properties": {"items": {"type": "array", "items": RECORD}},
        "required": ["items"],
    },
    "JobProgress": PROGRESS,
    "SiteLink": LINK,
    "NewSiteLink": once(LINK, "NewSiteLink", "site_address", "the link on this service, shown this once"),
}
