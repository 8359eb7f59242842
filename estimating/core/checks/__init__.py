"""What is unlikely in an estimate or an edition: checks, which tell and never refuse.

    table       every check as a row: code, severity, sentence, what it looks at, its condition
      | case    what a condition finds: what it is about, the values of the sentence, the lines
      | access openings methods crews money plausible   conditions, by subject
      | bands   what is likely of wages, prices, percentages: judgement, as data
    run         the checks of an estimate, or of an edition alone

They look at the request, its schedule and its own editions alone, so the same digest gives the same checks.
"""
