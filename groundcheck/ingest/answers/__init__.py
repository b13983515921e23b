"""Data requests that came back filled in: recognized and read; imports sheets, book, mapping, values and below."""
