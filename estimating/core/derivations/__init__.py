"""How each figure was reached, a module a subject; estimating.core.derivation is the entry.

printing > nodes > scope > geometry, pieces, use, minutes, joints > kinds > hours, materials, equipment
                        > build_up, totals, pools, marks, areas > estimating.core.derivation
"""
