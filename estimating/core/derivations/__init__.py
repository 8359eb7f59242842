"""How each figure was reached, a module a subject; estimating.core.derivation is the entry.

printing > nodes > scope > work > geometry, pieces, use, minutes, joints     one opening, or the joints
                               > hours, learning, crew, materials, equipment   one part of the job
                               > steps, closing, build_up, totals, areas       the money of the job
                               > shares, pools, split, marks, lines            the price over marks and lines
all of them > register > estimating.core.derivation
"""
