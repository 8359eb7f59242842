"""Tables of an edition as files: CSV and XLSX, read and written; what they mean stands in rates.core.table_sheets."""
