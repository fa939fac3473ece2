"""LibreOffice Calc, run for real."""
