"""The pages of the window: each shows a plan and tells of the user's wishes; none computes anything."""
