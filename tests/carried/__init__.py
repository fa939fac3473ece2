"""Functions carried by workbooks, computed by programs that know nothing of this library."""
