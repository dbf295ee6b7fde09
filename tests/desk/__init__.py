"""What lies open on the desk of the page."""
