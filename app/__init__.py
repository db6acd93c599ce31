"""The window of Gantrywright: widgets, painting and the user's actions. It computes nothing; `core` does."""
