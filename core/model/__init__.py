"""From machine description to frame: who is connected to whom, where and how stiffly.

`whole` builds the entire machine as one frame at one tool place; `condensed` answers any number of places at once.
"""
