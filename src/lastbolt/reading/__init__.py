"""Lines, tables and tokens of a source -> cited facts. Pure."""
