"""What goes back: the application's answer, or the problem document of a request that it never saw."""

from __future__ import annotations

import time
from typing import Any

from waitress.task import ErrorTask, WSGITask

from api.errors import KINDS, MEDIA_TYPE, RETRY_SECONDS, write_problem
from api.logs import note_request
from rates.identity import new_id

DETAILS = {
    "malformed": "the request line, a header field or the content is not acceptable",
    "not_in_time": "the request did not arrive whole in the time that is given to one",
    "too_large": "the content is larger than this service takes",
    "uri_too_long": "the request line is longer than this service reads",
    "fields_too_large": "the header fields are longer than this service reads",
    "not_implemented": "this transfer coding is not known here",
    "fault": "something went wrong here",
    "unavailable": "too much is being sent from this address at once",
}
KIND_OF = {KINDS[kind][0]: kind for kind in DETAILS}


class Answering(WSGITask):
    """Calls the application."""

    def build_response_header(self) -> bytes:
        """The head of the answer; where the server is ending, the client is told that the connection does, too."""
        if self.channel.server.stopping:
            self.set_close_on_finish()
        head: bytes = super().build_response_header()
        return head

    def finish(self) -> None:
        """Ends the answer; the wait for a next request begins, before the event loop may look how long it has been."""
        super().finish()
        self.channel.began = time.time()

    def write(self, data: bytes) -> None:
        """Writes; the answer to HEAD without its content."""
        super().write(b"" if self.request.command == "HEAD" else data)


class Refusing(ErrorTask):
    """Writes a problem document and leaves a line in the log, as the application does for requests that it sees."""

    def execute(self) -> None:
        """The whole answer; the connection ends with it."""
        kind = KIND_OF.get(self.request.error.code, "malformed")
        status, title = KINDS[kind]
        request_id = str(new_id())
        body = write_problem(kind, DETAILS[kind], path="", request_id=request_id)
        self.status = f"{status} {title}"
        fields = {"Content-Type": MEDIA_TYPE, "X-Request-Id": request_id, "Cache-Control": "no-store"}
        if kind == "unavailable":
            fields["Retry-After"] = RETRY_SECONDS
        self.response_headers.extend(fields.items())
        self.set_close_on_finish()
        self.content_length = len(body)
        self.write(body)
        self.note(request_id, status)

    def note(self, request_id: str, status: int) -> None:
        """One line of the log."""
        fields: dict[str, Any] = {"method": self.request.command or None, "path": self.request.path[:300]}
        ms = round((time.time() - self.channel.began) * 1000, 2)
        note_request(request_id=request_id, route="none", status=status, ms=ms, peer=self.channel.addr[0], **fields)
