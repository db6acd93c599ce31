"""Kept while rooms move to `core.fields`."""

from core.fields import Band, Described, Spec, band, check_range, specs

__all__ = ["Band", "Described", "Spec", "band", "check_range", "specs"]
