"""Casework: boxes (and what is built from them) expand into boards and joints."""
