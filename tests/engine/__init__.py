"""The native functions against LibreOffice: edge cases, random books, other people's books."""
