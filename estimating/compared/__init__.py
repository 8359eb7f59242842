"""What differs between two jobs, in words that a person reads out.

core.differences walks two values > values prints each side > lines, requests, rates say one change in one sentence
> openings and causes put the changes of a cause into one sentence, for the office, for sales and for the customer
"""
