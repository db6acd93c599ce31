"""The command line: arguments, the work of each command, what it writes. It computes nothing; `core` does."""
