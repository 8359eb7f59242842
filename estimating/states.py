"""The states of what is stored here, each named once: for columns, queries, addresses and the description alike."""

from __future__ import annotations

from django.db.models import TextChoices


class RunState(TextChoices):
    """Of a run, and of the estimate or comparison that it computes."""

    QUEUED = "queued", "waits"
    WORKING = "working", "is being computed"
    COSTED = "costed", "done"
    REFUSED = "refused", "the input can't be costed; says why"
    FAILED = "failed", "the service's fault, after its attempts"
    CANCELLED = "cancelled", "ended by whoever asked for it"


class ProjectState(TextChoices):
    """Of a project."""

    OPEN = "open", "being bid or built"
    ARCHIVED = "archived", "kept, and out of the lists that do not ask for it"


class ChangeOrderState(TextChoices):
    """Of a change order; what may follow which is `estimating.core.contract.NEXT`."""

    PROPOSED = "proposed", "asked for"
    DIRECTED = "directed", "to be done by the customer's directive, its price not agreed"
    AGREED = "agreed", "part of the contract"
    DISPUTED = "disputed", "the customer does not accept it or its price"
    WITHDRAWN = "withdrawn", "asked for no longer"


UNFINISHED = (RunState.QUEUED, RunState.WORKING)
