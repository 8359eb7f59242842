"""Cutting along a length in whole steps, exact and without a clock: the same pieces give the same plan everywhere.

pieces > lanes > filling (one roll after the other) > improving (some rolls cut anew) > layouts of every roll
                                                        bounds, searching: how few rolls there can be
"""
