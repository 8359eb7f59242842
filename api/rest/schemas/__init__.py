"""Named schemas of the OpenAPI description."""
