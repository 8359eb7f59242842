"""The JSON API: one table of operations (routes.py), one dispatcher, views that translate and nothing else."""
