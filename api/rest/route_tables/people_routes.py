"""Operations on members, sessions and the audit."""

from __future__ import annotations

from api.member_fields import CHANGE_MEMBER, NEW_MEMBER
from api.rest import members, session
from api.rest.common_fields import PAGE, id_text, moment, ordering
from api.rest.exchange import Operation
from rates.core.fields import Field, text

LISTS = ("json", "csv", "xlsx")

MEMBERS = (
    Operation(
        "GET",
        "/v1/members",
        "members",
        members.members,
        "Members of the company",
        "company",
        {200: "Member[]"},
        query=(*PAGE, ordering("created_at", "name")),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/members",
        "invite-member",
        members.invite,
        "Invite a person; the invitation is shown this once",
        "company",
        {201: "NewMember"},
        body=NEW_MEMBER,
        idempotency="accepted",
    ),
    Operation("GET", "/v1/members/{id}", "member", members.show, "One member", "company", {200: "Member"}),
    Operation(
        "PATCH",
        "/v1/members/{id}",
        "change-member",
        members.change,
        "Change a member's name or role, from the next request on",
        "company",
        {200: "Member"},
        body=CHANGE_MEMBER,
        if_match=True,
    ),
    Operation(
        "DELETE",
        "/v1/members/{id}",
        "remove-member",
        members.remove,
        "Remove a member with every session and access key, from the next request on",
        "company",
        {204: ""},
        if_match=True,
    ),
    Operation(
        "POST",
        "/v1/members/{id}/invitation",
        "renew-invitation",
        members.renew,
        "Invite a member again, who may have lost the password; the invitation is shown this once",
        "company",
        {201: "NewMember"},
        idempotency="accepted",
    ),
    Operation(
        "GET",
        "/v1/audit",
        "audit",
        members.audit,
        "Who changed what, when, from where, before and after",
        "audit",
        {200: "AuditEntry[]"},
        query=(
            *PAGE,
            ordering("at"),
            Field("member", id_text, "only what this member did"),
            Field("subject", id_text, "only what was done to this"),
            Field("action", text(60), "only this operation"),
            Field("since", moment, "from this time on"),
            Field("until", moment, "before this time"),
        ),
        formats=LISTS,
    ),
)
SESSION = (
    Operation("GET", "/v1/session", "session", session.show, "Who has signed in", "", {200: "Session"}),
    Operation("POST", "/v1/session", "sign-in", session.sign_in, "Sign in", "", {201: "Session"}, body=session.SIGN_IN),
    Operation(
        "PATCH",
        "/v1/session",
        "choose-company",
        session.choose,
        "Work for another company",
        "",
        {200: "Session"},
        body=session.CHOOSE,
    ),
    Operation("DELETE", "/v1/session", "sign-out", session.sign_out, "Sign out", "", {204: ""}),
    Operation(
        "POST",
        "/v1/session/invitation",
        "accept-invitation",
        session.accept,
        "Accept an invitation: by a password of your own, or signed in as the person that you are",
        "",
        {201: "Session"},
        body=session.ACCEPT,
    ),
    Operation(
        "POST",
        "/v1/session/password",
        "change-password",
        session.change_password,
        "Change the password; every other session of the person ends",
        "",
        {201: "Session"},
        body=session.CHANGE,
    ),
)
OPERATIONS = (*MEMBERS, *SESSION)
