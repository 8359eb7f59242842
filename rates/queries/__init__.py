"""Reads: frozen dataclasses out, `company=` always named."""
