"""The window of Gantrywright: widgets, painting and the user's actions. It computes nothing; `core` does."""

import os

# The engine's matrices are small: more threads make each solve slower, and many times slower on a busy machine. This
# must stand before numpy is loaded. Somebody who has set it knows why.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
