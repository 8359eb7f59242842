"""Schedules as offices draw them, each with its truth written by hand beside it, and the scoring of the reader on them.

schedules/*.yaml > schedule (a file described, its truth) > built (its bytes) > reader > oracle > reader > scoring

All companies, people, projects, marks and sizes are invented. The files were written without a look at the reader, from
how schedules are drawn (common practice, no source); the truth follows from the words of each file alone, with the
`facts` that a person with the drawings would know. `python -m tests.corpus` prints the scores.
"""
