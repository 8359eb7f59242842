"""The documents that answers print, field by field: what each means, its unit, whether it is always there.

The HTTP description is made from these types, and the tests hold every answer against it, so a field that an output
prints and no type names fails a test.
"""
