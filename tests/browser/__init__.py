"""The page in a browser, as a person uses it."""
