"""Drawings of the machine as plain data: a display list in metres that screens, files and tests read alike."""
