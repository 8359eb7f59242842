"""An estimate as one workbook whose formulas lead from rates and lines to the price.

rates of the tables and the request > kinds, lines > hours, materials, equipment > build-up > marks, cost codes

A formula is made of the rule and the inputs of the figure's own derivation, so that it can't tell another sum than the
estimate did. What no formula of a spreadsheet gives (geometry, learning, the least-cost packs) is a number.
"""
