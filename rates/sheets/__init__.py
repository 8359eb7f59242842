"""Tables in and out: one reader and one writer each of CSV and of workbooks (.xlsx), one rule against formulas.

csv_reading, workbook_reading   bytes -> rows of text cells that know where they stand, nothing laid out beyond bounds
csv_writing, workbook_writing   rows of cells -> bytes; text is never a formula, numbers keep every digit
"""
