"""Assumptions: every value of an estimate that nobody entered, with where it came from.

    absent request fields, lines, rates (defaults) ; answers, kept columns (reading) > listing > rows

What was entered and what stands by default has one digest, so the list follows from the stored documents, not from it.
"""
