"""The history of a project on one line of time: what was received, answered, priced, offered, and by whom.

Each module gives the entries of one kind of thing; `timeline` has the list of them.
"""
