"""Documents to be read by people: one neutral form (blocks), written as PDF or as HTML.

blocks | pdf   a template for typst; texts go in as data and are never read as markup
       | html  one page without anything from elsewhere
"""
