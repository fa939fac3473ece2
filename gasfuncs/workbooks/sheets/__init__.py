"""Workbooks as data: parts are declared, code writes the sheets."""
