"""What to stiffen first."""
