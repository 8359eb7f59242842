"""Fields of the production table that say how high each kind of access reaches: for checks, they move no price."""

from __future__ import annotations

from rates.core.fields import Field, MapOf, Record
from rates.core.production_rows import Production
from rates.core.tables import ACCESS, length

LIMIT = Record(lambda up_to: up_to, (Field("up_to", length, "height above grade that it reaches", required=True),))
REACH = (
    Field("access_limits", MapOf(LIMIT, ACCESS), "how high each kind of access reaches; for checks only", default=()),
    Field("storey_height", length, "height of a storey; for checks only", default=Production.storey_height_nm),
)
