"""Parts of the table of operations."""
