"""One request as it arrives: read by waitress's parser, within bounds of our own."""

from __future__ import annotations

from typing import Any

from waitress.parser import HTTPRequestParser, ParsingError
from waitress.utilities import BadRequest, Error

LONGEST_LINE = 8190  # bytes of a request line
LONGEST_HEAD = 32 * 2**10  # bytes of a request line with its header fields
LONGEST_CHUNK_LINE = 1024  # bytes of the line before a chunk, extensions included
LONGEST_TRAILER = 8 * 2**10  # bytes of the fields after the last chunk
FREE_FRAMING = 64 * 2**10  # bytes between the chunks that are taken without looking at how much they bring


class AddressTooLong(Error):
    """The request line is longer than is read."""

    code = 414
    reason = "URI Too Long"


class NotInTime(Error):
    """The request was not whole when its time was over."""

    code = 408
    reason = "Request Timeout"


class NoRoom(Error):
    """The request gives way to others."""

    code = 503
    reason = "Service Unavailable"


class Incoming(HTTPRequestParser):
    """A request; `error` is set where it is refused without having been seen by the application."""

    body_bytes_received: int
    path = command = ""
    version = "1.1"  # in which a request is refused whose own can't be told

    def parse_header(self, header_plus: bytes) -> None:
        """Reads the head; ParsingError also where two readers could disagree about where its body ends."""
        if header_plus.find(b"\r\n") > LONGEST_LINE:
            self.error = AddressTooLong("")
            return
        try:
            super().parse_header(header_plus)
        except ValueError as fault:  # a Content-Length of thousands of digits
            raise ParsingError("Content-Length is invalid") from fault
        if self.chunked and "CONTENT_LENGTH" in self.headers or "TRANSFER_ENCODING" in self.headers:
            raise ParsingError("the length of the body is told in two ways")

    def received(self, data: bytes) -> int:
        """The number of bytes that belong to this request."""
        consumed: int = super().received(data)
        if self.chunked and not self.completed and self.is_padded(self.body_rcv):
            self.error = BadRequest("more is sent between the chunks than in them")
        if self.error is not None:
            self.refuse(self.error)
        return consumed

    def is_padded(self, body: Any) -> bool:
        """Whether the framing of a chunked body is longer than it needs to be: each piece of it costs time."""
        framing = self.body_bytes_received - len(body)
        return (
            len(body.control_line) > LONGEST_CHUNK_LINE
            or len(body.trailer) > LONGEST_TRAILER
            or framing > FREE_FRAMING + len(body)
        )

    def refuse(self, error: Error) -> None:
        """Ends the request where it is."""
        self.error, self.completed, self.expect_continue, self.version = error, True, False, "1.1"
