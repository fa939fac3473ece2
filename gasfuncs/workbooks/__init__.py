"""The template workbooks, each built by one module from shared parts."""
