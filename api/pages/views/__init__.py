"""Views of the pages, one module for each first word of an address: they translate and compute nothing."""
