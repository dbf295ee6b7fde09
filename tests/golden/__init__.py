"""Small jobs whose files are kept as they should be."""
