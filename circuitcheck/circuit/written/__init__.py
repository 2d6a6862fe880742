"""A circuit file as text: cut into its tables, and one entry of a table set or removed, all else left as written."""
