"""Tests and months made from a known truth, and how often the functions judge them rightly."""
