"""The answers of the second stage as plain JSON and as tables, one file for each."""
