"""Variants of a machine answered whole and set side by side: figures with their ends, facts in words, no total score."""

from __future__ import annotations

from core.comparison.answer import ComparisonAnswer, Ends, Fact, Figure, Listed, VariantAnswer
from core.comparison.entries import entry_groups, entry_words, value_words
from core.comparison.fair import By, fair_pair
from core.comparison.find import find_comparison
from core.comparison.judge import ROUNDING, Grade, differing, grade
from core.comparison.words import sentence, sentences

__all__ = [
    "ROUNDING",
    "By",
    "ComparisonAnswer",
    "Ends",
    "Fact",
    "Figure",
    "Grade",
    "Listed",
    "VariantAnswer",
    "differing",
    "entry_groups",
    "entry_words",
    "fair_pair",
    "find_comparison",
    "grade",
    "sentence",
    "sentences",
    "value_words",
]
