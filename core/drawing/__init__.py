"""Drawings of the machine as plain data: a display list in metres for screens, files and tests alike."""
