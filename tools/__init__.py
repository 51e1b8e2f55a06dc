"""Small programs that only the makers run."""
