"""The calculations, one module per topic: ordinary functions in SI units on NumPy arrays."""
