"""The server of HTTP: connections, requests as they arrive, their deadlines, and who gives way when room is short."""
