"""Measurements; run by hand or by CI, each on its own."""
