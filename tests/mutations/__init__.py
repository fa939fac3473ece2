"""Small bugs put into the code, one at a time, to see whether some check fails."""
