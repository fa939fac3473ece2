"""Argon at 300 K as the WebBook prints it, where an ideal gas is 7 % off."""

WEBBOOK = "NIST Chemistry WebBook, argon at 300 K, as transcribed in notes of a physics group"
STATES = WEBBOOK + ": 261.88 kg/m3 at 2250 psia, 279.24 at 2400; 39.948 g/mol"
FIVE_DIGITS = "five digits of each density"
AT_2250 = 261.88 / 0.039948
AT_2400 = 279.24 / 0.039948
"""mol/m³."""

BETWEEN = AT_2400 - AT_2250
OF_BETWEEN = 7e-4
"""Half a unit of the last digit of both densities, as a share of their difference."""
