"""Widgets that know nothing of machines: entries, forms, drawings, plots and tables."""
