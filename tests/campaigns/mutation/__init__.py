"""A mutation campaign: modules that decide prices are changed in one place at a time, and the tests must notice."""
