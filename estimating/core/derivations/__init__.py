"""How each figure was reached, read from the subjects that computed it; estimating.core.derivation is the entry.

nodes > rows > views > split > marks, lines > register > estimating.core.derivation; folding is for pages
"""
