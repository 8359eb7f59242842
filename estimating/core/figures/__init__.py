"""What a figure is: a value that its rule computes from its inputs, and that can tell how.

printing   units of exact values, and values as texts
rules      the registry: each rule's name, its words, and the one function that computes and explains
figure     a subject's figures, computed when first asked for
"""
