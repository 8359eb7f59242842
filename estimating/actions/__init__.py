"""Writes: one function per change, `company=` always named; each answers with what queries would show."""
